"""The commands on a demo house: files on disk, grades on the screen, clear errors."""

from __future__ import annotations

import io
from pathlib import Path

import pypdf
import pytest
import typer
from typer.testing import CliRunner

from proposal.commands import register

runner = CliRunner()


@pytest.fixture(scope="module")
def app() -> typer.Typer:
    made = typer.Typer()
    register(made)
    return made


def test_propose_writes_markdown_pictures_page_and_pdf(app: typer.Typer, scenarios: Path, tmp_path: Path) -> None:
    house = scenarios / "accessory_unit.toml"
    result = runner.invoke(app, ["propose", str(house), "--out", str(tmp_path / "out")])
    assert result.exit_code == 0, result.output
    out = tmp_path / "out"
    assert {path.name for path in out.iterdir()} == {"proposal.md", "proposal.html", "proposal.pdf", "pictures"}
    text = (out / "proposal.md").read_text(encoding="utf-8")
    for picture in (out / "pictures").iterdir():
        assert f"(pictures/{picture.name})" in text
    reader = pypdf.PdfReader(io.BytesIO((out / "proposal.pdf").read_bytes()))
    assert 4 <= len(reader.pages) <= 9
    assert "Estimate for" in result.output


def test_words_prints_a_row_for_each_section(app: typer.Typer, scenarios: Path) -> None:
    result = runner.invoke(app, ["words", str(scenarios / "accessory_unit.toml")])
    assert result.exit_code == 0, result.output
    assert "page 1" in result.output
    assert "Please take care" in result.output


def test_unknown_option_names_those_there_are(app: typer.Typer, scenarios: Path, tmp_path: Path) -> None:
    arguments = ["propose", str(scenarios / "accessory_unit.toml"), "--option", "zoo", "--out", str(tmp_path / "out")]
    result = runner.invoke(app, arguments)
    assert result.exit_code == 2
    assert "'zoo' is not in this comparison; choose one of:" in result.output
    assert not (tmp_path / "out").exists()


def test_house_file_that_is_not_there(app: typer.Typer, tmp_path: Path) -> None:
    result = runner.invoke(app, ["words", str(tmp_path / "none.toml")])
    assert result.exit_code == 2
    assert "none.toml" in result.output
