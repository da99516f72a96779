"""A folder of houses: its list, addresses that lead nowhere else, broken files told in words, and bounded memory."""

from __future__ import annotations

import os
import re
import shutil
import time
from pathlib import Path

import pytest
from werkzeug.test import Client, TestResponse

from compare.house.reading import read_house
from dashboard.door import Door, Site
from dashboard.front.pages import Front
from dashboard.front.shelf import Shelf, keys_of, listed
from dashboard.front.site import HOUSE, ManyHouses, serve_folder
from dashboard.role import ROLE, Role
from dashboard.session import Ready
from dashboard.source import HouseSource
from tests.jobs.small import write_house

SITE = Site(port=8164)


class Recorder:
    """A house that only remembers whether it sleeps, and tells under which address it is served."""

    def __init__(self, path: Path, key: str) -> None:
        self.path, self.key, self.slept = path, key, 0

    def wsgi(self, environ: dict[str, str], start_response: object) -> list[bytes]:
        start_response("200 OK", [("Content-Type", "text/plain")])  # type: ignore[operator]
        return [f"{environ['SCRIPT_NAME']}|{environ['PATH_INFO']}|{self.path.name}".encode()]

    def sleep(self) -> None:
        self.slept += 1


@pytest.fixture
def folder(tmp_path: Path, scenarios: Path) -> Path:
    for name in ("ranch", "cabin", "colonial", "tight_new"):
        shutil.copy(scenarios / f"{name}.toml", tmp_path / f"{name}.toml")
    (tmp_path / "notes.txt").write_text("not a house")
    return tmp_path


def get(folder: Path, path: str, most_awake: int = 2) -> TestResponse:
    shelf = Shelf(folder, Recorder, most_awake)
    return _ask(Client(Door(ManyHouses(Front(SITE, None, shelf), shelf), SITE)), path)


def _ask(browser: Client, path: str) -> TestResponse:
    answer = browser.get(path, base_url="http://127.0.0.1:8164", environ_base={"REMOTE_ADDR": "127.0.0.1"})
    answer.get_data()
    answer.close()
    return answer


def test_keys_are_plain_and_each_its_own() -> None:
    names = ["A B.toml", "a-b.toml", "../x.toml", "Ünï.toml", "....toml", "a_b.toml", "x" * 300 + ".toml"]
    found = keys_of(names)
    assert len(found) == len(set(found)) == len(names)
    assert set(found.values()) == set(names)
    assert all(key and set(key) <= set("abcdefghijklmnopqrstuvwxyz0123456789-") and len(key) <= 60 for key in found)


def test_the_list_names_house_place_and_levels(folder: Path, scenarios: Path) -> None:
    page = get(folder, "/").get_data(as_text=True)
    for name in ("ranch", "cabin", "colonial", "tight_new"):
        house = read_house(scenarios / f"{name}.toml")
        assert house.house.name in page
        assert house.site.place in page
    assert "2 levels" in page
    assert "notes" not in page


def test_a_broken_file_is_told_with_its_problem_and_stops_nothing(folder: Path) -> None:
    (folder / "torn.toml").write_text('units = "US"\n[house\nname = 3')
    (folder / "half.toml").write_text('units = "US"\n[house]\nname = "Half"\nbuilt = 12\n')
    (folder / "bytes.toml").write_bytes(b"\xff\xfe\x00")
    answer = get(folder, "/")
    page = answer.get_data(as_text=True)
    assert answer.status_code == 200
    assert "3 files need mending" in page
    assert "torn.toml:2" in page
    assert "half.toml" in page
    assert re.search(r"and \d+ more", page)
    assert "Traceback" not in page
    assert str(folder) not in page


def test_a_customer_sees_no_inside_of_a_broken_file(folder: Path) -> None:
    (folder / "torn.toml").write_text('units = "US"\n[house\nname = 3')
    shelf = Shelf(folder, Recorder)
    page = Client(Front(SITE, None, shelf).server.wsgi_app).get("/", environ_overrides={ROLE: Role.TABLE})
    told = page.get_data(as_text=True)
    assert "needs mending" in told
    assert "torn.toml" not in told
    assert "/desk/" not in told


