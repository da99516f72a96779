"""Names, the order of the file, the way an outline is drawn and the unit system change no number."""

from __future__ import annotations

import random
from pathlib import Path
from typing import Any

import pytest
import tomlkit
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from compare.house.geometry import plan_of
from compare.house.plan import Plan
from compare.house.reading import house_of, read_house_text
from compare.house.tables import fields
from compare.units import Kind
from tests.house.houses import RANCH, TWO_STOREYS, anonymous, leaves, tables

LISTS = (
    "room", "window", "door", "opening", "stair", "bed", "seat", "unit_space", "head_place", "outdoor_spot", "wall",
)  # fmt: skip
NAME_KEYS = ("room", "between", "lower", "upper", "serves")


def renamed(raw: dict[str, Any], names: dict[str, str]) -> dict[str, Any]:
    """Raw tables with every room under another name."""
    for table in raw.values():
        for item in table if isinstance(table, list) else ():
            for key in NAME_KEYS:
                if isinstance(item.get(key), str):
                    item[key] = names[item[key]]
                elif isinstance(item.get(key), list):
                    item[key] = [names[name] for name in item[key]]
    for room in raw["room"]:
        room["name"] = names[room["name"]]
    return raw


@pytest.mark.parametrize("text", [RANCH, TWO_STOREYS], ids=["ranch", "two storeys"])
@given(seed=st.integers(0, 2**32))
@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_order_and_names_change_nothing(text: str, seed: int) -> None:
    raw, shuffle = tables(text), random.Random(seed)
    for key in LISTS:
        if key in raw:
            shuffle.shuffle(raw[key])
    for key in ("door", "opening"):
        for item in raw[key]:
            if "between" in item:
                shuffle.shuffle(item["between"])
    fresh = [f"room {number}" for number in range(len(raw["room"]))]
    shuffle.shuffle(fresh)
    raw = renamed(raw, {room["name"]: name for room, name in zip(raw["room"], fresh, strict=True)})
    assert anonymous(plan_of(house_of(raw))) == anonymous(plan_of(read_house_text(text, "t")))


@given(start=st.integers(0, 5), backwards=st.booleans(), halves=st.booleans())
@settings(max_examples=24, deadline=None)
def test_the_way_an_outline_is_drawn_changes_nothing(start: int, backwards: bool, halves: bool) -> None:
    raw = tables(TWO_STOREYS)
    corners = raw["room"][2]["outline"]
    corners = corners[start:] + corners[:start]
    if halves:
        pairs = zip(corners, corners[1:] + corners[:1], strict=True)
        corners = [p for a, b in pairs for p in (a, [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2])]
    closed = [*corners, corners[-1], corners[0]]  # a corner twice, and back to the first
    raw["room"][2]["outline"] = closed[::-1] if backwards else closed
    assert plan_of(house_of(raw)) == plan_of(read_house_text(TWO_STOREYS, "t"))


def test_a_rectangle_and_its_outline_are_one_room() -> None:
    raw = tables(TWO_STOREYS)
    for room in raw["room"]:
        if "at" in room:
            (x, y), (w, d) = room.pop("at"), room.pop("size")
            room["outline"] = [[x, y], [x + w, y], [x + w, y + d], [x, y + d]]
    assert plan_of(house_of(raw)) == plan_of(read_house_text(TWO_STOREYS, "t"))


# Exact factors: NIST SP 811 (2008). The Btu is the international table Btu.
FOOT, INCH = 0.3048, 0.0254
BTU_H = 1055.05585262 / 3600.0
U_VALUE, EDGE = BTU_H / FOOT**2 * 1.8, BTU_H / FOOT * 1.8
FACTOR = {
    Kind.LENGTH: FOOT,
    Kind.SMALL_LENGTH: INCH * 1000.0,
    Kind.AREA: FOOT**2,
    Kind.DIFFERENCE: 1.0 / 1.8,
    Kind.U_VALUE: U_VALUE,
    Kind.EDGE_LOSS: EDGE,
    Kind.FLOW: FOOT**3 / 60.0 * 1000.0,
}


def _kind(table: str, key: str) -> Kind:
    """What a bare number at a key means; points and sizes of rooms are lengths."""
    if key in {"at", "size", "outline"}:
        return Kind.LENGTH
    spec = fields().get(f"{table}.{key}")
    return spec.kind if spec else Kind.NUMBER


def _si(table: str, key: str, value: Any) -> Any:
    if isinstance(value, list):
        return [_si(table, key, part) for part in value]
    if isinstance(value, bool) or not isinstance(value, int | float):
        return value
    kind = _kind(table, key)
    if kind is Kind.TEMPERATURE:
        return (value - 32.0) / 1.8
    return value * FACTOR[kind] if kind in FACTOR else value


