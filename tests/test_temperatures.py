"""Room temperatures that one unit leaves behind, on whole houses: shut bedrooms, closed-off rooms, rooms under a roof.

No controlled series of closed-room temperatures was found in the open. Behind each case stands one home's report or one
trial calculation, named beside it; the bounds are our judgement of what a sound model shows and not a published result.
"""

from __future__ import annotations

import tomllib
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from compare.house.reading import house_of
from compare.pipeline import Comparison, compare_house
from compare.years.bench import Result
from compare.zones.sketch import Family

pytestmark = pytest.mark.slow

Raw = dict[str, Any]
CAPE = Path(__file__).parent / "cape.toml"
NIGHT_H = (22, 23, 0, 1)


def to_f(temp_c):
    return np.asarray(temp_c, dtype=np.float64) * 1.8 + 32.0


@dataclass(frozen=True)
class SingleHead:
    """A house with one wall head: its comparison, and the year of that option."""

    comparison: Comparison
    result: Result

    @property
    def names(self):
        return [room.name for room in self.comparison.case.plan.rooms]

    @property
    def room_f(self):
        return to_f(self.comparison.hours(self.result.option.key).trace.room_c)

    @property
    def outdoor_f(self):
        return to_f(self.comparison.case.weather.dry_bulb_c)

    @property
    def main(self):
        """Index of the room with the head."""
        return self.result.option.zones[0].rooms[0]

    def gap_at_six_f(self, low_f: float, high_f: float) -> dict[str, float]:
        """How far each room lies below the main room at 6 a.m., mean over mornings in a band of outdoor temperature."""
        six = np.arange(5, 8760, 24)
        chosen = six[(self.outdoor_f[six] >= low_f) & (self.outdoor_f[six] <= high_f)]
        assert chosen.size >= 3
        room_f = self.room_f[chosen]
        gap_f = (room_f[:, [self.main]] - room_f).mean(axis=0)
        return dict(zip(self.names, gap_f.tolist(), strict=True))


def single_head(raw: Raw, folder: Path) -> SingleHead:
    found = compare_house(house_of(raw), folder)
    return SingleHead(found, next(r for r in found.results if r.option.family is Family.SINGLE_HEAD))


def scenario(folder: Path, name: str) -> Raw:
    return tomllib.loads((folder / f"{name}.toml").read_text(encoding="utf-8"))


def doors(raw: Raw, state: str) -> Raw:
    for door in raw["door"]:
        if "between" in door:
            door["day"] = door["night"] = state
    return raw


def zone_five(raw: Raw) -> Raw:
    """The ranch moved to climate zone 5 (about 5,700 heating degree-days F) and to 1979, as the report's house."""
    raw["house"]["built"] = 1979
    raw["site"].update(place="Near Pittsburgh, PA", latitude=40.4, longitude=-80.0, weather="pittsburgh")
    raw["site"]["design"].update(heating_99=9, cooling_1=87, cooling_wet_bulb=71)
    return raw


def low_load(raw: Raw) -> Raw:
    """Envelope work that about halves the load."""
    raw["fabric"].update(wall_u=0.05, ceiling_u=0.02, floor_u=0.035, window_u=0.28, window_shgc=0.35, door_u=0.2)
    raw["air"]["ach50"] = 3
    return raw


def by_variant(change: Callable[[Raw], Raw]) -> Any:
    @pytest.fixture(scope="module")
    def made(scenarios: Path) -> SingleHead:
        return single_head(change(zone_five(scenario(scenarios, "ranch"))), scenarios)

    return made


shut_ranch = by_variant(lambda raw: raw)
open_ranch = by_variant(lambda raw: doors(raw, "open"))
open_low_ranch = by_variant(lambda raw: doors(low_load(raw), "open"))
BEDROOMS = ("Bedroom 1", "Bedroom 2", "Bedroom 3")


def test_shut_ranch_bedrooms_are_cold_by_six_at_design(shut_ranch):
    # Case: 3-bed ranch, one head in the living area, doors open by day and shut at night: "fine by day, not overnight"
    # (one home's report). Bound: every bedroom 8 F or more below by 6 a.m. near design (9 F).
    gap_f = shut_ranch.gap_at_six_f(0.0, 12.0)
    assert all(gap_f[name] >= 8.0 for name in BEDROOMS)


