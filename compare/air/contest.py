"""Wall, floor and ceiling units compete for a room: points against each place, with what the type costs more."""

from __future__ import annotations

from dataclasses import dataclass

from compare.air.noise.fan import SoundSource
from compare.air.noise.hours import level_curve
from compare.air.noise.room import schultz_loss_db
from compare.air.siting import Siting, space_on_level
from compare.air.tables import constant, row
from compare.house.plan import Plan

MIDDLE = 0.5
"""Share of the output range at which the sound is judged."""
RULES = "siting_rules"
MIDDLE_STOP = 3


@dataclass(frozen=True, slots=True)
class ContestWeights:
    """How much the house minds each thing; 1 is usual."""

    draught: float = 1.0
    quiet: float = 1.0
    price: float = 1.0
    sight: float = 1.0

    @classmethod
    def of_stops(cls, warm_and_even: int, quiet: int, lower_price: int, few_units_in_sight: int) -> ContestWeights:
        """From the stops 1 to 5 of the house file's priorities: 3 is usual, for few units in sight 1."""
        draught, low_noise, money = (stop / MIDDLE_STOP for stop in (warm_and_even, quiet, lower_price))
        return cls(draught, low_noise, money, (few_units_in_sight + 1) / 2)


USUAL = ContestWeights()


@dataclass(frozen=True, slots=True)
class Contest:
    """Points against one type of unit at its best place."""

    siting_points: float
    noise_points: float
    price_points: float
    extra_usd: float
    """What the type costs more than a wall head."""
    other_points: float
    """Held against every type but a wall head."""

    @property
    def total(self) -> float:
        """The least wins."""
        return self.siting_points + self.noise_points + self.price_points + self.other_points


def contest(plan: Plan, siting: Siting, source: SoundSource, weights: ContestWeights = USUAL) -> Contest:
    """Points against a type: its place, decibels over the advice at its loudest bed or seat, its extra price."""
    extra = float(row("unit_kinds", "kind", siting.kind)["extra_usd"])
    place = siting.points
    place += (weights.draught - 1) * siting.draught_points + (weights.sight - 1) * siting.sight_points
    volume = sum(plan.rooms[r].volume_m3 for r in space_on_level(plan, siting.room))
    over = 0.0
    for head in siting.heads:
        level = float(level_curve(source, schultz_loss_db(volume, max(head.distance_m, 0.3))).on_dba(MIDDLE))
        over = max(over, level - constant("advised_bed_dba" if head.bed else "advised_seat_dba", RULES))
    return Contest(
        siting_points=place,
        noise_points=weights.quiet * constant("noise_points_db", RULES) * over,
        price_points=weights.price * extra / constant("usd_per_point", RULES),
        extra_usd=extra,
        other_points=0.0 if siting.kind == "wall_head" else constant("other_kind_points", RULES),
    )
