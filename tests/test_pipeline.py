"""The whole way from a house to a recommendation: invariances, odd houses, and the year against the oracle."""

from __future__ import annotations

import json
import random
from dataclasses import replace
from decimal import Decimal
from typing import Any

import numpy as np
import pytest
import tomlkit

from compare.equipment.catalogue import catalogue
from compare.offer import Sources
from compare.physics.network import Network, Supply
from compare.physics.year import WARMUP_H, simulate, step_matrices
from compare.pipeline import Comparison, compare_case, compare_house
from compare.prices.price_list import PriceList, load_price_list
from compare.scoring.weights import profiles
from tests.house.test_invariance import si_twin
from tests.houses import (
    Table,
    bed,
    compared,
    compared_text,
    door,
    house,
    option_of,
    prepared,
    room,
    scenario_text,
    space,
    studio,
    supplies_of,
    tables,
)
from tests.physics import oracle

# --- the same house told otherwise ----------------------------------------------------------------------------------


def told_otherwise(text: str, seed: int) -> tuple[str, dict[str, str]]:
    """The same house with other room names and its tables in another order, and old names by new ones."""
    draw = random.Random(seed)
    raw = tomlkit.parse(text).unwrap()
    names = [one["name"] for one in raw["room"]]
    numbers = draw.sample(range(len(names)), len(names))
    new = dict(zip(names, (f"Zq{k}" for k in numbers), strict=True))
    for table, rows in raw.items():
        for row in rows if isinstance(rows, list) else []:
            _rename(table, row, new)
    for key in ("room", "window", "door", "opening", "bed", "seat", "head_place", "unit_space", "outdoor_spot"):
        draw.shuffle(raw.get(key, []))
    return tomlkit.dumps(raw), {name: old for old, name in new.items()}


def _rename(table: str, row: Table, new: dict[str, str]) -> None:
    if table == "room":
        row["name"] = new[row["name"]]
    for key in ("room", "lower", "upper"):
        if key in row and row[key] in new:
            row[key] = new[row[key]]
    for key in ("between", "serves"):
        if key in row:
            row[key] = [new[one] for one in row[key]]


def shown(found: Comparison) -> dict[str, Any]:
    """All that is shown of a house and its options, without what only repeats lines of the file."""
    return json.loads(found.customer_view().model_dump_json(exclude={"assumptions": True, "plan": True}))


def numbers_of(value: Any, path: str = "") -> dict[str, float]:
    """Every number with its path."""
    if isinstance(value, dict):
        return {k: v for key, one in value.items() for k, v in numbers_of(one, f"{path}.{key}").items()}
    if isinstance(value, list):
        return {k: v for i, one in enumerate(value) for k, v in numbers_of(one, f"{path}[{i}]").items()}
    return {path: float(value)} if isinstance(value, int | float) and not isinstance(value, bool) else {}


def assert_same_numbers(one: dict[str, Any], other: dict[str, Any], rel: float) -> None:
    a, b = numbers_of(one), numbers_of(other)
    assert a.keys() == b.keys()
    assert len(a) > 1000
    off = {path: (a[path], b[path]) for path in a if a[path] != pytest.approx(b[path], rel=rel, abs=1e-9)}
    assert not off


@pytest.mark.parametrize("seed", [1, 2])
def test_other_names_and_order_change_no_shown_number(seed: int) -> None:
    text, names = told_otherwise(scenario_text("ranch"), seed)
    told = shown(compared_text(text))
    assert_same_numbers(shown(compared("ranch")), told, rel=1e-9)
    spoken = json.dumps(told)
    for new, old in names.items():
        spoken = spoken.replace(new, old)
    assert json.loads(spoken) == shown(compared("ranch"))


def test_the_si_twin_shows_the_same_numbers() -> None:
    """The ranch with every bare number turned into SI by exact factors (NIST SP 811)."""
    us, si = shown(compared("ranch")), shown(compared_text(si_twin(scenario_text("ranch"))))
    assert (us["house"]["units"], si["house"]["units"]) == ("US", "SI")
    assert_same_numbers(us, si, rel=1e-9)


