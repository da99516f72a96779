"""What a surveyor does, in any order: nothing raises but a plain refusal, and what is valid reads back equal.

Oracles: the standard library's TOML reader, the program's own reading of tables in memory (`house_of`) beside its
reading of the text, and shapely for lengths of outside wall.
"""

from __future__ import annotations

import math
import tomllib
from pathlib import Path
from typing import Any

import pytest
import shapely
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from compare.house.geometry import plan_of
from compare.house.plan import Boundary, SurfaceKind
from compare.house.problems import HouseFileError
from compare.house.reading import house_of, read_house, read_house_text
from compare.units import System
from dashboard.survey.acts import act
from dashboard.survey.begin import blank, house_types, of_type, zip_edits
from dashboard.survey.card import card
from dashboard.survey.draft.edits import EditError, changed
from dashboard.survey.draft.history import Draft, draft_of
from dashboard.survey.draft.rooms import add_room, delete_room, move_room, push_wall, resize, split_room
from dashboard.survey.draft.shape import shapes_of, shared, stretches_of
from dashboard.survey.fields import Page
from dashboard.survey.heard import Event
from dashboard.survey.mend import judged
from dashboard.survey.plan import Shown, plan_svg
from dashboard.survey.sections import sections
from dashboard.survey.told import missing

ALL = ("accessory_unit", "cabin", "colonial", "day_wing", "flat_roof_ranch", "ranch", "tight_new", "vaulted_four")


def tables(scenarios: Path, name: str) -> dict[str, Any]:
    return tomllib.loads((scenarios / f"{name}.toml").read_text())


@pytest.mark.parametrize("name", ALL)
def test_outside_walls_measure_as_the_outline_of_all_rooms(scenarios: Path, name: str) -> None:
    # shapely: the length of the outline of the union of a level's rooms, less what a tall room beside it covers
    shapes = shapes_of(tables(scenarios, name))
    for level in {shape.level for shape in shapes}:
        here = [shape for shape in shapes if shape.level == level]
        tall = [shapely.Polygon(shape.corners) for shape in shapes if level in shape.stands]
        union = shapely.union_all([shapely.Polygon(shape.corners) for shape in here])
        outline = union.boundary.difference(shapely.union_all(tall)) if tall else union.boundary
        own = sum(w.length_u for shape in here for w in stretches_of(shape, shapes, System.US) if not w.other)
        assert own == pytest.approx(outline.length, abs=1e-6)


@pytest.mark.parametrize("name", ALL)
def test_sides_agree_with_the_plan_of_the_program(scenarios: Path, name: str) -> None:
    raw = tables(scenarios, name)
    shapes = shapes_of(raw)
    plan = plan_of(read_house(scenarios / f"{name}.toml"))
    bearing = {"N": 0.0, "E": 90.0, "S": 180.0, "W": 270.0}
    for room in plan.rooms:
        shape = next(one for one in shapes if one.name == room.name)
        walls = {
            s.azimuth_deg
            for s in room.surfaces
            if s.kind in {SurfaceKind.WALL, SurfaceKind.WINDOW, SurfaceKind.DOOR} and s.boundary is not Boundary.ATTIC
        }
        own = {bearing[w.edge.side] for w in stretches_of(shape, shapes, System.US) if not w.other}
        assert own <= walls
        assert shape.area_u2 * 0.09290304 == pytest.approx(room.area_m2)


def test_a_wall_between_two_rooms_takes_its_door_along(scenarios: Path) -> None:
    raw = tables(scenarios, "ranch")
    hall = next(k for k, room in enumerate(raw["room"]) if room["name"] == "Hall")
    new = changed(raw, push_wall(raw, hall, "N", 16.0, together=True).edits)
    doors = {tuple(d["between"]): d["at"] for d in new["door"] if "between" in d}
    assert doors["Hall", "Bedroom 1"] == [40, 16]
    assert doors["Hall", "Bedroom 2"] == [28, 11]
    rooms = {room["name"]: room for room in new["room"]}
    assert rooms["Bedroom 1"]["at"] == [34, 16]
    assert rooms["Bedroom 1"]["size"] == [12, 10]
    assert rooms["Hall"]["size"] == [24, 5]
    assert house_of(new)


def test_one_wall_alone_leaves_a_fault_that_is_told(scenarios: Path) -> None:
    raw = tables(scenarios, "ranch")
    text = draft_of((scenarios / "ranch.toml").read_bytes(), "x")
    after = text.after(push_wall(raw, 1, "N", 16.0, together=False).edits)
    told = judged(after.text, after.raw, "x").mends
    assert any("overlaps" in mend.words.lower() and mend.where in {"Bedroom 1", "Bath", "Laundry"} for mend in told)


