"""Live loads are those of the program, what is to mend is said in plain words, and a house costs few taps.

The seconds of the last tests are counts times the published operators of the keystroke-level model (Card, Moran and
Newell, Communications of the ACM 23(7), 1980), not a clock.
"""

from __future__ import annotations

import re
import time
import tomllib
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from compare.house.plan import SurfaceKind
from compare.house.reading import read_house
from compare.loads.case import load_case_of
from compare.loads.house_loads import design_loads
from compare.physics.fabric.spaces import ground_of_year
from compare.years.case import design_of, weather_of
from dashboard.survey.draft.edits import Insert, Remove, Set, Unset
from dashboard.survey.draft.history import Draft, draft_of
from dashboard.survey.live import Live, Loads, Unknown
from dashboard.survey.mend import judged
from tests.speed.survey_entry import adapted, from_nothing


def opened(scenarios: Path, name: str) -> Draft:
    return draft_of((scenarios / f"{name}.toml").read_bytes(), f"{name}.toml")


def live(loads: Loads, draft: Draft, folder: Path) -> Live:
    found = loads.of(judged(draft.text, draft.raw, "x.toml", folder), draft.text, folder)
    assert isinstance(found, Live)
    return found


@pytest.mark.parametrize("name", ["ranch", "cabin"])
def test_live_loads_are_the_program_s_own_before_and_after_an_edit(scenarios: Path, tmp_path: Path, name: str) -> None:
    loads, draft = Loads(wait_s=120.0), opened(scenarios, name)
    for step in range(2):
        if step:
            draft = draft.after([Set(("window", 0, "area"), 30), Set(("fabric", "wall_u"), 0.2)])
        (tmp_path / "x.toml").write_text(draft.text)
        house = read_house(tmp_path / "x.toml")
        found = live(loads, draft, scenarios)
        from compare.house.geometry import plan_of

        plan, place = plan_of(house), weather_of(house, scenarios)
        case = load_case_of(house, plan, design_of(house, place), ground_of_year(place.year.dry_bulb_c))
        wanted = design_loads(case)
        assert found.heat_w == pytest.approx(wanted.house.heat_w, rel=1e-9)
        assert found.cool_w == pytest.approx(wanted.house.cool_total_w, rel=1e-9)
        for own, room in zip(found.rooms, wanted.rooms, strict=True):
            assert own.name == room.name
            assert own.heat_w == pytest.approx(room.heat_w, rel=1e-9)
            assert own.cool_w == pytest.approx(room.cool_total_w, rel=1e-9)


def test_heating_is_there_while_cooling_is_worked_out(scenarios: Path) -> None:
    loads, draft = Loads(wait_s=0.0), opened(scenarios, "ranch")
    first = live(loads, draft, scenarios)
    assert first.heat_w > 0.0
    until = time.monotonic() + 120.0
    while live(loads, draft, scenarios).cool_w is None:
        assert time.monotonic() < until
        time.sleep(0.05)
    assert live(loads, draft, scenarios).heat_w == pytest.approx(first.heat_w, rel=1e-12)


def test_a_place_without_weather_is_told_in_words(scenarios: Path) -> None:
    draft = opened(scenarios, "ranch").after([Set(("site", "weather"), "nowhere.epw")])
    found = Loads(wait_s=0.0).of(judged(draft.text, draft.raw, "x.toml"), draft.text, scenarios)
    assert isinstance(found, Unknown)
    assert "nowhere.epw" in found.words
    assert "site." not in found.words