def test_the_same_house_twice_gives_the_same_text() -> None:
    text = scenario_text("accessory_unit")
    again = compare_house(compared_text(text).case.house)
    assert again.customer_view().model_dump_json() == compared_text(text).customer_view().model_dump_json()


# --- prices ---------------------------------------------------------------------------------------------------------


def dearer(prices: PriceList, word: str, factor: str) -> PriceList:
    """A price list with every row whose item holds a word dearer."""
    rows = {
        item: replace(
            row,
            **{
                field: (getattr(row, field) * Decimal(factor)).quantize(Decimal("0.01"))
                for field in ("low_usd", "mid_usd", "high_usd")
            },
        )
        if word in item
        else row
        for item, row in prices.rows.items()
    }
    assert rows != prices.rows
    return PriceList(prices.name, rows)


@pytest.mark.parametrize("word", ["duct", "heater"])
def test_an_option_whose_price_rises_never_gains(word: str) -> None:
    before = compared("accessory_unit")
    after = compare_case(prepared("accessory_unit"), Sources(catalogue(), dearer(load_price_list(), word, "1.5")))
    risen = 0
    for profile in profiles():
        was = {item.option.option_id: item for item in before.rank(profile.weights).ranked}
        for item in after.rank(profile.weights).ranked:
            old = was[item.option.option_id]
            if item.option.price_usd > old.option.price_usd:
                risen += 1
                assert item.total <= old.total
            else:
                assert item.total == pytest.approx(old.total, abs=1e-9)
    assert risen


def test_all_prices_times_a_constant_keep_the_order() -> None:
    before = compared("accessory_unit")
    after = compare_case(prepared("accessory_unit"), Sources(catalogue(), dearer(load_price_list(), "", "2")))
    order = [[item.option.option_id for item in found.rank().ranked] for found in (before, after)]
    assert order[0] == order[1]


# --- the year of a real house against the oracle --------------------------------------------------------------------


@pytest.mark.parametrize("key", ["h0", "h0-d1.4.5.6@0"])
def test_a_month_of_the_ranch_equals_the_oracle(key: str) -> None:
    """Energy within 1e-4; every room's heat balance closes within 0.01 W in every hour (double precision)."""
    found = compared("ranch")
    network = first_days(found.case.network, 30)
    plan = [first_hours(supply, network.hours) for supply in supplies_of(found.case, option_of(found, key))]
    step = step_matrices(network)
    own = step.ca_dt + network.g0_w_k + step.c_e.sum(axis=1)
    scale = [1.0 / (1.0 + float(np.max(s.mix_w_k / own))) for s in plan]  # return air is taken from the hour before
    trace = simulate(network, [plan], step)[0]
    truth = oracle.run(network, plan, warmup=WARMUP_H, mix_scale=scale)
    assert np.max(np.abs(truth.residual_w)) <= 0.01
    assert np.max(np.abs(trace.room_c - truth.room_c)) < 0.02
    for sign in (1.0, -1.0):
        ours, theirs = (np.clip(sign * w.astype(float), 0, None).sum() for w in (trace.supply_w, truth.supply_w))
        assert ours == pytest.approx(theirs, rel=1e-4, abs=50.0)


def first_days(network: Network, days: int) -> Network:
    hours = 24 * days
    series = ("q20_w", "door_state", "leak_level", "outdoor_c")
    return replace(network, **{name: getattr(network, name)[:hours] for name in series})


def first_hours(supply: Supply, hours: int) -> Supply:
    series = ("heat_limit_w", "cool_limit_w", "heat_set_c", "cool_set_c")
    return replace(supply, **{name: getattr(supply, name)[:hours] for name in series})


# --- odd houses -----------------------------------------------------------------------------------------------------


def all_finite(found: Comparison) -> bool:
    """Views refuse what is not finite by themselves; temperatures are looked at here."""
    assert found.customer_view().plan.rooms
    return all(np.isfinite(found.hours(key).trace.room_c).all() for key in found.by_id)


