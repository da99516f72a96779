"""Who reaches the survey: designers and this computer. After OWASP ASVS 5.0.0, 8.2.1, 8.3.1, 16.5.1."""

from __future__ import annotations

import json
import shutil
from pathlib import Path
from typing import Any

import pytest
from werkzeug.test import Client, TestResponse

from dashboard.door import Site
from dashboard.front.site import serve_folder
from dashboard.role import ROLE, Role
from dashboard.store import new_name
from dashboard.survey.app import SURVEY, SurveyPages
from dashboard.survey.work import Survey

CALL = f"{SURVEY}/_dash-update-component"
ROUTES = (
    SURVEY,
    f"{SURVEY}/",
    f"{SURVEY}/_dash-layout",
    f"{SURVEY}/_dash-dependencies",
    f"{SURVEY}/assets/survey.js",
    f"{SURVEY}/assets/survey.css",
    f"{SURVEY}/anything",
    SURVEY.upper() + "/",
)
HEADERS = {"Host": "127.0.0.1:8161"}


@pytest.fixture
def pages(tmp_path: Path, scenarios: Path) -> SurveyPages:
    shutil.copy(scenarios / "ranch.toml", tmp_path)
    return SurveyPages(Survey(tmp_path))


def asked(pages: SurveyPages, method: str, path: str, body: Any = None, **environ: Any) -> TestResponse:
    data = body if isinstance(body, bytes) else None if body is None else json.dumps(body)
    browser = Client(pages.wsgi)
    answer = browser.open(
        path,
        method=method,
        data=data,
        headers=HEADERS,
        content_type="application/json",
        environ_overrides={"REMOTE_ADDR": "127.0.0.1", **environ},
    )
    answer.get_data()
    answer.close()
    return answer


def body(said: Any, tablet: str | None = None) -> dict[str, Any]:
    from dashboard.survey.app import OUTPUTS

    outputs = [{"id": one.component_id, "property": one.component_property} for one in OUTPUTS.values()]
    return {
        "output": "..{}..".format("...".join(f"{one['id']}.{one['property']}" for one in outputs)),
        "outputs": outputs,
        "inputs": [{"id": "hear", "property": "said", "value": said}],
        "changedPropIds": ["hear.said"],
        "state": [{"id": "tablet", "property": "data", "value": tablet or new_name()}],
    }


def opening() -> dict[str, Any]:
    return {"events": [{"number": 1, "what": "open", "file": "ranch.toml", "seen": -1}]}


@pytest.mark.parametrize("role", [Role.HERE, Role.DESIGNER])
def test_designers_have_it(pages: SurveyPages, role: Role) -> None:
    assert asked(pages, "GET", f"{SURVEY}/", **{ROLE: role}).status_code == 200
    answer = asked(pages, "POST", CALL, body(opening()), **{ROLE: role})
    assert answer.status_code == 200
    assert json.loads(answer.data)["response"]["hear"]["file"] == "ranch.toml"


@pytest.mark.parametrize("role", [Role.TABLE, Role.STRANGER, "boss", None])
def test_nobody_else_finds_any_of_it(pages: SurveyPages, role: Any) -> None:
    # an address of RFC 5737, set aside for examples
    who = {ROLE: role, "REMOTE_ADDR": "192.0.2.7"} if role is not None else {"REMOTE_ADDR": "192.0.2.7"}
    for path in ROUTES:
        assert asked(pages, "GET", path, **who).status_code == 404, path
    for said in (None, opening(), 7):
        answer = asked(pages, "POST", CALL, body(said), **who)
        assert (answer.status_code, answer.data) == (404, b"Not Found\n")


BAD = (
    b"",
    b"{",
    b"[]",
    b"[" * 20_000,
    {"output": "x"},
    body(7),
    body("x"),
    body({"events": "x"}),
    body({"events": [{"number": "1"}]}),
    body(opening(), "short"),
    body(opening(), "x" * 24_000),
    {**body(None), "state": []},
    {**body(None), "inputs": []},
    body({"events": [{"number": 1, "what": "tool", "tool": "eraser"}]}),
    body({"events": [{"number": 1, "what": "choose", "ref": "room.x"}]}),
)


@pytest.mark.parametrize("sent", BAD)
def test_a_bad_call_gets_400_and_no_trace(pages: SurveyPages, sent: Any) -> None:
    answer = asked(pages, "POST", CALL, sent)
    assert answer.status_code == 400
    assert b"Traceback" not in answer.data


def test_a_large_body_is_refused_unread(pages: SurveyPages) -> None:
    assert asked(pages, "POST", CALL, b"{" + b" " * 70_000).status_code == 413


def test_every_answer_carries_the_headers(pages: SurveyPages) -> None:
    # ASVS 3.4.3-3.4.6
    for path in (f"{SURVEY}/", f"{SURVEY}/_dash-layout", f"{SURVEY}/assets/survey.js"):
        headers = asked(pages, "GET", path).headers
        assert "default-src 'none'" in headers["Content-Security-Policy"]
        assert "unsafe" not in headers["Content-Security-Policy"].split("style-src")[0]
        assert headers["X-Content-Type-Options"] == "nosniff"
    assert asked(pages, "GET", f"{SURVEY}/").headers["Cache-Control"] == "no-store"


def test_nothing_of_a_house_is_in_the_page_before_it_is_opened(pages: SurveyPages) -> None:
    layout = asked(pages, "GET", f"{SURVEY}/_dash-layout").get_data(as_text=True)
    assert "Richmond" not in layout
    assert "Open living" not in layout


def test_text_of_a_file_stays_text(tmp_path: Path, scenarios: Path) -> None:
    house = (scenarios / "ranch.toml").read_text().replace('"Bath"', '"<svg onload=x>&"')
    (tmp_path / "odd.toml").write_text(house)
    pages = SurveyPages(Survey(tmp_path))
    said = {"events": [{"number": 1, "what": "open", "file": "odd.toml", "seen": -1}]}
    answer = json.loads(asked(pages, "POST", CALL, body(said)).data)["response"]
    assert "&lt;svg onload=x&gt;&amp;" in answer["board"]["svg"]
    assert "<svg onload" not in answer["board"]["svg"]


def test_the_whole_site_has_the_survey_beside_its_houses(tmp_path: Path, scenarios: Path) -> None:
    shutil.copy(scenarios / "ranch.toml", tmp_path)
    (tmp_path / "broken.toml").write_text('units = "US"\n')
    browser = Client(serve_folder(tmp_path, Site(port=8161), None, None))
    for path, said in (
        (f"{SURVEY}/", b"House survey"),
        (f"{SURVEY}/_dash-layout", b"hplayouts_survey"),
        ("/", SURVEY.encode()),
    ):
        answer = browser.get(path, base_url="http://127.0.0.1:8161", environ_base={"REMOTE_ADDR": "127.0.0.1"})
        assert answer.status_code == 200, path
        assert said in answer.data
        answer.close()
    listed = browser.get("/", base_url="http://127.0.0.1:8161", environ_base={"REMOTE_ADDR": "127.0.0.1"})
    assert b"/desk/survey/#broken.toml" in listed.data
    listed.close()
    outside = browser.get(f"{SURVEY}/", base_url="http://127.0.0.1:8161", environ_base={"REMOTE_ADDR": "192.0.2.7"})
    assert outside.status_code in {403, 404}
    outside.close()
