"""What families ask, answered for one comparison: the numbers that the answers need, gathered from its layouts."""

from __future__ import annotations

import math

from compare.equipment.unit import UnitKind
from compare.house.model import HouseFile
from compare.house.plan import Use
from compare.options.option import Option
from compare.pipeline import Comparison
from compare.prices.lifetime import Upkeep, load_upkeep
from compare.scoring.ranking import Ranking
from compare.scoring.scores import OptionScore
from compare.scoring.shown import best_of
from compare.scoring.worries import Around, Asked
from compare.whatif import bedroom_doors_shut
from compare.zones.sketch import ZoneKind

CLEANING_YEARS = 10
HIGH = frozenset({UnitKind.WALL, UnitKind.CEILING})
"""Room units that measure the air high up."""


def asked_of(found: Comparison, ranking: Ranking) -> Asked | None:
    """What the answers speak of; None when every option is rejected."""
    if ranking.winner is None:
        return None
    winner = ranking.winner.option
    single, each = best_of(ranking, "single_head"), best_of(ranking, "head_each")
    hidden = [item.option for item in ranking.ranked if item.place and item.option.measures.visible_units == 0]
    return Asked(
        winner=winner,
        single=single.option if single else None,
        each=each.option if each else None,
        shown=tuple(item.option for item in found.shown(ranking) if item.place),
        hidden=min(hidden, key=lambda option: (option.price_usd, option.option_id), default=None),
        weights=ranking.weights,
        around=_around(found, winner, each.option if each else None),
    )


def _around(found: Comparison, winner: OptionScore, each: OptionScore | None) -> Around:
    house, case = found.case.house, found.case
    option = found.by_id[winner.option_id].option
    other = found.by_id[each.option_id].option if each else None
    upkeep = load_upkeep()
    losses = [1.0 - zone.ducts.heat_delivered_frac for zone in option.zones if zone.ducts is not None]
    covers = [option.cover(k).heat_frac for k, zone in enumerate(option.zones) if zone.demand.heat_w > 0.0]
    left, every = rooms_after_failure(option)
    return Around(
        heat_load_w=case.loads.house.heat_w,
        cool_load_w=case.loads.house.cool_total_w,
        heat_outdoor_c=case.design.heating_99_c,
        heat_set_c=house.comfort.heating_c,
        cool_set_c=house.comfort.cooling_c,
        setback=house.comfort.setback is not None,
        doors_shut=bedroom_doors_shut(house),
        doors=_bedrooms_have_doors(house),
        least_cover=min(covers, default=math.nan),
        duct_loss_frac=max(losses, default=math.nan),
        ducts_outside=any(z.ducts is not None and not z.ducts.space.inside_envelope for z in option.zones),
        high_units=sum(zone.pair.kind in HIGH for zone in option.zones),
        cleaning_usd=cleaning_usd(option, upkeep),
        cleaning_each_usd=cleaning_usd(other, upkeep) if other else math.nan,
        rooms_left=left,
        rooms_all=every,
        units=len(option.zones),
        units_each=len(other.zones) if other else 0,
    )


def _bedrooms_have_doors(house: HouseFile) -> bool:
    bedrooms = {room.name for room in house.rooms if room.use is Use.BEDROOM}
    return any(door.between is not None and bedrooms & set(door.between) for door in house.doors)


def cleaning_usd(option: Option, upkeep: Upkeep, years: int = CLEANING_YEARS) -> float:
    """Cleaning of coils and filters over some years, in today's money: the first unit costs more than each next."""
    heads = sum(zone.sketch.kind is ZoneKind.ROOM_UNIT for zone in option.zones)
    ducted = len(option.zones) - heads
    visit = upkeep.clean_ducted_usd * ducted
    if heads:
        visit += upkeep.clean_first_head_usd + upkeep.clean_next_head_usd * (heads - 1)
    return years * (upkeep.clean_visits_1_y * visit + upkeep.filter_ducted_usd_y * ducted)


def rooms_after_failure(option: Option) -> tuple[int, int]:
    """Rooms with a supply that keep it when the outdoor unit with most rooms fails, and all rooms with one."""
    rooms = [sum(len(option.zones[zone].rooms) for zone in group.zones) for group in option.outdoor.groups]
    return sum(rooms) - max(rooms), sum(rooms)
