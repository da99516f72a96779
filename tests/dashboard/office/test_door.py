"""The closed door: who gets in, and that nobody else learns anything. OWASP ASVS 5.0.0 items beside each test."""

from __future__ import annotations

import os
import re
import stat
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from flask import Flask
from flask.testing import FlaskClient
from werkzeug.test import TestResponse

from dashboard.office import app
from dashboard.office.app import OPENED
from dashboard.office.guard import CSRF_HEADER
from dashboard.password import PasswordError, set_password
from dashboard.signin import FREE_TRIES, LIFE_S, MOST_SESSIONS, Sessions, Tries
from tests.dashboard.office.conftest import BOOK, COOKIE, HOME, PASSWORD, SMITH, WRONG, Clock, Desk, proposals
from tests.office.odd import leaks, planted

METHODS = ("GET", "POST", "PUT", "DELETE", "PATCH")
REFUSED = {401, 403, 404}
SECRET = planted(BOOK)


def doors(server: Flask, name: str) -> Iterator[tuple[str, str, str]]:
    """Every path of the server with every method, filled in with a proposal's name."""
    found: dict[tuple[str, str], str] = {}
    for rule in server.url_map.iter_rules():
        path = rule.rule.replace("<name>", name).replace("<ending>", "csv").replace("<path:file_name>", "x.woff2")
        path = path.replace("<path:filename>", "office.css")
        assert "<" not in path
        for method in METHODS:
            own = rule.endpoint if method in (rule.methods or ()) else ""
            found[path, method] = found.get((path, method), "") or own
    for (path, method), endpoint in found.items():
        yield path, method, endpoint


def actors(desk: Desk) -> dict[str, Callable[[], FlaskClient]]:
    """Everyone who is not signed in."""

    def forged() -> FlaskClient:
        client = desk.stranger()
        client.set_cookie(COOKIE, "x" * 43, domain="127.0.0.1")
        return client

    def signed_out() -> FlaskClient:
        other = Desk(desk.office, desk.server, desk.clock, desk.stranger())
        other.enter()
        cookie = other.client.get_cookie(COOKIE, domain="127.0.0.1")
        assert cookie is not None
        assert other.post("/leave", {"csrf": other.csrf}).status_code == 303
        again = desk.stranger()
        again.set_cookie(COOKIE, cookie.value, domain="127.0.0.1")
        return again

    return {"stranger": desk.stranger, "forged": forged, "signed out": signed_out}


@pytest.mark.parametrize("who", ["stranger", "forged", "signed out"])
def test_every_door_is_closed_to_everyone_outside(who: str, desk: Desk, folder) -> None:
    # ASVS 8.3.1, 8.2.1: the table of actors and paths makes the test; a new path is in it by itself
    name = next(iter(proposals(folder).values()))
    client, tried = actors(desk)[who](), 0
    for path, method, endpoint in doors(desk.server, name):
        answer = client.open(path, method=method, base_url=HOME, data={"csrf": "x"} if method != "GET" else None)
        if endpoint in OPENED:
            assert answer.status_code in {200, 400, 404}, (method, path)
        else:
            assert answer.status_code in REFUSED, (method, path, answer.status_code)
            tried += 1
        assert leaks(answer.data, SECRET) == set()
        assert b"smith" not in answer.data
        assert name.encode() not in answer.data
        answer.close()
    assert tried >= 40


