"""Fatal and amber findings at their limits."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from compare.house.plan import Use
from compare.scoring.evidence import Fault, Source
from compare.scoring.judgements import rulebook
from compare.scoring.scores import score_option
from compare.scoring.season import season
from tests.scoring.builders import WORK, calendar, evidence, room, unit

YEAR = season(calendar(), rulebook().numbers)


def codes(option) -> dict[str, bool]:
    return {fault.code: fault.fatal for fault in option.faults}


def with_bedroom(**other):
    return score_option(evidence(rooms=(room("Living", Use.LIVING), room("Bedroom 1", **other))), YEAR)


@pytest.mark.parametrize(
    ("air_f", "expected"),
    [(57.9, {"cold_bedroom": True}), (58.1, {"cool_bedroom": False}), (61.9, {"cool_bedroom": False}), (62.1, {})],
)
def test_cold_bedroom_limits(air_f: float, expected: dict[str, bool]) -> None:
    found = with_bedroom(air_f=air_f)
    assert codes(found) == expected
    assert found.rejected is any(expected.values())


def test_the_finding_carries_its_number_and_room() -> None:
    (fault,) = with_bedroom(air_f=51.3).fatal
    assert fault.text.startswith("On the coldest mornings Bedroom 1 is at 51.3 °F. ")
    assert fault.text.endswith("under 58 °F at night is too cold to offer.")
    assert fault.room == 1
    assert fault.value * 1.8 + 32 == pytest.approx(51.3)
    assert fault.limit * 1.8 + 32 == pytest.approx(58.0)


def test_only_the_coldest_night_hours_are_fatal() -> None:
    living, bedroom = room("Living", Use.LIVING), room("Bedroom 1")
    mild = bedroom.air_c.copy()
    warmest = YEAR.outdoor_c > 5.0
    mild[warmest] = 10.0  # cold room in mild weather: comfort, not fatal
    found = score_option(evidence(rooms=(living, replace(bedroom, air_c=mild))), YEAR)
    assert not found.rejected
    assert found.scores[3] < 60.0


def test_guest_rooms_and_studies_are_outside_the_fatal_rule() -> None:
    assert not with_bedroom(air_f=45.0, regular=False).rejected
    found = score_option(evidence(rooms=(room("Living", Use.LIVING), room("Study", Use.WORK, air_f=45.0))), YEAR)
    assert not found.rejected


@pytest.mark.parametrize(
    ("source", "day", "night", "expected"),
    [
        (Source.BORROWED, False, False, {"no_source": True}),
        (Source.NOTHING, False, False, {"no_source": True}),
        (Source.BORROWED, True, False, {"relies_on_door": False}),
        (Source.NOTHING, False, True, {"relies_on_door": False}),
        (Source.HEATER, False, False, {}),
        (Source.OLD_HEAT, False, False, {}),
    ],
)
def test_bedroom_without_its_own_source(source: Source, day: bool, night: bool, expected: dict[str, bool]) -> None:
    assert codes(with_bedroom(source=source, open_by_day=day, open_by_night=night)) == expected


@pytest.mark.parametrize(
    ("change", "code"),
    [
        ({"heat_cover_frac": 0.949}, "heat_short"),
        ({"bed_draught_frac": 0.301}, "draught"),
        ({"level": 30.1}, "loud_bed"),
    ],
)
def test_amber_limits(change: dict[str, float], code: str) -> None:
    assert codes(with_bedroom(**change)) == {code: False}
    inside = {"heat_cover_frac": 0.951, "bed_draught_frac": 0.299, "level": 29.9}
    assert codes(with_bedroom(**{key: inside[key] for key in change})) == {}


def test_a_compressor_above_six_starts_an_hour() -> None:
    # 9,000 Btu/h minimum over one 132 ft2 bedroom, half load: N = 11.4 an hour before the cap
    busy = unit(load_w=1319.0, min_w=2638.0, heat_capacity_j_k=132 * 1899.1)
    found = score_option(evidence(compressors=(busy,)), YEAR)
    (fault,) = found.amber
    assert fault.code == "short_cycling"
    assert fault.value == pytest.approx(11.36, abs=0.02)
    assert fault.text == "Outdoor unit 1 would make up to 11.4 starts an hour; more than 6 is short cycling."


def test_findings_of_the_evidence_stay_and_reject() -> None:
    given = Fault(fatal=True, code="no_drain", text="No way for the water to fall from the hall unit.")
    found = score_option(evidence(faults=(given,)), YEAR)
    assert found.rejected
    assert found.fatal == (given,)
    assert all(math.isfinite(score) for score in found.scores)


def test_one_line_for_many_rooms_worst_first() -> None:
    rooms = tuple(room(f"Bedroom {k}", air_f=50.0 - k) for k in range(1, 6))
    found = score_option(evidence(rooms=rooms), YEAR)
    (fault,) = found.fatal
    assert fault.room == 4
    assert fault.text.startswith("On the coldest mornings Bedroom 5 is at 45.0 °F.")
    assert fault.text.endswith("The same holds for Bedroom 4, Bedroom 3 and 2 more rooms.")


def test_day_sleeper_is_judged_by_day() -> None:
    hour_is_work = [k % 24 in WORK for k in range(8760)]
    found = room("Bedroom 1", use_hours=WORK)
    air = found.air_c.copy()
    air[[k for k, day in enumerate(hour_is_work) if not day]] = 5.0
    assert not score_option(evidence(rooms=(replace(found, air_c=air),)), YEAR).rejected