def test_shut_ranch_is_flagged(shut_ranch):
    # The same: it must not pass in silence.
    faults = {fault.code: fault for fault in shut_ranch.result.score.faults}
    assert "cold_bedroom" in faults
    assert faults["cold_bedroom"].fatal


def test_shut_bedrooms_recover_by_day(shut_ranch):
    # The same report's other half: with the doors open by day bedrooms come nearer. Afternoon gap under morning gap.
    room_f, main = shut_ranch.room_f.reshape(365, 24, -1), shut_ranch.main
    cold = shut_ranch.outdoor_f.reshape(365, 24).mean(axis=1) < 30.0
    gap_f = (room_f[..., [main]] - room_f)[cold].mean(axis=0)
    for name in BEDROOMS:
        index = shut_ranch.names.index(name)
        assert gap_f[16, index] < 0.8 * gap_f[5, index]


def test_open_doors_are_fine_in_a_low_load_house_in_mild_weather(open_low_ranch):
    # Case: the same ranch with doors open. Bound: at most 4 F below at about 47 F with low loads (a trial had about 3).
    gap_f = open_low_ranch.gap_at_six_f(44.0, 50.0)
    assert max(gap_f[name] for name in BEDROOMS) <= 4.0


def test_open_doors_in_an_ordinary_ranch_beside_the_trial(open_ranch):
    # No limit at design; a trial calculation of a like house had the far bedroom 6-7 F low at 47 F and 11-13 F near a
    # design of 25 F. Ours at 47 F and at 22-28 F, within a factor of two of the trial's middle.
    mild, cold = open_ranch.gap_at_six_f(44.0, 50.0), open_ranch.gap_at_six_f(22.0, 28.0)
    worst = [max(gap[name] for name in BEDROOMS) for gap in (mild, cold)]
    assert 3.25 <= worst[0] <= 13.0
    assert 6.0 <= worst[1] <= 24.0


def test_shutting_doors_never_warms_a_bedroom(open_ranch, shut_ranch):
    # Direction: at design mornings every bedroom is colder behind a shut door.
    shut, wide = shut_ranch.gap_at_six_f(0.0, 12.0), open_ranch.gap_at_six_f(0.0, 12.0)
    assert all(shut[name] > wide[name] for name in BEDROOMS)


def test_steady_law_of_a_shut_room(shut_ranch):
    # T = (UA Tout + K Tmain + gains) / (UA + K): the coldest mornings lie between this law's steady end, taken with the
    # room's own conductances and all its neighbours as cold as they are, and the main room.
    case = shut_ranch.comparison.case
    net = case.network
    six = np.arange(5, 8760, 24)
    coldest = six[np.argsort(shut_ranch.outdoor_f[six])[:5]]
    for name in BEDROOMS:
        room = shut_ranch.names.index(name)
        loss_w_k = net.g0_w_k[room] + net.leak_w_k[:, room].max()
        exchange_w_k = net.link_w_k[int(net.door_state[5]), room].sum()
        floor_f = (loss_w_k * shut_ranch.outdoor_f[coldest] + exchange_w_k * 32.0) / (loss_w_k + exchange_w_k)
        assert np.all(shut_ranch.room_f[coldest, room] > floor_f)
        assert np.all(shut_ranch.room_f[coldest, room] < shut_ranch.room_f[coldest, shut_ranch.main])


def shut_dining_room(raw: Raw) -> Raw:
    """The colonial's dining room made a bedroom behind one door that stays shut."""
    raw["opening"] = [hole for hole in raw["opening"] if "Dining room" not in hole["between"]]
    raw["door"].append(
        {"between": ["Stair hall", "Dining room"], "at": [22, 6], "width": "32 in", "day": "shut", "night": "shut"}
    )
    next(room for room in raw["room"] if room["name"] == "Dining room")["use"] = "bedroom"
    raw["seat"] = [seat for seat in raw.get("seat", []) if seat["room"] != "Dining room"]
    return raw


@pytest.fixture(scope="module")
def ordinary_closed_off(scenarios):
    return single_head(shut_dining_room(scenario(scenarios, "colonial")), scenarios)


@pytest.fixture(scope="module")
def closed_off(scenarios):
    """The same house with the low-load envelope."""
    return single_head(low_load(shut_dining_room(scenario(scenarios, "colonial"))), scenarios)


