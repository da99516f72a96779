"""The whole site of a house behind its door, and browsers of bytes that play each role."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from flask import Flask
from werkzeug.test import Client, TestResponse

from dashboard.door import PASSWORD_FILE, TOKEN_COOKIE, TOKEN_HEADER, Door, Keys, Site
from dashboard.front.pages import Front
from dashboard.front.site import OneHouse
from dashboard.guard import LOCAL_HOSTS
from dashboard.pairing import Codes
from dashboard.password import set_password
from dashboard.signin import Sessions, Tries
from dashboard.survey.app import SurveyPages

PASSWORD = "six brown jugs whistle"
LAN_HOST = "192.168.1.5"
NEAR, HERE = "192.168.1.77", "127.0.0.1"
PORT = 8164


class Clock:
    """A clock that tests move."""

    def __init__(self) -> None:
        self.now_s = 1000.0

    def __call__(self) -> float:
        return self.now_s


@dataclass
class Given:
    """A house whose server stands."""

    server: Flask

    @property
    def wsgi(self) -> Any:
        return self.server.wsgi_app

    def sleep(self) -> None:
        """Nothing to give up."""


@dataclass
class Served:
    """A site with its parts."""

    door: Door
    front: Front
    house: Flask
    keys: Keys
    site: Site
    clock: Clock

    def browser(self, address: str = NEAR, host: str = LAN_HOST) -> Browser:
        return Browser(self, address, host)

    def here(self) -> Browser:
        """A browser on this computer."""
        return self.browser(HERE, "127.0.0.1")

    def paired(self) -> Browser:
        """A tablet that was let in."""
        found = self.browser()
        assert found.pair(self.keys.codes.new()).status_code == 303
        return found

    def designer(self) -> Browser:
        """A tablet that was let in, whose user gave the desk's password."""
        found = self.paired()
        assert found.enter().status_code == 303
        return found


@dataclass
class Browser:
    """Keeps cookies, as a browser does, and sends what pages send."""

    served: Served
    address: str
    host: str
    client: Client = field(init=False)

    def __post_init__(self) -> None:
        self.client = Client(self.served.door)

    @property
    def base(self) -> str:
        return f"http://{self.host}:{PORT}"

    def open(self, path: str, method: str = "GET", **more: Any) -> TestResponse:
        environ = {"REMOTE_ADDR": self.address, **more.pop("environ", {})}
        response = self.client.open(path, method=method, base_url=self.base, environ_overrides=environ, **more)
        response.get_data()
        response.close()
        return response

    def cookie(self, name: str) -> str:
        found = self.client.get_cookie(name, domain=self.host)
        return found.value if found is not None else ""

    def call(self, path: str, body: Any, **headers: str) -> TestResponse:
        """Post a call as a page does: with the token, after the page gave it."""
        if not self.cookie(TOKEN_COOKIE):
            self.open("/")
        own = {TOKEN_HEADER: self.cookie(TOKEN_COOKIE), "Origin": self.base, **headers}
        return self.open(path, "POST", json=body, headers={key: value for key, value in own.items() if value})

    def form(self, path: str, values: dict[str, str], at: str = "", **headers: str) -> TestResponse:
        """Open a form and send it."""
        page = self.open(at or path).get_data(as_text=True)
        seal = re.search(r'name="seal" value="([^"]+)"', page)
        sealed = {"seal": seal[1]} if seal is not None else {}
        return self.open(path, "POST", data={**sealed, **values}, headers={"Origin": self.base, **headers})

    def pair(self, code: str) -> TestResponse:
        return self.form("/pair", {"code": code})

    def enter(self, password: str = PASSWORD) -> TestResponse:
        return self.form("/enter", {"password": password})


def served_site(
    house: Flask,
    folder: Path,
    *,
    password: bool = True,
    lan: bool = True,
    https_name: str = "",
    survey: SurveyPages | None = None,
) -> Served:
    """A site over a server of a house."""
    clock = Clock()
    if password:
        set_password(folder / PASSWORD_FILE, PASSWORD)
    keys = Keys(folder / PASSWORD_FILE, Codes(clock), Sessions(clock), Sessions(clock), Tries(clock), Tries(clock))
    hosts = frozenset({*LOCAL_HOSTS, LAN_HOST, *({https_name} if https_name else ())})
    site = Site(hosts, PORT, lan=lan, https_name=https_name)
    front = Front(site, keys if lan else None, None)
    door = Door(OneHouse(front, Given(house), survey), site, keys if lan else None)
    return Served(door, front, house, keys, site, clock)
