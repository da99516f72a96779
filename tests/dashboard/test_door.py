"""The door before the pages: who gets in over a network, and that nobody else learns anything.

OWASP ASVS 5.0.0 items stand beside the tests. Addresses: RFC 1918 (private), RFC 5737 (examples, not private).
"""

from __future__ import annotations

import logging
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from dash import Dash

from dashboard.door import PASSWORD_FILE, TABLET_LIFE_S, TOKEN_COOKIE, TOKEN_HEADER
from dashboard.lan import CAUTION, lan_site, network_addresses, tell
from dashboard.pairing import LIFE_S as CODE_LIFE_S
from dashboard.password import set_password
from dashboard.role import is_here, is_near
from dashboard.signin import FREE_TRIES, LIFE_S
from tests.dashboard.client import CALL, Client
from tests.dashboard.desk_double import DESK_CALL
from tests.dashboard.site_double import HERE, LAN_HOST, NEAR, PASSWORD, PORT, Served, served_site

FORWARDED = ({"HTTP_X_FORWARDED_FOR": "127.0.0.1"}, {"HTTP_FORWARDED": "for=127.0.0.1"}, {"HTTP_X_REAL_IP": "::1"},
             {"HTTP_VIA": "1.1 proxy"})  # fmt: skip


@pytest.fixture
def site(desk_app: Dash, tmp_path: Path) -> Served:
    return served_site(desk_app.server, tmp_path)


@pytest.fixture
def body(client: Client) -> dict[str, Any]:
    """A call of the table."""
    return client.body()


def test_addresses_of_private_networks() -> None:
    # RFC 1918, RFC 3927, RFC 4193, RFC 4291 2.5.6
    assert all(is_near(a) for a in ("10.0.0.4", "172.31.0.1", "192.168.1.7", "169.254.3.4", "fd12::1", "fe80::1%eth0"))
    assert not any(is_near(a) for a in ("8.8.8.8", "2606:4700::1", "", None, "x"))
    assert not is_here(NEAR)


def test_this_computer_needs_no_code(site: Served) -> None:
    assert site.here().open("/").status_code == 200
    assert site.here().open("/desk/").status_code == 200


def test_a_stranger_is_led_to_the_form_and_nowhere_else(site: Served) -> None:
    stranger = site.browser()
    answer = stranger.open("/")
    assert (answer.status_code, answer.headers["Location"]) == (303, "/pair")
    for path in ("/_dash-layout", "/_dash-dependencies", "/desk/", "/enter", "/assets/table.css", "/proposal/x.pdf"):
        answer = stranger.open(path)
        assert (answer.status_code, answer.data) == (401, b"Pair this device first.\n"), path
    page = stranger.open("/pair")
    assert page.status_code == 200
    assert "desk" not in page.get_data(as_text=True).lower()
    assert page.headers["Cache-Control"] == "no-store"


def test_a_code_lets_one_device_in_to_the_table_alone(site: Served, body: dict[str, Any]) -> None:
    tablet, code = site.browser(), site.keys.codes.new()
    answer = tablet.pair(code)
    assert (answer.status_code, answer.headers["Location"]) == (303, "/")
    assert tablet.open("/").status_code == 200
    assert tablet.call(CALL, body).status_code == 200
    assert tablet.open("/desk/").status_code == 404
    assert site.browser().pair(code).status_code == 401  # used up: ASVS 6.5.1


def test_the_cookie_of_a_device(site: Served) -> None:
    # ASVS 3.3.1, 3.3.2, 3.3.4, 7.2.3
    answer = site.browser().pair(site.keys.codes.new())
    cookie = next(c for c in answer.headers.getlist("Set-Cookie") if c.startswith(f"hplayouts_tablet_{PORT}="))
    assert "HttpOnly" in cookie
    assert "SameSite=Strict" in cookie
    assert "Secure" not in cookie
    assert "Path=/" in cookie
    assert len(re.match(r"[^=]+=([^;]*)", cookie)[1]) >= 43  # type: ignore[index]


def test_under_https_cookies_are_secure_and_bound_to_the_host(desk_app: Dash, tmp_path: Path) -> None:
    # ASVS 3.3.1 and 3.3.3
    site = served_site(desk_app.server, tmp_path, https_name="house.example")
    tablet = site.browser(HERE, "house.example")  # through the proxy on this computer
    assert tablet.open("/").status_code == 303
    page = tablet.open("/pair").get_data(as_text=True)
    seal = re.search(r'name="seal" value="([^"]+)"', page)
    assert seal is not None
    form = next(c for c in tablet.open("/pair").headers.getlist("Set-Cookie") if "form" in c)
    assert form.startswith("__Host-")
    assert "Secure" in form


def test_a_proxy_on_this_computer_does_not_make_everybody_a_local(site: Served) -> None:
    for told in FORWARDED:
        answer = site.browser(HERE, "127.0.0.1").open("/desk/", environ=told)
        assert answer.status_code == 401, told
    assert site.browser(HERE, LAN_HOST).open("/desk/").status_code == 401


