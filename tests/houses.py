"""Houses for tests of whole layouts: small invented ones built from tables, and the scenarios, each compared once."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache, lru_cache
from pathlib import Path
from typing import Any

import tomlkit

from compare.equipment.catalogue import catalogue
from compare.house.geometry import plan_of
from compare.house.model import HouseFile
from compare.house.plan import Plan
from compare.house.reading import house_of, read_house_text
from compare.options.option import Option
from compare.physics.network import Supply
from compare.pipeline import Comparison, compare_house
from compare.scoring.evidence import Calendar, Evidence
from compare.scoring.judgements import rulebook
from compare.scoring.season import season
from compare.years.bench import Bench
from compare.years.case import HouseCase, prepare
from compare.years.gather import Shared, evidence_of
from compare.years.supplies import factory_of
from compare.zones.basis import DesignBasis

SCENARIOS = Path(__file__).resolve().parents[1] / "scenarios"

Table = dict[str, Any]


def scenario_text(name: str) -> str:
    """Text of a scenario."""
    return (SCENARIOS / f"{name}.toml").read_text(encoding="utf-8")


@lru_cache(maxsize=4)
def compared_text(text: str) -> Comparison:
    """The comparison of a house file's text, worked out once while few others are asked for (each is large)."""
    return compare_house(read_house_text(text, "test"), SCENARIOS)


def compared(name: str) -> Comparison:
    """The comparison of a scenario, worked out once."""
    return compared_text(scenario_text(name))


@cache
def prepared(name: str) -> HouseCase:
    """A scenario made ready, without any layout."""
    return prepare(read_house_text(scenario_text(name), name), SCENARIOS)


def changed(text: str, *swaps: tuple[str, str]) -> str:
    """A text with pieces replaced; each piece must be there exactly once."""
    for old, new in swaps:
        assert text.count(old) == 1, f"{old!r} stands {text.count(old)} times"
        text = text.replace(old, new)
    return text


def door_at(text: str, between: tuple[str, str], *, day: str, night: str) -> str:
    """A house file's text with one inside door kept as said, each `open` or `shut`."""
    raw = tomlkit.parse(text)
    for door in raw["door"]:
        if list(door.get("between", ())) == list(between):
            door["day"], door["night"] = day, night
            return tomlkit.dumps(raw)
    raise AssertionError(f"no door between {between}")


def basis_of(case: HouseCase, load_factor: float = 1.0, **more: Any) -> DesignBasis:
    """What the zones of a house are designed on, all design loads times a factor."""
    return DesignBasis(
        plan=case.plan,
        heat_load_w=load_factor * case.heat_load_w,
        cool_load_w=load_factor * case.cool_load_w,
        heat_outdoor_c=case.design.heating_99_c,
        cool_outdoor_c=case.design.cooling_1_c,
        units=catalogue(),
        **more,
    )


def option_of(found: Comparison, option_id: str) -> Option:
    """One option of a comparison."""
    return found.by_id[option_id].option


def evidence_at(found: Comparison, option_id: str) -> Evidence:
    """What scoring read of an option, gathered again from its hours; energy as if no bedroom were topped up."""
    base, run = found.kit.base, found.hours(option_id)
    shared = Shared(found.case, found.season, rulebook().numbers, found.need, base.reference_usd, dict(found.ears))
    return evidence_of(shared, run, run.run)


# Small houses from tables, in metres


def room(name: str, use: str, corner: tuple[float, float], size: tuple[float, float], **more: Any) -> Table:
    return {"name": name, "use": use, "level": "ground", "at": list(corner), "size": list(size), **more}


def door(one: str, other: str, day: float = 0.7, night: float = 0.0) -> Table:
    return {"between": [one, other], "day": day, "night": night}


def opening(one: str, other: str, width: float = 1.8) -> Table:
    return {"between": [one, other], "width": width, "height": 2.2}


def space(name: str, corner: tuple[float, float], size: tuple[float, float], **more: Any) -> Table:
    """A roomy place in the attic over the rooms of a level."""
    return {
        "name": name,
        "kind": "attic",
        "level": "ground",
        "at": list(corner),
        "size": list(size),
        "clear": ["5 m", "2 m", "1 m"],
        "inside": False,
        "drain_fall": "15 cm",
        **more,
    }


