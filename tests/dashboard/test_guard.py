"""What every answer carries and what every request must satisfy. After OWASP ASVS 5.0.0, items beside each test."""

from __future__ import annotations

import json
from copy import deepcopy
from typing import Any

import pytest

from tests.dashboard.client import CALL, HOST, Client

PATHS = ("/", "/_dash-layout", "/_dash-dependencies", "/look/tokens.css", "/assets/table.css", "/no/such/page")


@pytest.mark.parametrize("path", PATHS)
def test_every_answer_carries_the_headers(client: Client, path: str) -> None:
    # ASVS 3.4.3-3.4.6: policy with object-src and base-uri none, nosniff, referrer policy, frame-ancestors
    headers = client.get(path).headers
    rules = dict(rule.split(" ", 1) for rule in headers["Content-Security-Policy"].split("; "))
    assert rules["object-src"] == rules["base-uri"] == rules["frame-ancestors"] == rules["default-src"] == "'none'"
    assert "unsafe" not in rules["script-src"]
    assert "http" not in headers["Content-Security-Policy"]
    assert headers["X-Content-Type-Options"] == "nosniff"
    assert headers["Referrer-Policy"] == "no-referrer"


def test_answers_are_not_kept_by_browsers(client: Client) -> None:
    # ASVS 14.3.2: no-store for what a session shows
    for response in (client.get("/"), client.get("/_dash-layout"), client.post(client.body())):
        assert response.headers["Cache-Control"] == "no-store"


def test_index_names_no_other_server(client: Client) -> None:
    page = client.get("/").get_data(as_text=True)
    assert "http://" not in page
    assert "https://" not in page


def test_a_large_body_is_refused_unread(client: Client) -> None:
    # ASVS 5.2.1: size capped before reading
    assert client.post(b'{"output": "' + b"x" * 70_000 + b'"}').status_code == 413


def test_another_host_name_or_site_is_refused(client: Client) -> None:
    server = client.app.server.test_client()
    assert server.get("/", headers={"Host": "evil.example"}).status_code == 421
    assert client.post(client.body(), Origin="http://evil.example").status_code == 400
    form = server.post(CALL, data=json.dumps(client.body()), headers=HOST, content_type="text/plain")
    assert form.status_code == 400


def test_program_files_cannot_be_fetched(client: Client) -> None:
    for path in (
        "/_dash-component-suites/dashboard/source.py",
        "/_dash-component-suites/compare/pipeline.py",
        "/assets/../session.py",
        "/assets/%2e%2e/session.py",
        "/look/fonts/../NOTICE.md",
        "/proposal/..%2f..%2fx.pdf",
    ):
        response = client.get(path)
        assert response.status_code in {400, 404, 500}, path
        assert b"import" not in response.data


def _broken(body: dict[str, Any]) -> list[Any]:
    """Calls that no page of ours would make."""
    found: list[Any] = [b"", b"{", b"[]", b"null", b'"x"', b"\xff\xfe", b"[" * 20_000, {}, {"output": 1}]

    def changed(edit: Any) -> None:
        copy = deepcopy(body)
        edit(copy)
        found.append(copy)

    changed(lambda b: b.update(output="no.such"))
    changed(lambda b: b.update(output="..root.children...tick.disabled..x"))
    changed(lambda b: b.update(inputs=[]))
    changed(lambda b: b.update(inputs=b["inputs"][:2]))
    changed(lambda b: b.update(inputs=b["inputs"] + b["inputs"]))
    changed(lambda b: b.update(inputs=[1, 2]))
    changed(lambda b: b.update(state=[]))
    changed(lambda b: b.update(outputs=[]))
    changed(lambda b: b.update(changedPropIds=[1]))
    changed(lambda b: b["inputs"][0].pop())
    changed(lambda b: b["inputs"][0][0].update(value=6))
    changed(lambda b: b["inputs"][0][0].update(value="5"))
    changed(lambda b: b["inputs"][0][0].update(value=True))
    changed(lambda b: b["inputs"][0][0].update(value=None))
    changed(lambda b: b["inputs"][0][0].update(value=[5]))
    changed(lambda b: b["inputs"][1][0].update(value=1))
    changed(lambda b: b["inputs"][1][0].update(value="yes"))
    changed(lambda b: b["inputs"][3].update(value="sideways"))
    changed(lambda b: b["inputs"][4].update(value="F"))
    changed(lambda b: b["state"][-1].update(value="../../etc/passwd"))
    changed(lambda b: b["state"][-1].update(value=None))
    changed(lambda b: b["state"][0][0].update(value={"kind": "stops", "key": "margin"}))
    changed(lambda b: b["state"][0][0].update(value=7))
    for tap in (
        "x", 5, [], {}, {"what": "show:nobody", "number": 1}, {"what": "ask:why:nobody", "number": 1},
        {"what": "scene:night", "number": 1}, {"what": "look:pink", "number": 1}, {"what": "cost:now", "number": 1},
        {"what": "show:" + "m" * 500, "number": 1}, {"what": "show:mix", "number": "1"}, {"what": None, "number": 1},
    ):  # fmt: skip
        changed(lambda b, tap=tap: b["inputs"][2].update(value=tap))
    return found


def test_a_bad_call_gets_400_and_never_a_trace(client: Client) -> None:
    # ASVS 2.2.1, 15.3.3 (type, range, only named fields), 16.5.1 (generic errors)
    body = client.body()
    assert client.post(body).status_code == 200
    for broken in _broken(body):
        response = client.post(broken)
        text = response.get_data(as_text=True)
        assert response.status_code == 400, (response.status_code, str(broken)[:200])
        assert "Traceback" not in text
        assert len(text) < 200


def test_a_fault_inside_is_told_in_one_line(client: Client, source: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    # ASVS 16.5.1, 16.5.3: generic message, fail closed
    def broken(_question: object) -> None:
        raise RuntimeError("cost 4711.23")

    body = client.body()
    monkeypatch.setattr(source, "view", broken)
    response = client.post(body)
    assert response.status_code == 500
    assert b"4711" not in response.data
    assert response.data == b"Something went wrong. Nothing was changed.\n"


@pytest.mark.parametrize(
    "path", ["/no/such/page", "/_reload-hash", "/_favicon.ico", "/static/x", "/_mcp", "/_dash-config"]
)
def test_paths_that_the_page_does_not_use_are_closed(client: Client, path: str) -> None:
    assert client.get(path).status_code == 404


def test_no_tool_of_the_framework_is_open(client: Client) -> None:
    # ASVS 13.4.2: debug off; no second door
    rules = {rule.rule for rule in client.app.server.url_map.iter_rules() if "POST" in (rule.methods or ())}
    assert rules == {CALL}
    assert client.app.server.debug is False