def si_twin(text: str) -> str:
    """The SI file of a US file, bare numbers converted here by exact factors; texts with a unit stay."""
    raw = tables(text)
    raw["units"] = "SI"
    tables_of = [
        (name, [value] if isinstance(value, dict) else value) for name, value in raw.items() if name != "units"
    ]
    tables_of.append(("design", [raw["site"]["design"]]))
    for name, items in tables_of:
        for item in items:
            for key in item:
                if not isinstance(item[key], dict):
                    item[key] = _si(name, key, item[key])
    return tomlkit.dumps(raw)


def numbers(plan_or_house: object) -> list[float]:
    return [leaf for leaf in leaves(plan_or_house) if isinstance(leaf, int | float) and not isinstance(leaf, bool)]


@pytest.mark.parametrize("name", ["in full", "scenario"])
def test_the_si_twin_of_the_ranch_is_the_ranch(name: str, scenarios: Path) -> None:
    text = RANCH if name == "in full" else (scenarios / "ranch.toml").read_text(encoding="utf-8")
    us, si = read_house_text(text, "us"), read_house_text(si_twin(text), "si")
    one, other = plan_of(us), plan_of(si)
    assert len(numbers(one)) > 500
    assert numbers(other) == pytest.approx(numbers(one), rel=1e-9, abs=1e-9)
    texts = [[leaf for leaf in leaves(plan) if isinstance(leaf, str)] for plan in (one, other)]
    assert texts[0] == texts[1]
    ours, theirs = us.model_dump(exclude={"units"}), si.model_dump(exclude={"units"})
    for table in ("site", "fabric", "air", "comfort", "rates"):
        for key, value in ours[table].items():
            if isinstance(value, float):
                assert theirs[table][key] == pytest.approx(value, rel=1e-9, abs=1e-9), (table, key)


def test_the_same_text_gives_the_same_plan() -> None:
    plans: list[Plan] = [plan_of(read_house_text(RANCH, "r")) for _ in range(2)]
    assert plans[0] == plans[1]


def _faces(plan: Plan, turn: float = 1.0) -> list[tuple[str, str, float, float]]:
    """Every surface, its bearing mirrored when `turn` is -1."""
    return sorted(
        (s.kind.value, s.boundary.value, round(turn * s.azimuth_deg, 6) % 360.0, round(s.area_m2, 9))
        for room in plan.rooms
        for s in room.surfaces
    )


MIRRORED_SIDE = {"E": "W", "W": "E"}


def test_a_mirrored_house_has_mirrored_walls() -> None:
    raw = tables(TWO_STOREYS)
    for room in raw["room"]:
        if "at" in room:
            room["at"] = [-room["at"][0] - room["size"][0], room["at"][1]]
        else:
            room["outline"] = [[-x, y] for x, y in room["outline"]]
    for item in [*raw["window"], *raw["door"]]:
        if "wall" in item:
            item["wall"] = MIRRORED_SIDE.get(item["wall"], item["wall"])
    for bed in raw["bed"]:
        bed["at"][0] *= -1
    assert _faces(plan_of(house_of(raw)), -1.0) == _faces(plan_of(read_house_text(TWO_STOREYS, "t")))


@given(scale=st.floats(0.8, 1.25))
@settings(max_examples=20, deadline=None)
def test_areas_grow_with_the_square_of_the_scale(scale: float) -> None:
    raw = tables(RANCH)
    raw["window"], raw["door"], raw["opening"] = [], [], []
    for level in raw["level"]:
        level["height"] *= scale
    for key in ("room", "bed", "seat", "head_place", "unit_space", "outdoor_spot"):
        for item in raw[key]:
            for part in ("at", "size"):
                if part in item:
                    item[part] = [value * scale for value in item[part]]
    plain = tables(RANCH)
    plain["window"], plain["door"], plain["opening"] = [], [], []
    one, other = plan_of(house_of(plain)), plan_of(house_of(raw))
    for before, after in zip(one.rooms, other.rooms, strict=True):
        assert after.area_m2 == pytest.approx(before.area_m2 * scale**2, rel=1e-7)
        areas = [[s.area_m2 for s in room.surfaces] for room in (before, after)]
        assert areas[1] == pytest.approx([area * scale**2 for area in areas[0]], rel=1e-7)
    walls = [[part.area_m2 for part in plan.partitions] for plan in (one, other)]
    assert walls[1] == pytest.approx([area * scale**2 for area in walls[0]], rel=1e-7)
