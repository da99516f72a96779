"""One option in every draw: its scores with the house, its units and its prices shaken."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from compare.options.option import Option
from compare.physics.many.sizes import LANES
from compare.prices.items import items
from compare.search.draws import Draws
from compare.search.kit import Kit
from compare.search.lanes import Runner, Shake
from compare.search.points import Asked, lane_fatal, lane_scores
from compare.search.shaken import HouseParts, LinkParts, link_parts, shaken_houses
from compare.search.strip import Lane, Strip, lane_groups, lane_zones
from compare.search.tally import Tally
from compare.years.gather import OUTDOOR_LIMIT_DBA
from compare.years.origin import Doors
from compare.zones.sketch import ZoneKind

FloatArray = npt.NDArray[np.float64]
BoolArray = npt.NDArray[np.bool_]

HOUSE_FACTORS = ("ua", "leakage", "partition", "opening", "solar")


@dataclass(frozen=True, slots=True, eq=False)
class ShakenNeed:
    """What the house needs in each draw, (D,) each [kWh]."""

    heat_kwh: FloatArray
    cool_kwh: FloatArray


@dataclass(frozen=True, slots=True, eq=False)
class ShakenScores:
    """One option in every draw."""

    scores: FloatArray
    """(D, 7)"""
    fatal: BoolArray
    """(D,)"""


def shaken_need(kit: Kit, runner: Runner, parts: HouseParts, draws: Draws, open_w_k: FloatArray) -> ShakenNeed:
    """Heat and cold of every draw with all habitable rooms held; doors as in a run of the whole house."""
    links = link_parts(kit.base.case, open_w_k)
    rooms = [index for index, room in enumerate(kit.base.case.plan.rooms) if room.habitable]
    ideal = Lane(tuple(kit.factory.ideal(room) for room in rooms))
    heat, cool = [], []
    for first in range(0, draws.count, LANES):
        factor = _some(draws.factor, first)
        houses = shaken_houses(kit.base.case, parts, links, factor)
        sums = runner.run(houses, [ideal] * LANES).rest_w_h.sum(axis=0) / 1000.0
        heat.append(sums[0])
        cool.append(sums[1])
    return ShakenNeed(np.concatenate(heat), np.concatenate(cool))


def shaken_scores(
    kit: Kit, runner: Runner, strip: Strip, shared: tuple[HouseParts, Draws, ShakenNeed], doors: Doors
) -> ShakenScores:
    """Scores of one option in every draw, its doors as in its own run."""
    parts, draws, need = shared
    links = link_parts(kit.base.case, doors.open_w_k)
    scores, fatal = [], []
    for first in range(0, draws.count, LANES):
        some = slice(first, first + LANES)
        block = _block(kit, runner, strip, (parts, links), draws, some)
        asked = _asked(kit, strip, draws, need, some, block[1])
        facts = kit.facts
        scores.append(lane_scores(_covered(kit, strip, block[0], draws, some), facts, asked, kit.book))
        fatal.append(lane_fatal(block[0], facts, kit.book.numbers))
    return ShakenScores(np.concatenate(scores), np.concatenate(fatal))


def _some(factor: Mapping[str, FloatArray], first: int) -> dict[str, FloatArray]:
    return {name: factor[name][first : first + LANES] for name in HOUSE_FACTORS}


def _block(
    kit: Kit, runner: Runner, strip: Strip, house: tuple[HouseParts, LinkParts], draws: Draws, some: slice
) -> tuple[Tally, FloatArray]:
    """Measures of 64 draws, and their electricity at equal service [kWh]."""
    houses = shaken_houses(kit.base.case, *house, _some(draws.factor, some.start))
    shake = Shake(
        least=draws.factor["least"][some].astype(np.float32),
        loss=draws.factor["loss"][some].astype(np.float32),
        differential=draws.factor["differential"][some].astype(np.float32),
        ducted_gain=(10.0 ** (draws.ducted_db[some] / 10.0)).astype(np.float32),
    )
    strips = [strip] * (draws.ducted_db[some].size)
    got = runner.run(houses, [strip.lane] * len(strips), shake)
    tally = kit.tally(strips, got)
    run, rest, heaters, old = kit.topped_kwh((runner, houses, shake), strips, (tally, got))
    cop = np.array([_cop_factor(strip, g, draws)[some] for g in range(len(strip.lane.machines))])
    return tally, (run[: len(cop)] / cop).sum(axis=0) + rest + heaters + old / kit.old.efficiency_frac


def _cop_factor(strip: Strip, place: int, draws: Draws) -> FloatArray:
    group = lane_groups(strip.option, lane_zones(strip.option))[place]
    factor = np.ones(draws.count)
    if all(strip.option.zones[zone].sketch.kind is ZoneKind.DUCTED for zone in group.zones):
        factor = factor * draws.factor["ducted_cop"]
    if group.shared:
        factor = factor * draws.factor["shared_cop"]
    return factor


def _asked(kit: Kit, strip: Strip, draws: Draws, need: ShakenNeed, some: slice, equal_kwh: FloatArray) -> Asked:
    heat, cool = need.heat_kwh[some], need.cool_kwh[some]
    numbers = kit.book.numbers
    return Asked(
        price_ratio=shaken_price_usd(strip.option, draws)[some] / shaken_price_usd(kit.base.reference, draws)[some],
        cop=(heat + cool) / equal_kwh,
        visible=np.full(heat.shape, float(strip.option.visible_units)),
        cool_share_frac=cool / np.maximum(heat + cool, 1e-9),
        outdoor_limit_dba=OUTDOOR_LIMIT_DBA,
        heater_credit=draws.credit[some],
        old_heat_credit=np.full(heat.shape, numbers.old_heat_credit),
    )


def shaken_price_usd(option: Option, draws: Draws) -> FloatArray:
    """(D,) price of an option with the families of its items shaken."""
    total = np.zeros(draws.count)
    for line in option.price.lines:
        total += float(line.mid_usd) * draws.price[items()[line.item].family]
    return total


def _covered(kit: Kit, strip: Strip, tally: Tally, draws: Draws, some: slice) -> Tally:
    """The same measures with cover against the shaken design loads."""
    heat, cool = load_factors(kit, draws, some)
    heat_k, cool_k = np.ones_like(tally.heat_cover), np.ones_like(tally.cool_cover)
    loads = kit.base.case.heat_load_w, np.array([r.cool_total_w for r in kit.base.case.loads.rooms])
    for room, zone in enumerate(strip.zone_of_room):
        if zone >= 0:
            own = strip.option.zones[zone]
            rooms = [*own.rooms, *own.attached]
            for out, load, factor in ((heat_k, loads[0], heat), (cool_k, loads[1], cool)):
                before, after = load[rooms].sum(), (load[rooms, None] * factor[rooms]).sum(axis=0)
                out[room] = np.where(after > 0.0, before / np.maximum(after, 1e-9), 1.0)
    return replace(tally, heat_cover=tally.heat_cover * heat_k, cool_cover=tally.cool_cover * cool_k)


def load_factors(kit: Kit, draws: Draws, some: slice) -> tuple[FloatArray, FloatArray]:
    """Shaken over unshaken design loads by room, heating and cooling, (R, 64) each."""
    by_part = {"air": draws.factor["leakage"][some], "sun": draws.factor["solar"][some]}
    fabric = draws.factor["ua"][some]
    fixed = {"people", "appliances"}
    found = []
    loads = kit.base.case.loads.rooms
    for all_parts in ([room.heat_parts_w for room in loads], [room.cool_parts_w for room in loads]):
        rows = []
        for parts in all_parts:
            total = sum(parts.values())
            shaken = sum(watts * (1.0 if name in fixed else by_part.get(name, fabric)) for name, watts in parts.items())
            ratio = np.asarray(shaken) / total if total > 1.0 else np.ones_like(fabric)
            rows.append(np.clip(np.broadcast_to(ratio, fabric.shape), 0.3, 3.0))
        found.append(np.array(rows))
    return found[0], found[1]