def grid(count: int, wide: int = 10) -> Table:
    """Rooms of 3 m in rows: one living room and bedrooms behind doors."""
    corners = [(3.0 * (k % wide), 3.0 * (k // wide)) for k in range(count)]
    rooms = [room(f"R{k}", "bedroom" if k else "living", corner, (3.0, 3.0)) for k, corner in enumerate(corners)]
    doors = [door(f"R{k - 1 if k % wide else k - wide}", f"R{k}") for k in range(1, count)]
    return tables(rooms, door=doors)


ODD: dict[str, Table] = {
    "one room": studio(),
    "no door": tables([room("A", "living", (0, 0), (4, 4)), room("B", "bedroom", (4, 0), (3, 4))]),
    "no bedroom": tables(
        [room("A", "living", (0, 0), (4, 4)), room("B", "work", (4, 0), (3, 4))], door=[door("A", "B")]
    ),
    "no living room": tables(
        [room("A", "bedroom", (0, 0), (4, 4)), room("B", "bedroom", (4, 0), (3, 4))],
        door=[door("A", "B")],
        bed=[bed("A", (1, 1)), bed("B", (5, 1))],
    ),
    "a closet of one square metre": tables(
        [room("A", "living", (0, 0), (4, 4)), room("Closet", "storage", (4, 0), (1, 1))], door=[door("A", "Closet")]
    ),
    "a bedroom of three square metres": tables(
        [room("A", "living", (0, 0), (4, 4)), room("B", "bedroom", (4, 0), (1.5, 2))], door=[door("A", "B")]
    ),
    "nobody at home": studio() | {"house": {"name": "Empty", "built": 1990, "people": 0}},
    "all glass": studio()
    | {"window": [{"room": "Studio", "wall": side, "area": area} for side, area in (("S", 13), ("N", 13), ("E", 11))]},
    "no outdoor spot": studio() | {"outdoor_spot": []},
    "no breaker space": studio() | {"panel": {"service_amps": 100, "free_spaces": 0}},
    "only a place for ducts": studio() | {"unit_space": [space("attic", (1, 1), (4, 3))]},
    "a room without outside walls": grid(9, wide=3),
    "hardly any heat needed": studio()
    | {
        "site": studio()["site"] | {"latitude": 25.8, "longitude": -80.3, "weather": "miami",
                                    "design": {"heating_99": 19, "cooling_1": 33}},
        "fabric": {"wall_u": 0.1, "ceiling_u": 0.06, "window_u": 0.6},
    },
    "hardly any cooling needed": studio()
    | {
        "site": studio()["site"] | {"latitude": 61.2, "longitude": -150, "weather": "northway",
                                    "design": {"heating_99": -45, "cooling_1": 20}},
    },
    "too large for any unit": tables([room("Hall", "living", (0, 0), (33, 30), height=6)]),
}  # fmt: skip


@pytest.mark.parametrize("case", ODD)
def test_an_odd_house_ends_in_finite_numbers(case: str) -> None:
    found = compare_house(house(ODD[case]))
    ranking = found.rank()
    print(f"{case}: {len(found.options)} options, winner {ranking.winner and ranking.winner.option.option_id}")
    assert found.options
    assert all_finite(found)


def test_a_house_where_nobody_can_live_names_the_cure() -> None:
    with pytest.raises(ValueError, match="no room is habitable"):
        compare_house(house(tables([room("Store", "storage", (0, 0), (4, 4))])))


@pytest.mark.slow
def test_sixty_rooms_are_compared() -> None:
    """The largest house that is read."""
    found = compare_house(house(grid(60)))
    assert found.options
    assert all_finite(found)


def test_progress_is_told_from_beginning_to_end() -> None:
    told: list[tuple[str, int, int]] = []
    compare_house(house(studio()), progress=lambda what, done, of: told.append((what, done, of)))
    assert told[0][1] == 0
    assert all(0 <= done <= of for _, done, of in told)
    assert {what: (done, of) for what, done, of in told}["years"][0] == 1
