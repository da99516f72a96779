"""Who reaches the desk: this computer and nobody else, whatever is posted. After OWASP ASVS 5.0.0, 8.2.1 and 8.3.1.

Addresses of other computers are those that RFC 5737 (IPv4) and RFC 3849 (IPv6) set aside for examples.
"""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from dash import Dash

from dashboard.desk import app as app_module
from dashboard.desk.files import FILES
from dashboard.desk.gate import is_here
from dashboard.desk.study import Study
from dashboard.table.app import make_app
from tests.dashboard.client import CALL, Client, default_values
from tests.dashboard.desk_double import DESK_CALL, DeskClient, calls_of, desk_values
from tests.dashboard.double import SampleSource

OTHERS = ("192.0.2.7", "198.51.100.20", "2001:db8::7", "::ffff:192.0.2.7", "10.0.0.4", "")
ROUTES = (
    "/desk", "/desk/", "/desk/_dash-layout", "/desk/_dash-dependencies", "/desk/assets/desk.css", "/DESK/",
    "/desk/_dash-component-suites/dash/deps/react@18.v4_4_1m0.js", "/desk/anything",
)  # fmt: skip
LIES = {"X-Forwarded-For": "127.0.0.1", "X-Real-Ip": "127.0.0.1", "Forwarded": "for=127.0.0.1", "Host": "localhost"}


def test_addresses_of_this_computer() -> None:
    # RFC 1122 3.2.1.3 (127/8), RFC 4291 2.5.3 (::1)
    assert all(is_here(address) for address in ("127.0.0.1", "127.8.9.10", "::1", "::ffff:127.0.0.1"))
    assert not any(is_here(address) for address in (*OTHERS, None, "localhost", "127.0.0.1.example", "1"))


def test_every_call_answers_here(desk_client: DeskClient) -> None:
    calls = calls_of(desk_client)
    assert len(calls) == 7
    for name, body in desk_client.bodies(calls).items():
        # this desk has no house file of its own, so nothing can be issued
        assert desk_client.post(body).status_code == (400 if name.startswith("issued") else 200), name


@pytest.mark.parametrize("address", OTHERS)
def test_no_call_answers_elsewhere(desk_client: DeskClient, address: str) -> None:
    bodies = desk_client.bodies(calls_of(desk_client))
    other = DeskClient(desk_client.app, desk_client.values, address)
    for name, body in bodies.items():
        for headers in ({}, LIES):
            response = other.post(body, **headers)
            assert (response.status_code, response.data) == (404, b"Not Found\n"), name


@pytest.mark.parametrize("address", OTHERS[:3])
def test_no_route_and_no_file_answers_elsewhere(desk_client: DeskClient, address: str, ranch_study: Study) -> None:
    other = DeskClient(desk_client.app, desk_client.values, address)
    files = [f"/desk/files/{ranch_study.first}/{name}" for name in FILES]
    for path in (*ROUTES, *files):
        for headers in ({}, LIES):
            response = other.get(path, **headers)
            assert (response.status_code, response.data) == (404, b"Not Found\n"), path


def test_a_customer_elsewhere_still_has_the_table_and_no_word_of_the_desk(desk_app: Dash, ranch_study: Study) -> None:
    here = DeskClient(desk_app, {})
    there = DeskClient(desk_app, {}, "192.0.2.7")
    assert b"to-desk" in here.get("/_dash-layout").data
    for path in ("/", "/_dash-layout", "/_dash-dependencies"):
        response = there.get(path)
        assert response.status_code == 200
        assert b"desk" not in response.data.lower()


def test_calls_of_the_desk_are_not_among_those_of_the_table(desk_client: DeskClient) -> None:
    for name, body in desk_client.bodies(calls_of(desk_client)).items():
        if name.startswith("root"):
            continue  # both pages have one that asks how far the work is; it answers with the page it is asked from
        assert desk_client.post(body, CALL).status_code == 400, name


def test_the_table_is_the_same_with_a_desk(desk_app: Dash) -> None:
    source = SampleSource()
    alone = Client(make_app(source), default_values(source.now)).answer()  # type: ignore[arg-type]
    beside = Client(desk_app, default_values(source.now)).answer()  # type: ignore[arg-type]
    assert alone["cards"] == beside["cards"]