def _lowest_in_the_logs_range_f(house: SingleHead) -> float:
    """Lowest temperature of the closed room on winter days that stay in the log's range of 16-57 F outdoors.

    The two days before must stay in it too, because a room remembers about that long.
    """
    days_f = house.outdoor_f.reshape(365, 24)
    calm = (days_f.min(axis=1) >= 16.0) & (days_f.max(axis=1) <= 57.0)
    inside = calm & np.roll(calm, 1) & np.roll(calm, 2)
    inside[60:334] = False
    assert inside.sum() >= 10
    return float(house.room_f.reshape(365, 24, -1)[inside][..., house.names.index("Dining room")].min())


def test_a_closed_off_room_of_a_low_load_house(closed_off):
    # Case: low-load retrofit of two storeys, one head down at 70 F, open stair; a closed-off first-floor bedroom fell
    # to the high 40s F at the lowest (one homeowner's log, outdoors 16-57 F). Bounds: within 4 F of 48, and 10-25 F
    # below the set point. Ours: 51.9 F with the low-load envelope, 43.7 F with the ordinary one; the log lies between.
    lowest_f = _lowest_in_the_logs_range_f(closed_off)
    assert abs(lowest_f - 48.0) <= 4.0
    assert 10.0 <= 70.0 - lowest_f <= 25.0


def test_a_closed_off_room_of_an_ordinary_house_is_colder_still(ordinary_closed_off, closed_off):
    # Direction; the log is of one low-load home, so no figure binds here.
    assert _lowest_in_the_logs_range_f(ordinary_closed_off) < _lowest_in_the_logs_range_f(closed_off)


def test_rooms_open_by_the_stair_are_the_models_own_figure(closed_off):
    # No figure is given for them: only that they lie between outdoors and the room with the head.
    cold = closed_off.outdoor_f < 30.0
    upper = closed_off.names.index("Upper hall")
    room_f = closed_off.room_f[cold]
    assert np.all(room_f[:, upper] < room_f[:, closed_off.main] + 1.0)
    assert np.all(room_f[:, upper] > closed_off.outdoor_f[cold])


@pytest.fixture(scope="module")
def cape(scenarios):
    return single_head(tomllib.loads(CAPE.read_text(encoding="utf-8")), scenarios)


def test_bedrooms_under_a_roof_take_more_sun_and_roof(cape):
    # Case: a Cape's bedrooms under the roof are too hot (one home's report). Bound: sun and roof load per floor area of
    # each above that of the whole first floor.
    plan, loads = cape.comparison.case.plan, cape.comparison.case.loads

    def per_area_w_m2(rooms):
        parts = [loads.rooms[index].cool_parts_w for index in rooms]
        return sum(p["sun"] + p["roof"] for p in parts) / sum(plan.rooms[index].area_m2 for index in rooms)

    first = per_area_w_m2([i for i, room in enumerate(plan.rooms) if room.level == 0])
    for index, room in enumerate(plan.rooms):
        if room.use.value == "bedroom":
            assert per_area_w_m2([index]) > first


def test_bedrooms_under_a_roof_stay_hot_into_the_night(cape):
    # The same report: too hot at night with 70s F outdoors. Bound: in such hours (22-02) above 78 F with the head down
    # holding 75 F, and warmer than outdoors.
    night = np.isin(np.arange(8760) % 24, NIGHT_H) & (cape.outdoor_f >= 70.0) & (cape.outdoor_f < 80.0)
    for name in ("West bedroom", "East bedroom"):
        mean_f = cape.room_f[night, cape.names.index(name)].mean()
        assert mean_f > 78.0
        assert mean_f > cape.outdoor_f[night].mean()


def test_one_supply_and_no_return_is_flagged(cape):
    # The same: one supply a room, no return. Every ducted option up there names a return path for each shut bedroom;
    # a 1/4 in. undercut at such flows is far over 3 Pa (the energy label's limit).
    seen = 0
    for result in cape.comparison.results:
        for zone in result.option.zones:
            for path in zone.ducts.transfers if zone.ducts is not None else ():
                if cape.comparison.case.plan.rooms[path.room].use.value == "bedroom":
                    seen += 1
                    assert path.remedy in {"undercut", "transfer grille"}
                    assert path.pressure_as_is_pa > 3.0
                    assert path.pressure_pa <= path.limit_pa + 1e-9
    assert seen > 0