FAULTS: tuple[tuple[str, Any, str, str], ...] = (
    ("room 2 larger", Set(("room", 1, "size"), [24, 5]), "Bedroom 1", "overlaps room “Hall”"),
    ("no level", Set(("room", 0, "level"), "attic"), "Open living", "no level has this name"),
    ("window inside", Set(("window", 0, "wall"), "E"), "Window in Open living", "no outside wall on this side"),
    ("window huge", Set(("window", 0, "area"), 399), "Window in Open living", "larger than its wall"),
    ("text for a number", Set(("window", 0, "area"), "big"), "Window in Open living", "not a number"),
    ("door too wide", Set(("door", 2, "width"), 19), "Door Hall – Bedroom 1", "wider"),
    ("door far off", Set(("door", 2, "at"), [0, 0]), "Door Hall – Bedroom 1", "not on a wall"),
    ("habit", Set(("door", 2, "night"), "ajar"), "Door Hall – Bedroom 1", "open or shut"),
    ("bed outside", Set(("bed", 0, "at"), [0, 0]), "Bed in Bedroom 1", "lies outside"),
    ("year", Set(("house", "built"), 12), "The house", "between 1600 and 2100"),
    ("no year", Unset(("house", "built")), "The house", "still missing"),
    ("zip", Set(("site", "zip"), "123"), "The place", "five figures"),
    ("below", Unset(("level", 0, "below")), "Storey", "lies below"),
    (
        "apart",
        Insert("room", {"name": "Shed", "level": "ground", "use": "storage", "at": [90, 90], "size": [9, 9]}),
        "Shed",
        "apart",
    ),
    (
        "twice",
        Insert("room", {"name": "Bath", "level": "ground", "use": "bath", "at": [46, 0], "size": [9, 9]}),
        "Bath",
        "own",
    ),
    ("stair", Insert("stair", {"lower": "Hall", "upper": "Bath"}), "Stair Hall – Bath", "not on the level above"),
    ("cold", Set(("comfort", "cooling"), 68), "Temperatures", "above heating"),
    ("fan", Set(("air", "ventilation"), 60), "Air", "ventilation"),
    ("fuel", Unset(("existing_heat", "fuel")), "The old heat", "still missing"),
    (
        "bill",
        Insert("bill", {"from": date(2025, 2, 1), "to": date(2025, 1, 1), "fuel": "gas", "amount": 9}),
        "Bill 1",
        "before",
    ),
    ("leaky", Set(("air", "class"), "drafty"), "Air", "must be one of"),
)
NOTATION = re.compile(r'\w = |\[\[|\]\]|\w_\w|"\w+" = |\btrue\b|\bfalse\b|\bTOML\b|, use_|\bkey\b', re.IGNORECASE)


@pytest.mark.parametrize(("what", "edit", "where", "said"), FAULTS)
def test_a_fault_is_told_where_it_is_and_without_the_file_s_notation(
    scenarios: Path, what: str, edit: Any, where: str, said: str
) -> None:
    draft = opened(scenarios, "ranch").after([edit])
    mends = judged(draft.text, draft.raw, "x.toml", scenarios).mends
    assert mends, what
    assert any(mend.where.startswith(where) and said.lower() in mend.words.lower() for mend in mends), mends
    for mend in mends:
        assert not NOTATION.search(f"{mend.where} {mend.words}"), mend
        assert mend.words.endswith(".")


def test_a_house_without_a_place_asks_for_its_zip_code_once(scenarios: Path) -> None:
    draft = opened(scenarios, "ranch")
    draft = draft.after([Unset(("site", key)) for key in ("place", "latitude", "longitude")])
    mends = judged(draft.text, draft.raw, "x.toml").mends
    assert [mend.loc for mend in mends] == [("site", "zip")]
    assert "ZIP code" in mends[0].words


def test_every_fault_is_told_at_once(scenarios: Path) -> None:
    draft = opened(scenarios, "ranch").after(
        [
            Set(("window", 0, "area"), "big"),
            Set(("bed", 0, "at"), [0, 0]),
            Set(("house", "built"), 12),
            Remove("room", 4),
        ]
    )
    places = {mend.loc[0] for mend in judged(draft.text, draft.raw, "x.toml").mends}
    assert {"window", "house", "door"} <= places


def test_the_demo_ranch_from_nothing_in_under_twenty_minutes(tmp_path: Path, scenarios: Path) -> None:
    one, plan = from_nothing(tmp_path)
    meant = tomllib.loads((scenarios / "ranch.toml").read_text())
    sizes = {room["name"]: room["size"] for room in meant["room"]}
    typed = tomllib.loads((tmp_path / "ranch_typed.toml").read_text())
    assert {room["name"]: room["size"] for room in typed["room"]} == sizes
    glass = {name: sum(w["area"] for w in meant["window"] if w["room"] == name) for name in sizes}
    for room in plan.rooms:
        area = sum(s.area_m2 for s in room.surfaces if s.kind is SurfaceKind.WINDOW) / 0.09290304
        assert area == pytest.approx(glass[room.name], abs=0.01)
    pairs = {frozenset(d["between"]): d["night"] for d in meant["door"] if "between" in d}
    assert {frozenset(d["between"]): d["night"] for d in typed["door"] if "between" in d} == pairs
    assert one.seconds < 20 * 60


def test_a_type_adapted_in_under_five_minutes(tmp_path: Path) -> None:
    one, plan = adapted(tmp_path)
    assert len(plan.rooms) == 8
    assert one.seconds < 5 * 60