def test_a_moved_room_takes_its_bed_and_its_door_along(scenarios: Path) -> None:
    raw = tables(scenarios, "ranch")
    position = next(k for k, room in enumerate(raw["room"]) if room["name"] == "Bedroom 3")
    new = changed(raw, move_room(raw, position, (2.2, 0.0)).edits)
    bed = next(bed for bed in new["bed"] if bed["room"] == "Bedroom 3")
    assert bed["at"] == [37, 5]
    door = next(door for door in new["door"] if door.get("between") == ["Hall", "Bedroom 3"])
    assert door["at"] == [42, 11]
    assert new["room"][position]["at"] == [36, 0]


@pytest.mark.parametrize("axis", [0, 1])
def test_split_and_rejoin_keeps_the_area_and_every_thing(scenarios: Path, axis: int) -> None:
    for name in ALL:
        raw = tables(scenarios, name)
        for shape in shapes_of(raw):
            if not shape.box or min(shape.bounds[2] - shape.bounds[0], shape.bounds[3] - shape.bounds[1]) < 4.0:
                continue
            new = changed(raw, split_room(raw, shape.position, axis).edits)
            parts = shapes_of(new)
            assert sum(p.area_u2 for p in parts) == pytest.approx(sum(s.area_u2 for s in shapes_of(raw)))
            for table in ("window", "door", "bed", "seat", "opening", "head_place"):
                assert len(new.get(table, [])) == len(raw.get(table, []))
            assert house_of({**new, "window": [], "door": [], "opening": [], "head_place": [], "wall": []})


def test_a_typed_size_is_exact_and_keeps_neighbours_together(scenarios: Path) -> None:
    raw = tables(scenarios, "ranch")
    bath = next(k for k, room in enumerate(raw["room"]) if room["name"] == "Bath")
    new = changed(raw, resize(raw, bath, 0, 7.23, together=True).edits)
    rooms = {room["name"]: room for room in new["room"]}
    assert rooms["Bath"]["size"] == [7.23, 11.5]
    assert rooms["Bedroom 1"]["at"] == [34.23, 14.5]
    assert rooms["Bedroom 1"]["size"] == [11.77, 11.5]
    assert shared(shapes_of(new), "Bath", "Bedroom 1", System.US)


def test_delete_says_what_goes_with_it(scenarios: Path) -> None:
    raw = tables(scenarios, "ranch")
    done = delete_room(raw, next(k for k, room in enumerate(raw["room"]) if room["name"] == "Bedroom 1"))
    assert done.note == (
        "Bedroom 1 is deleted, with 1 bed, 1 door, 1 place for a room unit and 2 windows. Undo brings it back."
    )


def test_names_are_guarded(scenarios: Path) -> None:
    raw = tables(scenarios, "ranch")
    for bad in ("", "  ", "x" * 41, "a\u202eb", "bath", "HALL"):
        with pytest.raises(EditError):
            act(raw, event("set", loc="room.0.name", value=bad), "ground", together=True, kind="")


def event(what: str, **parts: Any) -> Event:
    return Event(1, what, 0, parts)


# any order