def test_lies_of_a_neighbour_do_not_help(site: Served) -> None:
    lies = {
        "X-Forwarded-For": "127.0.0.1",
        "Forwarded": "for=127.0.0.1",
        "hplayouts.role": "here",
        "Hplayouts-Role": "here",
    }
    for host in (LAN_HOST, "127.0.0.1", "localhost"):
        assert site.browser(NEAR, host).open("/desk/", headers=lies).status_code == 401
    forged = site.browser()
    forged.client.set_cookie(f"hplayouts_tablet_{PORT}", "x" * 43, domain=LAN_HOST)
    forged.client.set_cookie(f"hplayouts_desk_{PORT}", "x" * 43, domain=LAN_HOST)
    assert forged.open("/desk/").status_code == 401


def test_an_address_that_is_not_private_is_refused(site: Served) -> None:
    assert site.browser("8.8.8.8").open("/pair").status_code == 403


def test_only_our_own_host_names_are_answered(site: Served) -> None:
    # against names of a foreign site that point here; ASVS 4.2 and 3.5
    for host in ("evil.example", "192.168.1.6", "127.0.0.1.evil.example"):
        assert site.browser(HERE, host).open("/").status_code == 421


def test_too_many_codes_have_to_wait(site: Served) -> None:
    # ASVS 6.3.1; SP 800-63B-4 3.2.2
    code = site.keys.codes.new()
    wrong = "00000000" if code != "00000000" else "11111111"
    told = [site.browser().pair(wrong).status_code for _ in range(FREE_TRIES + 1)]
    assert told == [401] * FREE_TRIES + [429]
    waiting = site.browser().pair(code)
    assert waiting.status_code == 429
    assert int(waiting.headers["Retry-After"]) > 0
    site.clock.now_s += 31.0
    assert site.browser().pair(code).status_code == 303


def test_an_old_code_is_refused(site: Served) -> None:
    code = site.keys.codes.new()
    site.clock.now_s += CODE_LIFE_S
    assert site.browser().pair(code).status_code == 401


def test_a_device_is_let_out_after_its_time(site: Served) -> None:
    # ASVS 7.3.2
    tablet = site.paired()
    site.clock.now_s += max(LIFE_S, TABLET_LIFE_S) + 1.0
    assert tablet.open("/").status_code == 303


def test_a_code_stands_in_no_address_and_no_log(site: Served, caplog: pytest.LogCaptureFixture) -> None:
    # ASVS 14.2.1, 16.2.5
    caplog.set_level(logging.DEBUG)
    code = site.keys.codes.new()
    assert site.browser().open(f"/pair?code={code}", "POST", data={"seal": "x"}).status_code == 400
    assert site.browser().pair(code[::-1] + "1").status_code == 401
    assert site.browser().pair(code).status_code == 303
    assert code not in caplog.text
    assert "paired" in caplog.text


def test_a_form_of_another_browser_is_refused(site: Served) -> None:
    # ASVS 3.5.1
    page = site.browser().open("/pair").get_data(as_text=True)
    seal = re.search(r'name="seal" value="([^"]+)"', page)[1]  # type: ignore[index]
    other = site.browser()
    other.open("/pair")
    sent = other.open("/pair", "POST", data={"seal": seal, "code": site.keys.codes.new()})
    assert sent.status_code == 403


def test_a_post_from_another_site_is_refused(site: Served, body: dict[str, Any]) -> None:
    # ASVS 3.5.1-3.5.3; OWASP CSRF Prevention Cheat Sheet: origin, fetch metadata, token in cookie and header
    for who in (site.here(), site.paired()):
        assert who.call(CALL, body).status_code == 200
        assert who.call(CALL, body, Origin="http://evil.example").status_code == 400
        assert who.call(CALL, body, Origin="null").status_code == 400
        assert who.call(CALL, body, **{"Sec-Fetch-Site": "cross-site"}).status_code == 400
        assert who.call(CALL, body, **{TOKEN_HEADER: ""}).status_code == 400
        assert who.call(CALL, body, **{TOKEN_HEADER: "x" * 43}).status_code == 400
        who.client.set_cookie(TOKEN_COOKIE, "", domain=who.host)
        assert who.open(CALL, "POST", json=body).status_code == 400
    code = site.keys.codes.new()
    assert site.browser().form("/pair", {"code": code}, Origin="http://evil.example").status_code == 400


def test_bodies_and_methods_are_bounded(site: Served) -> None:
    # ASVS 5.2.1, 13.4
    for who in (site.here(), site.paired(), site.browser()):
        assert who.open("/pair", "POST", data={"code": "1" * 100_000}).status_code == 413
        for method in ("PUT", "DELETE", "PATCH", "TRACE"):
            assert who.open("/", method).status_code == 405
    assert site.browser().form("/pair", {"code": "1", "more": "x"}).status_code == 400


