"""Taking back: every change of priority, switch, number and choice, named, bounded, and told to the controls."""

from __future__ import annotations

from typing import Any

import pytest

from dashboard.session import Page, Pending, Ready, WhatIf
from dashboard.table.hear import moved
from dashboard.table.undo import MOST_STEPS, redone, remembered, undone
from tests.dashboard.client import Client, words_in
from tests.dashboard.double import SampleSource


def back(answer: dict[str, Any]) -> str:
    return words_in(answer["back"]["children"])


def test_each_kind_of_change_can_be_taken_back_by_name(client: Client) -> None:
    start = client.answer()
    assert back(start) == ""
    client.values["switches"]["doors_shut"] = False
    assert back(client.answer()) == "Undo doors open at night"
    client.values["stops"]["quiet"] = 2
    assert back(client.answer()) == "Undo quiet at night, a little"
    assert back(client.tap("set:heating:68")) == "Undo heat to 68\u00a0°F"
    assert back(client.tap("set:rate:30")) == "Undo electricity at 30¢"
    assert back(client.tap("show:one")).startswith("Undo one wall unit on the plan")
    assert back(client.tap("beside:each")).startswith("Undo four wall units compared")
    names = [back(client.tap("undo:now")) for _ in range(6)]
    assert names[-1].startswith("Redo doors open at night")
    assert words_in(client.answer()["cards"]["children"]) == words_in(start["cards"]["children"])
    again = [back(client.tap("redo:now")) for _ in range(6)]
    assert again[-1].startswith("Undo four wall units compared")
    assert "Redo" not in again[-1]


def test_controls_are_told_what_was_taken_back(client: Client) -> None:
    client.answer()
    client.values["switches"]["doors_shut"] = False
    client.answer()
    put = client.tap("undo:now")["screen"]["put"]
    assert put["switches"] == {"doors_shut": True}
    assert put["stops"] == {}
    client.values["switches"]["doors_shut"] = True  # the browser follows; that is no change of its own
    after = client.answer()
    assert back(after) == "Redo doors open at night"
    assert "screen" not in after


def test_a_lagging_control_changes_only_what_it_was_moved_to(client: Client) -> None:
    client.answer()
    client.values["stops"]["quiet"] = 1
    client.answer()
    client.tap("undo:now")
    client.values["stops"]["lower_price"] = 5  # "quiet" still stands at 1 in this browser
    assert back(client.answer()) == "Undo lower price, most of all"
    assert back(client.tap("undo:now")) == "Redo lower price, most of all"


def test_a_new_change_forgets_what_was_taken_back(client: Client) -> None:
    client.answer()
    client.tap("set:cooling:77")
    client.tap("undo:now")
    assert "Redo" not in back(client.tap("set:cooling:78"))


def test_the_stack_is_bounded_and_undo_and_redo_are_inverse(source: SampleSource) -> None:
    assert isinstance(source.now, Ready)
    page = Page(source.now.question)
    for step in range(3 * MOST_STEPS):
        page = remembered(page, f"step {step}")
        page = Page(**{**{name: getattr(page, name) for name in Page.__slots__}, "shown": str(step)})
    assert len(page.past) == MOST_STEPS
    assert redone(undone(page)) == page
    once = undone(page)
    assert once.shown == str(3 * MOST_STEPS - 2)


def test_only_what_the_controls_changed_is_taken_from_them(source: SampleSource) -> None:
    assert isinstance(source.now, Ready)
    start = source.now.question
    page = Page(start.with_stop("quiet", 1), controls=start)
    asked = start.flipped(WhatIf.DOORS_SHUT)
    wanted = moved(page, asked)
    assert dict(wanted.stops)["quiet"] == 1
    assert wanted.on == asked.on


def test_a_long_answer_is_told_can_be_stopped_and_puts_the_controls_back(client: Client, source: SampleSource) -> None:
    before = client.answer()
    source.slow = Pending(3, 24, 4.0)
    client.values["switches"]["doors_shut"] = False
    waiting = client.answer()
    told = words_in(waiting["work"]["children"])
    assert "Trying it: doors open at night." in told
    assert "3 of 24 done. About 4 seconds left." in told
    assert waiting["wait"]["disabled"] is False
    assert waiting["cards"] == before["cards"]
    stopped = client.tap("stop:now")
    assert stopped["work"]["children"] == []
    assert stopped["wait"]["disabled"] is True
    assert stopped["screen"]["put"]["switches"] == {"doors_shut": True}
    assert len(source.left) == 1
    assert back(stopped) == ""


def test_a_long_answer_arrives_when_asked_for_again(client: Client, source: SampleSource) -> None:
    client.answer()
    source.slow = Pending(3, 24, None)
    client.values["switches"]["doors_shut"] = False
    client.answer()
    source.slow = None
    client.values["wait"] = 1
    after = client.answer()
    assert after["wait"]["disabled"] is True
    assert back(after) == "Undo doors open at night"
    assert "doors stand open" in words_in(after["head"]["children"])


def test_undo_calls_off_a_change_under_way(client: Client, source: SampleSource) -> None:
    client.answer()
    client.tap("set:rate:20")
    source.slow = Pending(1, 24, None)
    client.values["switches"]["doors_shut"] = False
    client.answer()
    after = client.tap("undo:now")
    assert after["wait"]["disabled"] is True
    assert back(after) == "Undo electricity at 20¢"
    assert after["screen"]["put"]["switches"] == {"doors_shut": True}


def test_an_undo_that_takes_long_keeps_its_direction(client: Client, source: SampleSource) -> None:
    client.answer()
    client.values["switches"]["doors_shut"] = False
    client.answer()
    source.slow = Pending(1, 24, None)
    client.tap("undo:now")
    source.slow = None
    assert back(client.answer()) == "Redo doors open at night"


@pytest.mark.parametrize(
    "what",
    [
        "set:heating:900", "set:heating:nan", "set:heating:inf", "set:rate:x", "set:heating:", "set:nothing:70", "set",
        "beside:nobody", "beside:", "panel:other", "undo:later", "redo:", "stop:then", "numbers:all", "show:",
        "set:cooling:70.5", "look:grey",
    ],
)  # fmt: skip
def test_taps_that_no_page_has_are_refused(client: Client, what: str) -> None:
    client.answer()
    client.values["taps"] = {"what": what, "number": 1}
    assert client.post(client.body()).status_code == 400
    client.values["taps"] = None
    assert back(client.answer()) == ""


def test_a_failure_is_told_and_the_page_stays(
    client: Client, source: SampleSource, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = client.answer()

    def fails(*_asked: object) -> None:
        raise RuntimeError("inside")

    monkeypatch.setattr(source, "ask", fails)
    client.values["stops"]["quiet"] = 1
    after = client.answer()
    told = words_in(after["head"]["children"])
    assert "could not be worked out. Nothing was changed." in told
    assert "inside" not in str(after)
    assert after["cards"] == before["cards"]
    assert after["screen"]["put"]["stops"] == {"quiet": 4}
    assert back(after) == ""
