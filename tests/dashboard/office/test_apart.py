"""Two programs: what customers see never knows the office, and the office's page runs by itself."""

from __future__ import annotations

import os
import re
import signal
import socket
import subprocess
import sys
import tomllib
import urllib.error
import urllib.request
from pathlib import Path

import pytest

from tests.conftest import REPOSITORY
from tests.dashboard.client import Client
from tests.dashboard.office.conftest import PASSWORD, Desk
from tests.dashboard.office.test_door import doors

LOADED = "print([n for n in sys.modules if n.startswith(('compare.office', 'dashboard.office'))])"


def run(code: str) -> str:
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, cwd=REPOSITORY)
    return done.stdout.strip().splitlines()[-1]


WALK = """
import importlib, pkgutil, sys
sys.argv = ["hplayouts"]
import dashboard, proposal, dashboard.command as command
from compare.commands import register
register(command.app)
command._register_faces()

def walk(package):
    for part in pkgutil.iter_modules(package.__path__, package.__name__ + "."):
        if part.name == "dashboard.office" or part.name.endswith("__main__"):
            continue
        module = importlib.import_module(part.name)
        if part.ispkg:
            walk(module)

walk(dashboard)
walk(proposal)
"""


def test_no_part_of_the_customers_program_loads_the_office() -> None:
    assert run(WALK + LOADED) == "[]"
    assert "compare.office.view" in run(WALK + "import dashboard.office.app\n" + LOADED)  # the search can fail


def test_starting_the_office_leaves_its_starter_clean(folder: Path) -> None:
    code = (
        f"import sys; sys.argv = ['hplayouts', 'office', {str(folder / 'none')!r}]\n"
        "import dashboard.command as c\n"
        "try:\n    c.main()\nexcept SystemExit as end:\n    assert end.code == 2, end.code\n"
    )
    assert run(code + LOADED) == "[]"


def test_the_contract_names_every_part_but_the_office() -> None:
    rules = tomllib.loads((REPOSITORY / "pyproject.toml").read_text("utf-8"))["tool"]["importlinter"]["contracts"]
    rule = next(rule for rule in rules if rule["name"] == "Costs stay with the office")
    parts = {p.stem for p in (REPOSITORY / "dashboard").iterdir() if p.suffix == ".py" or (p / "__init__.py").is_file()}
    parts -= {"__init__", "office"}
    missing = {f"dashboard.{part}" for part in parts} - set(rule["source_modules"])
    assert not missing, f"add to the contract: {sorted(missing)}"
    assert "compare.office" in rule["forbidden_modules"]


def test_the_customers_page_has_none_of_the_offices_doors(client: Client, desk: Desk) -> None:
    shared = {"/", "/look/fonts.css", "/look/tokens.css"}
    for path, method, _ in doors(desk.server, "0" * 12):
        if path in shared or path.startswith("/look/fonts/"):
            continue
        answer = client.app.server.test_client().open(path, method=method, base_url="http://127.0.0.1:8050")
        assert answer.status_code in {400, 404, 405}, (method, path, answer.status_code)


def free_port() -> int:
    with socket.socket() as found:
        found.bind(("127.0.0.1", 0))
        return int(found.getsockname()[1])


@pytest.mark.slow
@pytest.mark.skipif(os.name != "posix", reason="signals of POSIX")
def test_the_command_sets_a_password_opens_the_page_and_ends_whole(folder: Path) -> None:
    (folder / "office" / ".password").unlink()
    start = [sys.executable, "-c", "from dashboard.command import main; main()", "office"]
    refused = subprocess.run([*start, str(folder)], capture_output=True, text=True, cwd=REPOSITORY, check=False)
    assert refused.returncode == 2
    assert "hplayouts office password DIR" in refused.stderr
    done = subprocess.run([*start, "password", str(folder)], input=f"{PASSWORD}\n", text=True, cwd=REPOSITORY,
                          capture_output=True, check=True)  # fmt: skip
    assert PASSWORD not in done.stdout + done.stderr
    port = free_port()
    running = subprocess.Popen([*start, str(folder), "--port", str(port)], text=True, cwd=REPOSITORY,
                               stdout=subprocess.PIPE, stderr=subprocess.DEVNULL)  # fmt: skip
    try:
        assert running.stdout is not None
        assert re.search(rf"http://127\.0\.0\.1:{port} ", running.stdout.readline())
        with pytest.raises(urllib.error.HTTPError) as told:
            urllib.request.urlopen(f"http://127.0.0.1:{port}/", timeout=10)
        assert told.value.code == 401
        assert told.value.headers.get("Server") is None
        told.value.close()
        with pytest.raises(urllib.error.HTTPError, match="413"):
            urllib.request.urlopen(f"http://127.0.0.1:{port}/enter", data=b"x" * 100_000, timeout=10)
        running.send_signal(signal.SIGTERM)
        running.wait(10)
        with socket.socket() as again:
            assert again.connect_ex(("127.0.0.1", port)) != 0
    finally:
        running.kill()
        running.wait()
        running.stdout.close()