def test_a_designer_needs_device_and_password(site: Served) -> None:
    # ASVS 8.2.1
    assert site.browser().enter().status_code == 401
    tablet = site.paired()
    assert tablet.enter("not the password").status_code == 401
    assert tablet.open("/desk/").status_code == 404
    answer = tablet.enter()
    assert (answer.status_code, answer.headers["Location"]) == (303, "/desk/")
    cookie = next(c for c in answer.headers.getlist("Set-Cookie") if c.startswith(f"hplayouts_desk_{PORT}="))
    assert "HttpOnly" in cookie
    assert "SameSite=Strict" in cookie
    page = tablet.open("/desk/")
    assert page.status_code == 200
    assert page.headers["Cache-Control"] == "no-store"


def test_the_desk_alone_does_not_open_the_door(site: Served) -> None:
    designer = site.designer()
    designer.client.delete_cookie(f"hplayouts_tablet_{PORT}", domain=LAN_HOST)
    assert designer.open("/desk/").status_code == 401


def test_signing_out_and_a_new_password_end_a_session(site: Served, tmp_path: Path) -> None:
    # ASVS 7.4.1, 7.4.3
    one, other = site.designer(), site.designer()
    assert one.form("/leave", {}, at="/enter").status_code == 303
    assert one.open("/desk/").status_code == 404
    assert other.open("/desk/").status_code == 200
    set_password(tmp_path / PASSWORD_FILE, f"{PASSWORD} again")
    assert other.open("/desk/").status_code == 404
    assert other.open("/").status_code == 200


def test_a_designers_session_ends_after_eight_hours(site: Served) -> None:
    designer = site.designer()
    site.clock.now_s += LIFE_S + 1.0
    assert designer.open("/desk/").status_code == 401


def test_guessing_the_password_has_to_wait(site: Served) -> None:
    tablet = site.paired()
    told = [tablet.enter(f"wrong words number {n}").status_code for n in range(FREE_TRIES + 1)]
    assert told == [401] * FREE_TRIES + [429]
    assert tablet.enter().status_code == 429


def test_without_a_password_the_desk_stays_here(desk_app: Dash, tmp_path: Path) -> None:
    site = served_site(desk_app.server, tmp_path, password=False)
    tablet = site.paired()
    assert "No password is set" in tablet.open("/enter").get_data(as_text=True)
    for guess in ("", PASSWORD):
        assert tablet.enter(guess).status_code in {400, 401, 403}
    assert tablet.open("/desk/").status_code == 404


def test_without_the_network_nobody_else_is_answered(desk_app: Dash, tmp_path: Path) -> None:
    site = served_site(desk_app.server, tmp_path, lan=False)
    assert site.here().open("/").status_code == 200
    for path in ("/", "/pair", "/enter", "/desk/", "/look/tokens.css"):
        assert site.browser().open(path).status_code == 403
        assert site.browser(NEAR, "localhost").open(path).status_code == 403


def test_a_header_that_browsers_complain_of_stays_where_they_follow_it(site: Served) -> None:
    assert "Cross-Origin-Opener-Policy" in site.here().open("/").headers
    for who in (site.browser(), site.paired()):
        for path in ("/", "/pair", "/nothing"):
            answer = who.open(path)
            assert "Cross-Origin-Opener-Policy" not in answer.headers
            assert answer.headers["X-Content-Type-Options"] == "nosniff"


def test_the_link_to_the_desk_is_for_designers(site: Served) -> None:
    assert b"to-desk" in site.here().open("/_dash-layout").data
    assert b"to-desk" in site.designer().open("/_dash-layout").data
    assert b"to-desk" not in site.paired().open("/_dash-layout").data


def test_calls_of_the_desk_by_a_tablet_do_not_exist(site: Served) -> None:
    assert site.paired().call(DESK_CALL, {"output": "x"}).status_code == 404
    assert site.designer().call(DESK_CALL, {"output": "x"}).status_code == 400


def test_the_terminal_tells_the_way_the_code_and_the_caution(site: Served) -> None:
    said: list[str] = []
    tell(lan_site(PORT), site.keys, said.append)
    told = "\n".join(said)
    code = re.search(r"\b(\d{4} \d{4})\b", told)
    assert code is not None
    assert CAUTION in told
    assert all(address in told for address in network_addresses())
    assert site.browser().pair(code[1]).status_code == 303


def test_each_site_has_hosts_of_this_computer_alone() -> None:
    hosts = lan_site(PORT, "House.Example").hosts
    assert {"127.0.0.1", "localhost", "house.example"} <= hosts
    assert not any("*" in host or host == "" for host in hosts)


@pytest.mark.parametrize("path", ["/pair", "/enter", "/leave"])
def test_odd_forms_get_a_short_answer(site: Served, path: str) -> None:
    # ASVS 16.5.1
    odd: tuple[Callable[[], dict[str, Any]], ...] = (
        lambda: {"data": b"\xff\xfe=%ff&&&"}, lambda: {"data": b"{", "content_type": "application/json"},
        lambda: {"data": {"code": "\x00" * 50}},
        lambda: {"data": b"x" * 300, "content_type": "multipart/form-data; boundary=x"},
    )  # fmt: skip
    for who in (site.browser(), site.paired(), site.designer(), site.here()):
        for make in odd:
            answer = who.open(path, "POST", **make())
            assert answer.status_code in {400, 401, 403}, answer.status_code
            assert len(answer.data) < 60
