"""Everything that is served on one port: the door, the front pages, and each house under an address of its own."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from typing import Any

from dash import Dash

from dashboard.door import ENTER, LEAVE, PAIR, Door, Keys, Site
from dashboard.front.pages import Front
from dashboard.front.shelf import OpenHouse, Shelf
from dashboard.survey.app import SurveyPages
from dashboard.survey.work import Survey
from dashboard.table.desk import Proposer

HOUSE = "/house/"
FRONT = (PAIR, ENTER, LEAVE)


class ServedHouse:
    """A house with its source, its desk and its pages."""

    def __init__(self, path: Path, prefix: str = "/", proposer: Proposer | None = None) -> None:
        from dashboard.desk.page import warm
        from dashboard.desk.study import HouseDesk
        from dashboard.source import HouseSource
        from dashboard.table.app import make_app

        self.source = HouseSource(path)
        self.desk = HouseDesk(self.source, warm)
        self.app: Dash = make_app(self.source, proposer, self.desk, prefix)
        self.wsgi = self.app.server.wsgi_app
        self.source.open()

    def sleep(self) -> None:
        """Give up the comparisons."""
        self.source.sleep()
        self.desk.sleep()


class OneHouse:
    """One house at the root; the front pages stand beside it."""

    def __init__(self, front: Front, house: OpenHouse, survey: SurveyPages | None = None) -> None:
        self._front, self._house, self._survey = front, house, survey

    def __call__(self, environ: dict[str, Any], start_response: Any) -> Iterable[bytes]:  # noqa: ANN401, D102
        path = environ.get("PATH_INFO", "")
        if self._survey is not None and self._survey.has(path):
            answer: Iterable[bytes] = self._survey.wsgi(environ, start_response)
            return answer
        if self._front.keys is not None and (path in FRONT or path.startswith("/front/")):
            return self._front.server.wsgi_app(environ, start_response)
        found: Iterable[bytes] = self._house.wsgi(environ, start_response)
        return found


class ManyHouses:
    """A list at the root, and each house of the folder under `/house/KEY/`."""

    def __init__(self, front: Front, shelf: Shelf, survey: SurveyPages | None = None) -> None:
        self._front, self._shelf, self._survey = front, shelf, survey

    def __call__(self, environ: dict[str, Any], start_response: Any) -> Iterable[bytes]:  # noqa: ANN401, D102
        path = environ.get("PATH_INFO", "")
        if self._survey is not None and self._survey.has(path):
            answer: Iterable[bytes] = self._survey.wsgi(environ, start_response)
            return answer
        if path.startswith(HOUSE):
            key, slash, rest = path.removeprefix(HOUSE).partition("/")
            house = self._shelf.house(key) if slash else None
            if house is not None:
                inner = {
                    **environ,
                    "SCRIPT_NAME": f"{environ.get('SCRIPT_NAME', '')}{HOUSE}{key}",
                    "PATH_INFO": f"/{rest}",
                }
                found: Iterable[bytes] = house.wsgi(inner, start_response)
                return found
        return self._front.server.wsgi_app(environ, start_response)


def serve_house(path: Path, site: Site, keys: Keys | None, proposer: Proposer | None) -> Door:
    """All of one house file."""
    house = ServedHouse(path, "/", proposer)

    def compare(file: Path) -> str:
        if file.resolve() != path.resolve():
            raise ValueError(f"This page was opened for {path.name} alone. Open the folder to compare {file.name}.")
        house.source.open()
        return "/desk/"

    survey = SurveyPages(Survey(path.resolve().parent, compare))
    return Door(OneHouse(Front(site, keys, None), house, survey), site, keys)


def serve_folder(folder: Path, site: Site, keys: Keys | None, proposer: Proposer | None) -> Door:
    """All of a folder of house files."""
    shelf = Shelf(folder, lambda path, key: ServedHouse(path, f"{HOUSE}{key}/", proposer))

    def compare(file: Path) -> str:
        key = next((key for key, name in shelf.files().items() if name == file.name), "")
        house = shelf.house(key)
        if not isinstance(house, ServedHouse):
            raise ValueError(f"{file.name} is not there any more.")
        house.source.open()
        return f"{HOUSE}{key}/desk/"

    survey = SurveyPages(Survey(folder, compare))
    return Door(ManyHouses(Front(site, keys, shelf), shelf, survey), site, keys)