def test_a_door_left_open_would_be_found(
    make_desk: Callable[..., Desk], folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(app, "OPENED", OPENED | {"quotes_file"})
    answer = make_desk().stranger().get("/quotes.csv", base_url=HOME)
    assert answer.status_code not in REFUSED
    assert proposals(folder)[SMITH].encode() in answer.data


def test_the_same_doors_open_to_the_office(inside: Desk, folder) -> None:
    name = proposals(folder)[SMITH]
    for path in ("/", f"/quote/{name}", "/quotes.csv", "/quotes.xlsx", f"/quote/{name}/layouts.csv", "/work"):
        assert inside.get(path).status_code == 200, path
    assert len(leaks(inside.get(f"/quote/{name}/layouts.json").data, SECRET)) > 3  # the canaries are there


@pytest.mark.parametrize("path", ["/work", "/leave", "/look", "/quote/{}/discount"])
@pytest.mark.parametrize("given", [None, "", "x" * 43, "\u00e9"])
def test_no_change_without_the_token_of_the_session(path: str, given: str | None, inside: Desk, folder) -> None:
    # ASVS 3.5.1: forged requests
    path = path.format(proposals(folder)[SMITH])
    data = {} if given is None else {"csrf": given}
    assert inside.post(path, data).status_code == 403
    if given and given.isascii():
        assert inside.post(path, {}, headers={CSRF_HEADER: given}).status_code == 403
    assert inside.get("/").status_code == 200


def test_a_token_of_another_session_does_not_serve(inside: Desk) -> None:
    other = Desk(inside.office, inside.server, inside.clock, inside.stranger())
    other.enter()
    assert other.csrf != inside.csrf
    assert inside.post("/leave", {"csrf": other.csrf}).status_code == 403


def test_the_cookie_is_shut_away(desk: Desk) -> None:
    # ASVS 3.3.1-3.3.4: HttpOnly, SameSite, Secure under HTTPS, prefix
    told = next(text for text in desk.enter().headers.getlist("Set-Cookie") if text.startswith(f"{COOKIE}="))
    parts = {part.strip() for part in told.split(";")[1:]}
    assert {"HttpOnly", "SameSite=Strict", "Path=/", f"Max-Age={8 * 3600}"} <= parts
    assert len(told.split("=", 1)[1].split(";")[0]) >= 43  # 256 bits in base64


def test_under_https_the_cookie_is_secure_and_other_names_are_refused(make_desk) -> None:
    desk = make_desk(https_name="office.example")
    home = "https://office.example"
    form = desk.client.get("/enter", base_url=home)
    seal = re.search(r'name="seal" value="([^"]+)"', form.get_data(as_text=True))
    assert seal is not None
    answer = desk.client.post("/enter", base_url=home, data={"seal": seal[1], "password": PASSWORD})
    told = next(text for text in answer.headers.getlist("Set-Cookie") if "__Host-" in text)
    assert "Secure" in told
    assert "Strict-Transport-Security" in answer.headers
    assert desk.get("/enter").status_code == 421


def test_a_session_ends_after_eight_hours(inside: Desk) -> None:
    # ASVS 7.3.2: absolute lifetime, however busy
    for _ in range(8):
        inside.clock.now_s += LIFE_S / 8 - 1
        assert inside.get("/").status_code == 200
    inside.clock.now_s += 9
    assert inside.get("/").status_code == 401


def test_a_new_password_ends_every_session(inside: Desk, folder) -> None:
    # ASVS 7.4.3
    set_password(folder / "office" / ".password", WRONG)
    assert inside.get("/").status_code == 401
    assert inside.enter(PASSWORD).status_code == 401
    assert inside.enter(WRONG).status_code == 303


def test_a_password_that_others_can_read_lets_nobody_in(inside: Desk, folder) -> None:
    # ASVS 16.5.3: fail closed
    (folder / "office" / ".password").chmod(0o644)
    assert inside.get("/").status_code == 401
    assert inside.enter().status_code == 401


def test_sessions_are_bounded_and_ids_never_kept() -> None:
    sessions = Sessions(Clock())
    names = [sessions.begin("h") for _ in range(MOST_SESSIONS + 1)]
    assert sessions.find(names[0], "h") is None
    assert all(sessions.find(name, "h") for name in names[1:])
    assert not any(name in repr(sessions._open) for name in names)


# Guessing (ASVS 6.3.1)


def test_wrong_passwords_make_the_next_try_wait(desk: Desk) -> None:
    for _ in range(FREE_TRIES):
        assert desk.enter(WRONG).status_code == 401
    answer = desk.enter(PASSWORD)  # even the right one
    assert answer.status_code == 429
    assert 0 < int(answer.headers["Retry-After"]) <= 31
    desk.clock.now_s += 31
    assert desk.enter(WRONG).status_code == 401
    assert int(desk.enter(PASSWORD).headers["Retry-After"]) > 31
    desk.clock.now_s += 61
    assert desk.enter(PASSWORD).status_code == 303
    assert desk.get("/").status_code == 200


def test_a_day_of_guessing_is_about_a_hundred_tries() -> None:
    clock = Clock()
    tries, made = Tries(clock), 0
    end = clock.now_s + 86400
    while clock.now_s < end:
        made += tries.begin() == 0.0
        clock.now_s += 1.0
    assert made <= 110  # by hand: 5 + 30, 60, 120, 240, 480 s, then one each 900 s: 5 + 5 + 95


def test_tries_at_once_cannot_slip_past_the_count(desk: Desk) -> None:
    from concurrent.futures import ThreadPoolExecutor

    with ThreadPoolExecutor(8) as pool:
        waits = list(pool.map(lambda _k: desk.office.tries.begin(), range(40)))
    assert sum(wait == 0.0 for wait in waits) == FREE_TRIES


def test_the_form_serves_only_the_browser_that_asked_for_it(desk: Desk) -> None:
    form = desk.get("/enter").get_data(as_text=True)
    seal = re.search(r'name="seal" value="([^"]+)"', form)
    assert seal is not None
    other = desk.stranger()
    data = {"seal": seal[1], "password": PASSWORD}
    assert other.post("/enter", base_url=HOME, data=data).status_code == 403
    assert desk.post("/enter", data | {"seal": "x"}).status_code == 403


def test_refused_without_a_word_about_why(desk: Desk) -> None:
    answer = desk.enter(WRONG)
    assert answer.status_code == 401
    assert "That is not the password." in answer.get_data(as_text=True)
    assert not any(text.startswith(f"{COOKIE}=") for text in answer.headers.getlist("Set-Cookie"))
    assert desk.get("/").status_code == 401


# The password's file


def test_the_file_holds_a_salted_scrypt_hash_that_only_its_owner_reads(folder) -> None:
    # ASVS 11.4.2; file mode after common practice
    path = folder / "office" / ".password"
    text = path.read_text("ascii")
    assert PASSWORD not in text
    assert text.startswith("scrypt:32768:8:1$")
    if os.name == "posix":
        assert stat.S_IMODE(path.stat().st_mode) == 0o600
    set_password(path, PASSWORD)
    assert path.read_text("ascii") != text


@pytest.mark.parametrize("password", ["", "short", "x" * 11, "aaaaaaaaaaaaaaa", "x y " * 60])
def test_a_poor_password_is_refused_and_the_old_one_stays(password: str, folder) -> None:
    path = folder / "office" / ".password"
    old = path.read_bytes()
    with pytest.raises(PasswordError, match="password: "):
        set_password(path, password)
    assert path.read_bytes() == old
    assert [p.name for p in path.parent.glob(".*")] == [".password"]


# What every answer carries, and bad requests


def test_headers_of_every_answer(inside: Desk) -> None:
    # ASVS 3.4.3-3.4.6, 14.3.2
    for answer in (inside.get("/"), inside.get("/nothing"), inside.get("/quotes.csv"), inside.post("/work")):
        rules = dict(rule.split(" ", 1) for rule in answer.headers["Content-Security-Policy"].split("; "))
        assert rules["default-src"] == rules["object-src"] == rules["base-uri"] == rules["frame-ancestors"] == "'none'"
        assert "unsafe" not in answer.headers["Content-Security-Policy"]
        assert answer.headers["Cache-Control"] == "no-store"
        assert answer.headers["X-Content-Type-Options"] == "nosniff"
        assert answer.headers["X-Frame-Options"] == "DENY"


def test_a_large_body_is_refused(inside: Desk) -> None:
    # ASVS 5.2.1
    assert inside.post("/look", {"csrf": inside.csrf, "to": "x" * 20_000}).status_code == 413


def test_another_host_or_site_is_refused(inside: Desk) -> None:
    assert inside.client.get("/enter", base_url="http://evil.example").status_code == 421
    data = {"csrf": inside.csrf, "to": "dark"}
    assert inside.post("/look", data, headers={"Origin": "http://evil.example"}).status_code == 400
    assert inside.post("/look", data, headers={"Sec-Fetch-Site": "cross-site"}).status_code == 400


BAD = [
    ("GET", "/?x=1", 400), ("GET", "/quote/{}?discount=51", 400), ("GET", "/quote/{}?discount=1e1", 400),
    ("GET", "/quote/{}?discount=NaN", 400), ("GET", "/quote/{}?discount=-5", 400), ("GET", "/quote/{}?discount=", 400),
    ("GET", "/quote/{}?discount=5&discount=6", 400), ("GET", "/quote/{}?option=none", 404),
    ("GET", "/quote/{}?option=%00", 404), ("GET", "/quote/..%2f..%2fetc", 404), ("GET", "/quote/x", 404),
    ("GET", "/quotes.exe", 404), ("GET", "/quote/{}/layouts.py", 404), ("GET", "/look/own/../app.py", 404),
    ("GET", "/look/own/%2e%2e/app.py", 404), ("GET", "/look/fonts/../NOTICE.md", 404),
    ("GET", "/static/office.css", 404),
    ("POST", "/quote/{}/discount", 400), ("POST", "/look", 400), ("POST", "/", 405), ("PUT", "/work", 405),
]  # fmt: skip


@pytest.mark.parametrize(("method", "path", "code"), BAD)
def test_a_bad_request_gets_a_plain_answer(method: str, path: str, code: int, inside: Desk, folder) -> None:
    # ASVS 2.2.1, 15.3.3, 16.5.1
    path = path.format(proposals(folder)[SMITH])
    answer: TestResponse = inside.client.open(path, method=method, base_url=HOME, headers={CSRF_HEADER: inside.csrf})
    assert answer.status_code == code
    assert len(answer.data) < 120
    assert b"Traceback" not in answer.data


def test_a_fault_inside_is_told_in_one_line(inside: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    from dashboard.office import pages

    def broken(_desk: object) -> None:
        raise RuntimeError("cost 4711.23")

    monkeypatch.setattr(pages, "all_quotes", broken)
    answer = inside.get("/")
    assert (answer.status_code, answer.data) == (500, b"Something went wrong. Nothing was changed.\n")