def bed(where: str, at: tuple[float, float], sleepers: float = 1) -> Table:
    return {"room": where, "at": list(at), "sleepers": sleepers}


def tables(rooms: Iterable[Table], **more: Any) -> Table:
    """Tables of a one-storey house near Richmond, Virginia; further tables replace those given here."""
    return {
        "units": "SI",
        "house": {"name": "Test house (invented)", "built": 1990, "people": 2},
        "site": {
            "place": "Near Richmond, VA",
            "latitude": 37.5,
            "longitude": -77.3,
            "elevation": 50,
            "weather": "richmond",
            "design": {"heating_99": -5.5, "cooling_1": 33, "cooling_wet_bulb": 24, "daily_range": 11},
        },
        "level": [{"name": "ground", "height": 2.5, "below": "slab on ground", "above": "vented attic"}],
        "room": list(rooms),
        "outdoor_spot": [{"name": f"spot {k}", "at": [-1 - k, -2], "side": "S", "property_line": 4} for k in range(4)],
        "panel": {"service_amps": 200, "free_spaces": 20},
        **more,
    }


def house(raw: Table) -> HouseFile:
    return house_of(raw, "test")


def plan(raw: Table) -> Plan:
    return plan_of(house(raw))


def studio() -> Table:
    """One room, nothing else."""
    return tables([room("Studio", "living", (0, 0), (6, 5))])


def flat(**more: Any) -> Table:
    """A living room and one bedroom behind a door."""
    rooms = [room("Living", "living", (0, 0), (6, 5)), room("Bedroom", "bedroom", (6, 0), (4, 5))]
    return tables(rooms, **{"door": [door("Living", "Bedroom")], "bed": [bed("Bedroom", (8, 2), 2)], **more})


def chain(**more: Any) -> Table:
    """Living, dining and kitchen in a row, open to each other; two shut bedrooms beside them."""
    rooms = [
        room("Living", "living", (0, 0), (6, 5)),
        room("Dining", "dining", (6, 0), (4, 5)),
        room("Kitchen", "kitchen", (10, 0), (4, 5)),
        room("Bed A", "bedroom", (0, 5), (5, 4)),
        room("Bed B", "bedroom", (5, 5), (5, 4)),
    ]
    links = {
        "opening": [opening("Living", "Dining"), opening("Dining", "Kitchen")],
        "door": [door("Living", "Bed A"), door("Dining", "Bed B")],
        "bed": [bed("Bed A", (1, 7), 2), bed("Bed B", (6, 7))],
    }
    return tables(rooms, **links | more)


def two_storeys(**more: Any) -> Table:
    """Living room and stair hall below; a landing with two bedrooms and a bath above."""
    rooms = [
        room("Living", "living", (0, 0), (6, 8)),
        room("Stair hall", "hall", (6, 0), (3, 8)),
        room("Landing", "hall", (6, 0), (3, 8), level="upper"),
        room("Bed A", "bedroom", (0, 0), (6, 4), level="upper"),
        room("Bed B", "bedroom", (0, 4), (4, 4), level="upper"),
        room("Bath", "bath", (4, 4), (2, 4), level="upper"),
    ]
    levels = [
        {"name": "ground", "height": 2.5, "below": "slab on ground"},
        {"name": "upper", "height": 2.4, "above": "vented attic"},
    ]
    links = {
        "level": levels,
        "door": [
            door("Living", "Stair hall", 1.0, 1.0),
            door("Landing", "Bed A"),
            door("Bath", "Bed B"),
            door("Landing", "Bath", 1.0, 1.0),
        ],
        "stair": [{"lower": "Stair hall", "upper": "Landing", "width": 0.9, "height": 2.2}],
        "bed": [bed("Bed A", (1, 1), 2), bed("Bed B", (1, 6))],
    }
    return tables(rooms, **links | more)


def bench_of(case: HouseCase) -> Bench:
    """The bench on which a house's options are run."""
    numbers = rulebook().numbers
    return Bench(case, factory_of(case), season(Calendar(case.weather.dry_bulb_c), numbers), numbers)


def supplies_of(case: HouseCase, option: Option) -> tuple[Supply, ...]:
    """What an option's year is run with."""
    return bench_of(case)._factory.of_option(option)
