"""Where the thermostat feels the air, and its own set point, in the year's run."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from compare.house.problems import HouseFileError
from compare.house.reading import read_house_text
from compare.options.option import Option
from compare.pipeline import Comparison
from compare.scoring.judgements import rulebook
from compare.years.bench import Bench
from compare.years.gather import OptionRun
from compare.years.supplies import factory_of
from tests.houses import compared, scenario_text

RANCH = scenario_text("ranch")


def bench_of(found: Comparison, text: str) -> Bench:
    """A bench for the ranch with the controls of a changed house file."""
    case = replace(found.case, house=read_house_text(text, "test"))
    return Bench(case, factory_of(case), found.season, rulebook().numbers)


def run(text: str, key: str) -> tuple[Comparison, Option, OptionRun]:
    found = compared("ranch")
    option = found.by_id[key].option
    return found, option, next(bench_of(found, RANCH + text).first_years([option])).run


def winter_mean_c(found: Comparison, made: OptionRun, room: str) -> float:
    names = [one.name for one in found.case.plan.rooms]
    cold = found.case.weather.dry_bulb_c < 2.0
    return float(made.trace.room_c[cold, names.index(room)].mean())


def mix(found: Comparison) -> str:
    return next(o.key for o in found.options if o.family.value == "mix" and not o.outdoor.groups[0].shared)


def control(room: str, **more: object) -> str:
    lines = [f"{key} = {value!r}".replace("'", '"') for key, value in {"room": room, **more}.items()]
    return "\n[[control]]\n" + "\n".join(lines) + "\n"


def bedrooms(found: Comparison) -> list[str]:
    option = found.by_id[mix(found)].option
    zone = next(zone for zone in option.zones if zone.ducts is not None)
    return [found.case.plan.rooms[room].name for room in zone.rooms]


def test_a_wall_control_holds_its_own_room_at_the_set_point() -> None:
    """What a thermostat does (definition): the room it hangs in is the one that stays at 70 F in the cold."""
    found = compared("ranch")
    errors = {}
    for room in bedrooms(found)[:3]:
        _, _, made = run(control(bedrooms(found)[0], sensor="wall control", sensor_room=room), mix(found))
        assert winter_mean_c(found, made, room) == pytest.approx(21.11, abs=0.25)
        errors[room] = winter_mean_c(found, made, room)
    _, _, plain = run("", mix(found))
    assert max(abs(winter_mean_c(found, plain, room) - 21.11) for room in errors) > 0.1


def test_a_sensor_in_a_warm_room_leaves_the_others_colder() -> None:
    """The room that is easiest to heat starves the rest (practice: place the control in the coldest regular room)."""
    found = compared("ranch")
    names = bedrooms(found)
    _, _, plain = run("", mix(found))
    by_warmth = sorted(names, key=lambda name: winter_mean_c(found, plain, name))
    cold, warm = by_warmth[0], by_warmth[-1]
    _, _, from_cold = run(control(names[0], sensor="wall control", sensor_room=cold), mix(found))
    _, _, from_warm = run(control(names[0], sensor="remote sensor", sensor_room=warm), mix(found))
    for name in names:
        assert winter_mean_c(found, from_warm, name) <= winter_mean_c(found, from_cold, name) + 0.02
    assert winter_mean_c(found, from_cold, cold) > winter_mean_c(found, from_warm, cold) + 0.1


def test_a_zone_keeps_its_own_set_point_and_the_energy_follows() -> None:
    found = compared("ranch")
    names = bedrooms(found)
    _, _, plain = run("", mix(found))
    _, _, cool_bedrooms = run(control(names[0], heating=66), mix(found))
    for name in names:
        drop = winter_mean_c(found, plain, name) - winter_mean_c(found, cool_bedrooms, name)
        assert 1.0 < drop < 2.6
    assert cool_bedrooms.run.electricity_kwh < plain.run.electricity_kwh


def test_a_control_of_an_unserved_room_changes_nothing() -> None:
    found = compared("ranch")
    single = next(o.key for o in found.options if o.family.value == "single_head")
    _, _, plain = run("", single)
    _, _, other = run(control(bedrooms(found)[0], heating=72), single)
    assert np.array_equal(plain.trace.room_c, other.trace.room_c)


@pytest.mark.parametrize(
    ("text", "message"),
    [
        (control("Nowhere"), "no room has this name"),
        (control("Living", sensor="thermometer"), "return air"),
        (control("Living", sensor_room="Kitchen"), "sensor_room needs sensor"),
        (control("Living", heating=75, cooling=75), "cooling must be at least 2"),
        (control("Living", heating=75), "cooling must be at least 2"),
        (control("Living", heating=20), "between"),
    ],
)
def test_faults_are_named(text: str, message: str) -> None:
    with pytest.raises(HouseFileError, match=message):
        read_house_text(RANCH + text.replace('"Living"', '"Open living"'), "test")
