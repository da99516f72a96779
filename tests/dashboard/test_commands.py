"""The commands `serve` and `password`: what they refuse, and what they leave on the disk."""

from __future__ import annotations

import os
import stat
from pathlib import Path

import pytest
import typer
from typer.testing import CliRunner

from dashboard.commands import register
from dashboard.door import PASSWORD_FILE, Keys
from dashboard.password import fits, read_hash

WORDS = "six brown jugs whistle"


@pytest.fixture
def program() -> typer.Typer:
    app = typer.Typer()
    register(app)
    return app


def run(program: typer.Typer, *words: str, typed: str = "") -> tuple[int, str]:
    done = CliRunner().invoke(program, list(words), input=typed)
    return done.exit_code, done.output


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("serve", "nowhere.toml"), "nowhere.toml: no such file or folder"),
        (("serve", ".", "--https-name", "house.example"), "give --lan too"),
        (("password", "nowhere"), "nowhere: no such folder"),
    ],
)
def test_what_cannot_be_served_is_told(program: typer.Typer, words: tuple[str, ...], told: str) -> None:
    code, said = run(program, *words)
    assert code == 2
    assert told in said


def test_a_password_is_kept_as_a_hash_that_only_its_owner_reads(program: typer.Typer, tmp_path: Path) -> None:
    # OWASP ASVS 5.0.0, 11.4.2 (a hash made for passwords); the password itself is nowhere
    code, said = run(program, "password", str(tmp_path), typed=f"{WORDS}\n")
    assert (code, said) == (0, "The password is set.\n")
    path = tmp_path / PASSWORD_FILE
    assert WORDS not in path.read_text()
    assert fits(read_hash(path), WORDS)
    assert Keys(path).hash() == read_hash(path)
    if os.name == "posix":
        assert stat.S_IMODE(path.stat().st_mode) == 0o600


def test_the_password_of_a_house_is_that_of_its_folder(program: typer.Typer, tmp_path: Path) -> None:
    house = tmp_path / "house.toml"
    house.write_text("")
    assert run(program, "password", str(house), typed=f"{WORDS}\n")[0] == 0
    assert (tmp_path / PASSWORD_FILE).is_file()


@pytest.mark.parametrize("typed", ["short\n", "aaaaaaaaaaaaaaaa\n", "\n", "x" * 300 + "\n"])
def test_a_weak_password_is_refused(program: typer.Typer, tmp_path: Path, typed: str) -> None:
    code, said = run(program, "password", str(tmp_path), typed=typed)
    assert code == 2
    assert said.startswith("password: ")
    assert not (tmp_path / PASSWORD_FILE).exists()


def test_a_file_that_others_can_read_opens_nothing(program: typer.Typer, tmp_path: Path) -> None:
    run(program, "password", str(tmp_path), typed=f"{WORDS}\n")
    path = tmp_path / PASSWORD_FILE
    path.chmod(0o644)
    assert Keys(path).hash() == ("" if os.name == "posix" else read_hash(path))