BAD: tuple[tuple[str, Any], ...] = (
    ("open__data", "no-such"), ("open__data", 5), ("open__data", ["x"]), ("open__data", "x" * 5000),
    ("units__value", "F"),
    ("units__value", None), ("family__value", "toaster"), ("family__value", ["all"]), ("most__value", -1),
    ("most__value", "cheap"), ("most__value", True), ("most__value", 1e300), ("most__value", [1]),
    ("order__value", "cost"),
    ("left_out__value", 1), ("room__value", "99"), ("room__value", "-1"), ("room__value", 0), ("room__value", "²"),
    ("week__value", "53"), ("week__value", None), ("week__value", "1e3"), ("taps__tap", {"what": "open:nobody"}),
    ("taps__tap", {"what": "cost:now"}), ("taps__tap", []), ("taps__tap", {"what": "open:" + "x" * 5000}),
    ("taps__tap", 7),
)  # fmt: skip


@pytest.mark.parametrize(("key", "value"), BAD)
def test_a_bad_value_gets_400_and_never_a_trace(desk_client: DeskClient, key: str, value: Any) -> None:
    # ASVS 2.2.1, 15.3.3, 16.5.1
    calls = calls_of(desk_client)
    name = key.replace("__", ".").replace("_o", "-o")
    hit = 0
    for call, body in desk_client.bodies(calls, **{key: value}).items():
        if any(f"{part['id']}.{part['property']}" == name for part in body["inputs"]):
            response = desk_client.post(body)
            assert response.status_code == 400, call
            assert b"Traceback" not in response.data
            hit += 1
    assert hit


@pytest.mark.parametrize("body", [b"", b"{", b"[]", {"output": "x"}, b"[" * 20_000])
def test_a_broken_body_gets_400(desk_client: DeskClient, body: Any) -> None:
    assert desk_client.post(body).status_code == 400


def test_limits_and_headers_hold_for_the_desk_too(desk_client: DeskClient) -> None:
    response = desk_client.get("/desk/")
    assert response.status_code == 200
    assert response.headers["Cache-Control"] == "no-store"
    assert (
        "unsafe"
        not in dict(r.split(" ", 1) for r in response.headers["Content-Security-Policy"].split("; "))["script-src"]
    )
    assert b"http://" not in response.data
    assert desk_client.post(b'{"output": "' + b"x" * 70_000 + b'"}').status_code == 413
    assert desk_client.get("/desk/no/such/page").status_code == 404
    assert desk_client.get("/desk/_reload-hash").status_code == 404
    body = next(iter(desk_client.bodies(calls_of(desk_client)).values()))
    assert desk_client.post(body, Origin="http://evil.example").status_code == 400
    rules = {rule.rule for rule in desk_client.app.server.url_map.iter_rules() if "POST" in (rule.methods or ())}
    assert rules == {CALL, DESK_CALL}


def test_files_are_named_by_us_alone(desk_client: DeskClient, ranch_study: Study) -> None:
    for path in (
        "nobody/crew.pdf",
        f"{ranch_study.first}/x.pdf",
        "..%2f..%2fx/crew.pdf",
        f"{ranch_study.first}/..%2fapp.py",
    ):
        assert desk_client.get(f"/desk/files/{path}").status_code in {400, 404}, path


def test_the_desk_never_loads_the_office() -> None:
    code = (
        "import sys; import dashboard.desk.app, dashboard.desk.page, dashboard.desk.files, dashboard.commands;"
        "print([name for name in sys.modules if name.startswith(('compare.office', 'dashboard.office'))])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


def test_the_chart_library_is_the_one_that_the_framework_expects() -> None:
    from plotly.offline import get_plotlyjs_version

    bundle = Path(app_module.__file__).parent / "assets" / "plotly-cartesian.min.js"
    assert f"v{get_plotlyjs_version()}" in bundle.read_text(encoding="utf-8")[:200]


def test_nothing_is_packed(desk_client: DeskClient) -> None:
    """Charts are lists, so that a search for a figure in an answer finds it."""
    for body in desk_client.bodies(calls_of(desk_client)).values():
        answer = desk_client.post(body)
        assert b"bdata" not in answer.data
        if answer.status_code == 200:
            assert "bdata" not in json.dumps(json.loads(answer.data))


def test_no_answer_before_the_first_comparison(ranch_study: Study) -> None:
    from dashboard.session import Working
    from tests.dashboard.desk_double import FixedDesk

    app = make_app(SampleSource(), None, FixedDesk(None, Working(1, 4)))
    client = DeskClient(app, desk_values(ranch_study))
    assert client.get("/desk/").status_code == 200
    for name, body in client.bodies(calls_of(client)).items():
        assert client.post(body).status_code == (200 if name.startswith("root") else 400), name