COORDINATE = st.one_of(st.integers(-5, 55).map(float), st.floats(-60.0, 90.0, allow_nan=False))
POINT = st.tuples(COORDINATE, COORDINATE).map(list)
TABLES = (
    "room",
    "door",
    "window",
    "opening",
    "stair",
    "bed",
    "seat",
    "unit_space",
    "head_place",
    "outdoor_spot",
    "wall",
)
REF = st.tuples(st.sampled_from(TABLES), st.integers(0, 8)).map(lambda pair: f"{pair[0]}.{pair[1]}")
TYPED = st.sampled_from(
    [
        "",
        "12",
        "0",
        "-3",
        "12 ft 6 in",
        "3.8 m",
        "abc",
        "shut",
        "open",
        "0.5",
        "1e9",
        "Bedroom 1",
        "N",
        "true",
        "5, 5",
        "66 F",
        "nan",
    ]
)
LOCS = st.sampled_from(
    [
        "room.0.name",
        "room.1.size.0",
        "room.2.size.1",
        "room.1.at.0",
        "room.3.height",
        "room.2.use",
        "room.0.level",
        "window.0.width",
        "window.1.wall",
        "window.1.count",
        "door.3.night",
        "door.2.day",
        "door.0.room",
        "bed.0.sleepers",
        "bed.0.at.1",
        "house.built",
        "house.name",
        "site.zip",
        "comfort.heating",
        "priorities.quiet",
        "fabric.age",
        "fabric.wall_u",
        "air.class",
        "level.0.name",
        "level.0.below",
        "unit_space.0.clear.2",
        "existing_heat.fuel",
        "rates.electricity",
        "site.design.heating_99",
        "zip",
    ]
)
NAMES = st.sampled_from(["Hall", "Bath", "Bedroom 1", "Bedroom 2", "Open living", "Nobody", ""])
FORMS = st.one_of(
    st.fixed_dictionaries(
        {
            "form": st.just("room"),
            "values": st.fixed_dictionaries(
                {
                    "use": st.sampled_from(["bedroom", "hall"]),
                    "name": NAMES,
                    "wide": TYPED,
                    "deep": TYPED,
                    "side": st.sampled_from(["E", "N", "W", "S"]),
                    "beside": NAMES,
                }
            ),
        }
    ),
    st.fixed_dictionaries(
        {
            "form": st.just("joint"),
            "values": st.fixed_dictionaries(
                {"kind": st.sampled_from(["door", "opening"]), "one": NAMES, "other": NAMES}
            ),
        }
    ),
    st.fixed_dictionaries(
        {
            "form": st.just("hole"),
            "values": st.fixed_dictionaries(
                {
                    "kind": st.sampled_from(["door", "window"]),
                    "room": NAMES,
                    "side": st.sampled_from(["E", "N", "X"]),
                    "width": TYPED,
                    "height": TYPED,
                }
            ),
        }
    ),
    st.fixed_dictionaries({"form": st.just("level"), "values": st.fixed_dictionaries({"name": NAMES})}),
)
EVENTS = st.one_of(
    st.builds(
        lambda a, b, tool: event("draw", tool=tool, **{"from": a, "to": b}),
        POINT,
        POINT,
        st.sampled_from(["room", "space"]),
    ),
    st.builds(
        lambda at, tool: event("tap", tool=tool, at=at),
        POINT,
        st.sampled_from(["door", "opening", "window", "bed", "seat", "head", "outdoor"]),
    ),
    st.builds(lambda ref, at, by: event("move", ref=ref, at=at, by=by), REF, POINT, POINT),
    st.builds(
        lambda k, side, to: event("push", ref=f"room.{k}", side=side, to=to),
        st.integers(0, 8),
        st.sampled_from(["N", "E", "S", "W"]),
        COORDINATE,
    ),
    st.builds(lambda ref: event("remove", ref=ref), REF),
    st.builds(
        lambda k, axis: event("split", ref=f"room.{k}", axis=axis), st.integers(0, 8), st.sampled_from(["x", "y"])
    ),
    st.builds(lambda loc, value: event("set", loc=loc, value=value), LOCS, TYPED),
    st.builds(lambda form: event("add", **form), FORMS),
)
STARTS = st.sampled_from(["ranch", "colonial", "cabin", "blank", "type"])


def start(scenarios: Path, name: str) -> Draft:
    if name == "blank":
        return draft_of(blank("Empty", System.US).encode(), "x.toml")
    if name == "type":
        return draft_of(of_type(house_types()[2].key, "", System.US, "T").encode(), "x.toml")
    return draft_of((scenarios / f"{name}.toml").read_bytes(), "x.toml")


def stepped(draft: Draft, one: Event, *, together: bool) -> Draft:
    """As the page does it: refusals and things that are gone leave the draft as it is."""
    level = draft.raw["level"][0]["name"] if draft.raw.get("level") else "ground"
    try:
        done = act(
            draft.raw, one, level, together=together, kind="closet" if one.parts.get("tool") == "space" else "bedroom"
        )
        return draft.after(done.edits)
    except (EditError, KeyError, IndexError):
        return draft