def test_a_name_cannot_write_into_the_page(folder: Path) -> None:
    text = (folder / "ranch.toml").read_text()
    name = read_house(folder / "ranch.toml").house.name
    (folder / "ranch.toml").write_text(text.replace(name, "<script>alert(1)</script>", 1))
    page = get(folder, "/").get_data(as_text=True)
    assert "<script" not in page
    assert "&lt;script&gt;" in page


def test_an_empty_folder_says_what_is_needed(tmp_path: Path) -> None:
    assert "no house file" in get(tmp_path, "/").get_data(as_text=True)


def test_each_house_has_an_address_of_its_own(folder: Path) -> None:
    assert get(folder, "/house/ranch/desk/x").data == b"/house/ranch|/desk/x|ranch.toml"
    assert get(folder, "/house/tight-new/").data == b"/house/tight-new|/|tight_new.toml"


@pytest.mark.parametrize(
    "path",
    [
        "/house/nobody/", "/house/..%2franch/", "/house/", "/house/ranch.toml/", "/house/%00/", "/house/notes/",
        "/house/ranch", "/anything", "/house/RANCH/",
    ],
)  # fmt: skip
def test_other_addresses_lead_nowhere(folder: Path, path: str) -> None:
    assert get(folder, path).status_code == 404


def test_the_one_used_longest_ago_is_put_to_sleep(folder: Path) -> None:
    shelf = Shelf(folder, Recorder, most_awake=2)
    ranch, cabin = shelf.house("ranch"), shelf.house("cabin")
    assert shelf.house("ranch") is ranch
    shelf.house("colonial")
    assert (ranch.slept, cabin.slept) == (0, 1)  # type: ignore[union-attr]
    assert shelf.house("cabin") is cabin
    assert ranch.slept == 1  # type: ignore[union-attr]


def test_a_file_is_read_again_only_after_it_changed(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    reads: list[str] = []

    def counted(path: Path, key: str) -> object:
        reads.append(key)
        return listed(path, key)

    monkeypatch.setattr("dashboard.front.shelf.listed", counted)
    shelf = Shelf(folder, Recorder)
    assert len(shelf.listed()) == len(reads) == 4
    shelf.listed()
    assert len(reads) == 4
    os.utime(folder / "ranch.toml", (1, 1))
    shelf.listed()
    assert reads[4:] == ["ranch"]


def test_a_house_that_slept_answers_again(tmp_path: Path) -> None:
    source = HouseSource(write_house(tmp_path))
    source.open()
    for _ in range(600):
        if isinstance(status := source.status(), Ready):
            break
        time.sleep(0.1)
    assert isinstance(status, Ready)
    before = source.view(status.question)
    source.sleep()
    assert isinstance(source.status(), Ready)
    assert source.kept(status.question) is None
    assert source.view(status.question) == before
    source.sleep()
    assert source.comparison() is not None


@pytest.mark.slow
def test_two_houses_of_a_folder_are_served_for_real(folder: Path, tmp_path: Path) -> None:
    write_house(tmp_path)
    browser = Client(serve_folder(folder, SITE, None, None))
    for key in ("small", "ranch"):
        page = _ask(browser, f"{HOUSE}{key}/").get_data(as_text=True)
        addresses = re.findall(r'(?:src|href)="(/[^"]*)"', page)
        assert all(a.startswith((f"/house/{key}/", "/look/", "/assets/")) for a in addresses)
        assert any(a.startswith(f"/house/{key}/_dash-component-suites/") for a in addresses)
        assert _ask(browser, f"{HOUSE}{key}/_dash-layout").status_code == 200
        assert _ask(browser, f"{HOUSE}{key}/desk/").status_code == 200
        assert _ask(browser, f"{HOUSE}{key}/desk").headers["Location"] == f"/house/{key}/desk/"
