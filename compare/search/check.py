"""Draws by the measuring kernel against draws by full re-simulation: rooms rebuilt, doors settled, traces measured."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from compare.house.model import HouseFile
from compare.house.plan import Plan, Surface, SurfaceKind
from compare.loads.case import load_case_of
from compare.loads.cooling import prepared_rooms
from compare.physics.assemble import network_of
from compare.physics.fabric.drivers import faces_of
from compare.physics.fabric.forcing import Gains as RoomGains
from compare.physics.fabric.room import drive_room
from compare.physics.fabric.spaces import ground_of_year, with_spaces
from compare.physics.fabric.weather import drivers_from_year
from compare.physics.house_air import network_options_of
from compare.scoring.criteria import CRITERIA, Criterion
from compare.search.draws import Draws
from compare.search.kit import Kit
from compare.search.shake_run import HOUSE_FACTORS, shaken_need, shaken_scores
from compare.search.shaken import house_parts
from compare.years.bench import Bench, Result
from compare.years.case import HouseCase
from compare.years.gather import Shared
from compare.years.run import open_doors_w_k, run_years, settle

FloatArray = npt.NDArray[np.float64]

CHECKED = 20
"""Draws that are simulated again in full."""


@dataclass(frozen=True, slots=True)
class Checked:
    """Points by which scaled and full draws differ, over all options and draws."""

    draws: int
    options: int
    mean_points: float
    """Of the weighted total."""
    most_points: float
    order_kept_frac: float
    """Share of draws with the same option first."""


def check_draws(
    kit: Kit, results: Sequence[Result], draws: Draws, weights: FloatArray, count: int = CHECKED
) -> Checked:
    """Simulate the house inputs of the first draws again in full and compare the totals.

    Units and prices are left alone, and load match with them: its cover follows from design loads in both ways.

    Parameters
    ----------
    kit, results
        The house and some settled options.
    draws, weights
        Draws, and weights (7,) of the total.
    count
        How many draws after the first.
    """
    scaled = _scaled(kit, results, _house_only(draws))
    full = np.array([full_scores(kit, results, draws, d) for d in range(1, count + 1)])
    match = CRITERIA.index(Criterion.MATCH)
    own = np.array([result.score.scores for result in results])
    quick = np.clip(own[None] + scaled[1 : count + 1] - scaled[:1], 0.0, 100.0)
    full[:, :, match] = quick[:, :, match] = own[None, :, match]
    totals = quick @ weights, full @ weights
    gap = np.abs(totals[0] - totals[1])
    same = totals[0].argmax(axis=1) == totals[1].argmax(axis=1)
    return Checked(count, len(results), float(gap.mean()), float(gap.max()), float(same.mean()))


def _house_only(draws: Draws) -> Draws:
    one = np.ones(draws.count)
    factor = {name: values if name in HOUSE_FACTORS else one for name, values in draws.factor.items()}
    credit = np.full(draws.count, draws.credit[0])
    return Draws(factor, np.zeros(draws.count), credit, dict.fromkeys(draws.price, one))


def _scaled(kit: Kit, results: Sequence[Result], draws: Draws) -> FloatArray:
    """(D, options, 7) by the measuring kernel."""
    case = kit.base.case
    parts = house_parts(case)
    strips = [kit.strip(result.option) for result in results]
    ideal = [kit.factory.ideal(i) for i, room in enumerate(case.plan.rooms) if room.habitable]
    trace = settle(case, ideal, run_years(case, [ideal])[0])
    need = shaken_need(kit, kit.runner(), parts, draws, open_doors_w_k(case, trace))
    shared = (parts, draws, need)
    found = [
        shaken_scores(kit, kit.runner(), strip, shared, result.year.doors).scores
        for strip, result in zip(strips, results, strict=True)
    ]
    return np.stack(found, axis=1)


def full_scores(kit: Kit, results: Sequence[Result], draws: Draws, draw: int) -> FloatArray:
    """(options, 7) of one draw with the house built anew, doors settled, traces measured. Units stay as they are."""
    base = kit.base
    case = shaken_case(base.case, {name: float(draws.factor[name][draw]) for name in HOUSE_FACTORS})
    bench = Bench(case, base.factory, base.season, kit.book.numbers)
    shared = Shared(case, base.season, kit.book.numbers, bench.need(), base.reference_usd, base.ears)
    years = (bench.settled_alone(result.option) for result in results)
    return np.array([bench.result(year, shared, settled=True).score.scores for year in years])


def shaken_case(case: HouseCase, factor: dict[str, float]) -> HouseCase:
    """The house with its inputs scaled, and everything that its network follows from worked out again."""
    house, plan = _house(case.house, factor), _plan(case.plan, factor)
    ground = ground_of_year(case.weather.dry_bulb_c)
    options = network_options_of(house, plan)
    doors = replace(options.doors, discharge_frac=options.doors.discharge_frac * factor["opening"])
    options = replace(options, doors=doors)
    drivers = with_spaces(plan, drivers_from_year(case.weather, faces_of(plan.rooms)), ground)
    rooms = prepared_rooms(load_case_of(house, plan, case.design, ground))
    fabrics = [
        drive_room(room, drivers, RoomGains(case.gains.radiant_w[:, index], case.gains.convective_w[:, index]))
        for index, room in enumerate(rooms)
    ]
    network = network_of(plan, fabrics, case.weather, options)
    return replace(case, house=house, plan=plan, network=network, network_options=options)


def _house(house: HouseFile, factor: dict[str, float]) -> HouseFile:
    air = house.air.model_copy(update={"ach50_1_h": house.air.ach50_1_h * factor["leakage"]})
    return house.model_copy(update={"air": air})


def _plan(plan: Plan, factor: dict[str, float]) -> Plan:
    rooms = tuple(
        replace(room, surfaces=tuple(_surface(surface, factor) for surface in room.surfaces)) for room in plan.rooms
    )
    partitions = tuple(replace(part, u_w_m2k=part.u_w_m2k * factor["partition"]) for part in plan.partitions)
    return replace(plan, rooms=rooms, partitions=partitions)


def _surface(surface: Surface, factor: dict[str, float]) -> Surface:
    solar = factor["solar"]
    if surface.kind is SurfaceKind.WINDOW:
        surface = replace(surface, shgc_frac=min(surface.shgc_frac * solar, 0.95))
    absorbed = min(surface.solar_absorptance_frac * solar, 0.98)
    return replace(
        surface,
        u_w_m2k=surface.u_w_m2k * factor["ua"],
        edge_w_mk=surface.edge_w_mk * factor["ua"],
        solar_absorptance_frac=absorbed,
    )
