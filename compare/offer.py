"""Layouts of a prepared house turned into options: sources, design basis, units, ducts and prices."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial

from compare.air.contest import ContestWeights
from compare.equipment.catalogue import Catalogue, catalogue
from compare.options.build import Offer, build_options
from compare.options.option import Option
from compare.prices.price_list import PriceList, load_price_list
from compare.years.case import HouseCase
from compare.zones.basis import DesignBasis
from compare.zones.families import families
from compare.zones.sketch import LayoutSketch

Progress = Callable[[str, int, int], None]
"""Told what is being done, how many are done, how many there are."""


@dataclass(frozen=True, slots=True)
class Sources:
    """What a company may replace by its own: unit catalogue and price list."""

    units: Catalogue
    prices: PriceList

    @classmethod
    def bundled(cls) -> Sources:
        """The generic catalogue and the placeholder price list that come with the program."""
        return cls(catalogue(), load_price_list())


def silent(_what: str, _done: int, _all: int) -> None:
    """Progress that nobody watches."""


def options_of(
    case: HouseCase,
    sources: Sources,
    layouts: Sequence[LayoutSketch] | None = None,
    tell: Progress = silent,
    *,
    sharing: bool = True,
) -> tuple[Option, ...]:
    """Options of some layouts, in their order; of the families that every house is compared by when None.

    Without `sharing` each indoor unit has an outdoor unit of its own and no other form is built.
    """
    asked = families(case.plan, old_heat_rooms=old_heat_rooms(case)) if layouts is None else layouts
    offer = Offer(basis_of_case(case, sources), sources.prices, case.house.panel.free_spaces)
    done = partial(_tell_built, tell, len(asked))
    return build_options(offer, asked, done, sharing=sharing)


def _tell_built(tell: Progress, of: int, done: int) -> None:
    tell("units, ducts and prices", done, of)


def old_heat_rooms(case: HouseCase) -> tuple[int, ...]:
    """Rooms that the existing heat goes on heating; none when it is removed."""
    heat = case.house.existing_heat
    if heat is None or not heat.keep:
        return ()
    return tuple(i for i, room in enumerate(case.plan.rooms) if heat.rooms is None or room.name in heat.rooms)


def basis_of_case(case: HouseCase, sources: Sources) -> DesignBasis:
    """What the zones of a prepared house are designed on."""
    chosen = case.house.priorities
    return DesignBasis(
        plan=case.plan,
        heat_load_w=case.heat_load_w,
        cool_load_w=case.cool_load_w,
        heat_outdoor_c=case.design.heating_99_c,
        cool_outdoor_c=case.design.cooling_1_c,
        units=sources.units,
        plan_north_deg=case.house.house.plan_north_deg,
        contest=ContestWeights.of_stops(
            chosen.warm_and_even, chosen.quiet, chosen.lower_price, chosen.few_units_in_sight
        ),
    )