@pytest.mark.slow
@settings(max_examples=40, deadline=None, suppress_health_check=list(HealthCheck))
@given(name=STARTS, steps=st.lists(EVENTS, min_size=1, max_size=8), together=st.booleans())
def test_any_order_of_steps_keeps_a_text_that_says_what_was_meant(
    scenarios: Path, name: str, steps: list[Event], together: bool
) -> None:
    draft = first = start(scenarios, name)
    for one in steps:
        after = stepped(draft, one, together=together)
        if after is not draft:
            assert after.undone().text == draft.text
        draft = after
    assert tomllib.loads(draft.text) == draft.raw
    assert [line for line in first.text.splitlines() if line.startswith("#")] == [
        line for line in draft.text.splitlines() if line.startswith("#")
    ]
    found = judged(draft.text, draft.raw, "x.toml")
    page = Page(draft.raw, found.mends)
    assert sections(page)
    for chosen in ("", "room.0", "window.0", "door.3", "unit_space.0"):
        card(page, chosen)
    level = draft.raw["level"][0]["name"] if draft.raw.get("level") else ""
    svg, _ = plan_svg(draft.raw, Shown(level if isinstance(level, str) else "", "room.0"))
    assert svg.startswith("<svg")
    missing(draft.raw)
    if found.mends:
        with pytest.raises(HouseFileError) as refused:
            plan_of(read_house_text(draft.text, "x.toml"))
        places = {problem.loc for problem in refused.value.problems}
        assert {loc for loc in places if loc[:1] != ("site",)} <= {mend.loc for mend in found.mends}
    else:
        house = read_house_text(draft.text, "x.toml")
        assert house.model_dump() == house_of(draft.raw, "x.toml").model_dump()
        assert plan_of(house) == found.plan


def test_types_are_whole_houses_in_either_unit_and_of_the_wished_size() -> None:
    for kind in house_types():
        for system, wish in ((System.US, kind.area_u2 * 1.25), (System.SI, kind.area_u2 * 0.09290304 * 1.1)):
            draft = draft_of(of_type(kind.key, f"{wish:.0f}", system, "Mine").encode(), "x.toml")
            draft = draft.after(zip_edits(draft.raw, "27401"))
            house = read_house_text(draft.text, "x.toml")
            plan = plan_of(house)
            area = sum(room.area_m2 for room in plan.rooms)
            unit = 1.0 if system is System.SI else 0.09290304
            assert math.isclose(area / unit, wish, rel_tol=0.06), (kind.key, system)
            assert house.units is system
            assert not [words.words for words in missing(draft.raw) if "no door" in words.words]


@pytest.mark.parametrize(("typed", "metres"), [("32", 0.8128), ("2.5", 0.762), ("30 in", 0.762), ("2 ft 8 in", 0.8128)])
def test_a_door_is_spoken_in_inches(scenarios: Path, typed: str, metres: float) -> None:
    # NIST SP 811: 1 in = 0.0254 m, 1 ft = 0.3048 m
    draft = start(scenarios, "ranch")
    done = act(draft.raw, event("set", loc="door.3.width", value=typed), "ground", together=True, kind="")
    house = read_house_text(draft.after(done.edits).text, "x.toml")
    assert house.doors[3].width_m == pytest.approx(metres, abs=1e-9)


def test_a_bill_is_written_with_dates(scenarios: Path) -> None:
    draft = start(scenarios, "ranch")
    values = {"fuel": "gas", "from": "2025-01-01", "to": "2025-02-01", "amount": "85.5"}
    done = act(draft.raw, event("add", form="bill", values=values), "ground", together=True, kind="")
    bill = read_house_text(draft.after(done.edits).text, "x.toml").bills[0]
    assert (bill.start.isoformat(), bill.end.isoformat(), bill.amount) == ("2025-01-01", "2025-02-01", 85.5)
    with pytest.raises(EditError):
        act(draft.raw, event("add", form="bill", values=values | {"to": ""}), "ground", together=True, kind="")


def test_a_house_from_nothing_by_typing_alone() -> None:
    draft = draft_of(blank("Cottage", System.US).encode(), "x.toml")
    draft = draft.after(zip_edits(draft.raw, "27401"))
    rooms = (
        {"use": "living", "name": "", "wide": "16", "deep": "14 ft 6 in", "side": "E", "beside": ""},
        {"use": "bedroom", "name": "", "wide": "12", "deep": "14.5", "side": "E", "beside": "Living room"},
        {"use": "bath", "name": "", "wide": "8", "deep": "8", "side": "N", "beside": "Bedroom 1"},
    )
    for values in rooms:
        draft = draft.after(
            act(draft.raw, event("add", form="room", values=values), "ground", together=True, kind="").edits
        )
    for one, other in (("Living room", "Bedroom 1"), ("Bedroom 1", "Bath")):
        values = {"kind": "door", "one": one, "other": other}
        draft = draft.after(
            act(draft.raw, event("add", form="joint", values=values), "ground", together=True, kind="").edits
        )
    plan = plan_of(read_house_text(draft.text, "x.toml"))
    assert [room.name for room in plan.rooms] == ["Living room", "Bedroom 1", "Bath"]
    assert len(plan.links) == 2
    assert add_room(draft.raw, "ground", "bedroom", (0.0, 20.0, 9.0, 30.0)).note == "Bedroom 2 is drawn."
