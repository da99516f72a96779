"""A house file as a source of answers: read in the background, mended while the page waits, asked again and again."""

from __future__ import annotations

import shutil
import threading
import time
from pathlib import Path
from typing import Any

import pytest

from compare.house.model import HouseFile
from compare.house.reading import read_house
from compare.pipeline import compare_house
from compare.whatif import bedroom_doors_shut
from dashboard.house import House
from dashboard.session import Empty, Failed, Ready, WhatIf, Working
from dashboard.source import HouseSource
from dashboard.trials import MOST_COMPARISONS

SMALL_HOUSE = "accessory_unit.toml"


@pytest.fixture
def house_path(scenarios: Path, tmp_path: Path) -> Path:
    return Path(shutil.copy(scenarios / SMALL_HOUSE, tmp_path / "house.toml"))


def wait_for(source: HouseSource, kind: type, seconds: float = 60.0) -> Any:
    """The status once it is of a kind."""
    end = time.monotonic() + seconds
    while time.monotonic() < end:
        status = source.status()
        if isinstance(status, kind):
            return status
        time.sleep(0.02)
    raise AssertionError(f"still {source.status()}")


class Bench:
    """Compares for real, once; counts and can be held up."""

    def __init__(self) -> None:
        self.asked: list[HouseFile] = []
        self.go = threading.Event()
        self.go.set()

    def __call__(self, house: HouseFile, folder: Path, tell: Any) -> Any:
        self.asked.append(house)
        tell("years", 1, 4)
        assert self.go.wait(60.0)
        return compare_house(house, folder)


@pytest.fixture
def bench() -> Bench:
    return Bench()


@pytest.mark.slow
def test_a_house_is_compared_once_and_every_question_answered(house_path: Path, bench: Bench) -> None:
    source = HouseSource(house_path, bench)
    assert source.status() == Empty()
    bench.go.clear()
    source.open()
    working = wait_for(source, Working)
    assert working.total in {0, 4}
    bench.go.set()
    ready = wait_for(source, Ready)
    view = source.view(ready.question)
    assert view.house.name == read_house(house_path).house.name
    known = {option.id for option in view.options}
    assert {view.answer.winner, view.answer.runner_up, *view.answer.equals, *view.profile_winners.values()} <= known
    before = len(bench.asked)
    dear = source.view(ready.question.with_stop("lower_price", 5))
    assert dear.priorities["lower_price"] == 5
    assert {option.id: option.facts.price_usd for option in dear.options if option.id in known}.items() <= {
        option.id: option.facts.price_usd for option in view.options
    }.items() | {option.id: option.facts.price_usd for option in dear.options}.items()
    assert source.view(ready.question) is view
    assert len(bench.asked) - before <= len(ready.offers)  # only the switches, in the background


@pytest.mark.slow
def test_no_more_comparisons_are_kept_than_allowed(house_path: Path, bench: Bench) -> None:
    source = HouseSource(house_path, bench)
    source.open()
    ready = wait_for(source, Ready)
    physical = [offer.what for offer in ready.offers if offer.what is not WhatIf.COOL_BEDROOMS]
    for what in physical:
        source.view(ready.question.flipped(what))
    for one in physical:
        for other in physical:
            if one is not other:
                source.view(ready.question.flipped(one).flipped(other))
    assert source._trials is not None
    assert len(source._trials.whole) <= MOST_COMPARISONS


def test_a_faulty_file_is_told_with_its_lines_and_read_again_when_mended(house_path: Path) -> None:
    sound = house_path.read_text(encoding="utf-8")
    house_path.write_text(sound.replace('units = "US"', 'units = "UK"').replace('units = "SI"', 'units = "UK"'))
    never = threading.Event()

    def held(*_asked: object) -> Any:
        never.wait(60.0)
        raise ValueError("the test is over")

    source = HouseSource(house_path, held)
    source.open()
    failed = wait_for(source, Failed)
    assert failed.file == "house.toml"
    (fault,) = failed.faults
    assert '"UK"' in dict(fault.excerpt)[fault.line]
    assert fault.message
    house_path.write_text(sound, encoding="utf-8")
    wait_for(source, Working)
    never.set()
    wait_for(source, Failed)


def test_a_fault_of_the_program_is_told_without_its_inside(house_path: Path, caplog: pytest.LogCaptureFixture) -> None:
    def broken(*_asked: object) -> Any:
        raise RuntimeError("cost 4711")

    source = HouseSource(house_path, broken)
    source.open()
    failed = wait_for(source, Failed)
    assert "4711" not in str(failed)
    assert "4711" in caplog.text


def test_switches_are_those_that_mean_something_in_the_house(scenarios: Path) -> None:
    for path in sorted(scenarios.glob("*.toml")):
        house = House(read_house(path), scenarios, 0)
        offered = {offer.what for offer in house.offers}
        assert (WhatIf.DOORS_SHUT in offered) == (bedroom_doors_shut(house.file) is not None)
        assert house.question.on <= offered
        assert house.changed(house.question.on) == house.file
        if WhatIf.DOORS_SHUT in offered:
            turned = house.changed(house.question.flipped(WhatIf.DOORS_SHUT).on)
            assert bedroom_doors_shut(turned) is not bedroom_doors_shut(house.file)


def test_a_question_that_the_house_does_not_offer_is_refused(house_path: Path) -> None:
    source = HouseSource(house_path, lambda *_asked: pytest.fail("not asked for"))
    with pytest.raises(ValueError, match="no house"):
        source.view(House(read_house(house_path), house_path.parent, 0).question)
