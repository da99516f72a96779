"""A comparison with beds or seats somewhere else: places of units, draught and sound anew, years kept where they hold.

Units that blow into a room with a moved piece are chosen and placed anew. Where they come out as the same units, the
year is the same; only what is heard and felt is counted again. Where a unit of another size wins, the year is run.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import cache

import numpy as np

from compare.air.siting import space_on_level
from compare.house.plan import OutdoorSpot, Plan
from compare.offer import basis_of_case
from compare.options.build import Offer, assembled
from compare.options.option import Option
from compare.pipeline import Comparison
from compare.scoring.evidence import Fault, PriceEvidence
from compare.scoring.judgements import rulebook
from compare.scoring.measures import Measures, price_ratio
from compare.scoring.scores import score_measures
from compare.trials.pieces import pieces_of
from compare.trials.places import Move, moved_plan
from compare.years.bench import Bench, Result
from compare.years.case import HouseCase
from compare.years.gather import Shared, compressors_of, heard_anew
from compare.years.hills import ends_of, hills_of
from compare.years.kept import KeptYear
from compare.years.sound import outdoor_dba
from compare.years.supplies import factory_of
from compare.zones.basis import DesignBasis
from compare.zones.ears import Ear, ears_of
from compare.zones.served import ServedZone, Sited, contest_of, design_zone, sited
from compare.zones.sketch import Family


def with_moves(found: Comparison, moves: Iterable[Move]) -> Comparison:
    """The same layouts in a house with some beds or seats elsewhere; the same comparison without any.

    Raises
    ------
    ValueError
        As `moved_plan`.
    """
    wanted = tuple(sorted(moves))
    if not wanted:
        return found
    old = pieces_of(found.case.plan)
    plan = moved_plan(found.case.plan, wanted)
    mover = _Mover(found, replace(found.case, plan=plan), frozenset(old[move.piece].room for move in wanted))
    return mover.comparison(beds=any(old[move.piece].bed for move in wanted))


@dataclass(eq=False)
class _Mover:
    """One move through all options of a comparison."""

    found: Comparison
    case: HouseCase
    rooms: frozenset[int]
    """Rooms with a moved piece."""

    def comparison(self, *, beds: bool) -> Comparison:
        """The whole comparison."""
        found, case = self.found, self.case
        basis = basis_of_case(case, found.sources)
        offer = Offer(basis, found.sources.prices, case.house.panel.free_spaces)
        zones: dict[str, ServedZone] = {}
        site = cache(sited(basis))
        for option in found.options:
            for zone in option.zones:
                if zone.key not in zones:
                    zones[zone.key] = self._zone(basis, zone, site, beds=beds)
        options = [self._option(offer, option, zones) for option in found.options]
        singles = [float(option.price.mid_usd) for option in options if option.family is Family.SINGLE_HEAD]
        reference_usd = min(singles, default=found.results[0].score.measures.price.reference_usd)
        shared = Shared(case, found.season, rulebook().numbers, found.need, reference_usd, self._ears(zones))
        results = tuple(
            self._result(shared, result, option) for result, option in zip(found.results, options, strict=True)
        )
        return replace(found, case=case, results=results, ears=shared.ears, proof=None, space=None)

    def _zone(self, basis: DesignBasis, zone: ServedZone, site: Sited, *, beds: bool) -> ServedZone:
        """A room unit is placed anew, and ducts where a bed moves: registers keep away from pillows, not from seats."""
        if not self._reaches(zone):
            return zone
        if zone.siting is not None:
            return contest_of(basis, zone.sketch, zone.attached, site)[0][0]
        return design_zone(basis, zone.sketch, zone.attached) if beds else zone

    def _reaches(self, zone: ServedZone) -> bool:
        """Whether a zone's air gets to a room with a moved piece."""
        plan = self.case.plan
        return bool(self.rooms & reached(plan, zone))

    def _ears(self, zones: dict[str, ServedZone]) -> dict[str, tuple[Ear, ...]]:
        plan, units = self.case.plan, self.found.sources.units
        return {
            key: ears_of(plan, zone, units) if self._reaches(zone) else self.found.ears[key]
            for key, zone in zones.items()
        }

    def _option(self, offer: Offer, option: Option, zones: dict[str, ServedZone]) -> Option:
        """The option of the moved zones, with the same sharing outdoors; itself where no zone changed."""
        changed = tuple(zones[zone.key] for zone in option.zones)
        if all(one is other for one, other in zip(changed, option.zones, strict=True)):
            return option
        formed = list(assembled(offer, option.layout, changed))
        return next((one for one in formed if one.key == option.key), formed[0])

    def _result(self, shared: Shared, result: Result, option: Option) -> Result:
        if not same_year(option, result.option):
            return self._run_anew(shared, option)
        which = frozenset(room for zone in option.zones for room in self._heard_in(zone)) | self.rooms
        hours = [running.unpacked() for running in result.year.heads]
        rooms = heard_anew(shared, option, hours, result.score.measures.rooms, which)
        measures = replace(_outside(shared, result, option), rooms=rooms)
        return Result(option, self._year(result, option), score_measures(measures), result.settled)

    def _year(self, result: Result, option: Option) -> KeptYear:
        """The year of an option, its hours counted anew where ducts that run elsewhere bring more or less of them."""
        year, case = result.year, self.case
        if all(hill.ends == ends_of(case, option, hill.place, hill.mode) for hill in year.hills):
            return year
        units = compressors_of(case, self.found.hours(result.score.option_id))
        return replace(year, hills=hills_of(case, option, units))

    def _heard_in(self, zone: ServedZone) -> frozenset[int]:
        return reached(self.case.plan, zone) if self._reaches(zone) else frozenset()

    def _run_anew(self, shared: Shared, option: Option) -> Result:
        bench = Bench(self.case, factory_of(self.case), shared.season, shared.numbers)
        return bench.result(bench.settled_alone(option), shared, settled=True)


def reached(plan: Plan, zone: ServedZone) -> frozenset[int]:
    """Rooms into which a zone blows: the open space of a room unit, the rooms with an outlet of ducts."""
    if zone.siting is not None:
        return frozenset(space_on_level(plan, zone.siting.room))
    return frozenset(zone.rooms)


def same_year(one: Option, other: Option) -> bool:
    """Whether two options of one layout can do the same in every hour: same units, same ducts, same sharing."""
    if one is other:
        return True
    outdoor = [[group.outdoor.label for group in option.outdoor.groups] for option in (one, other)]
    return one.key == other.key and outdoor[0] == outdoor[1] and all(map(_same_zone, one.zones, other.zones))


def _same_zone(one: ServedZone, other: ServedZone) -> bool:
    if one is other:
        return True
    if one.pair.label != other.pair.label or (one.ducts is None) != (other.ducts is None):
        return False
    if one.ducts is None or other.ducts is None:
        return True
    return (
        one.demand == other.demand
        and np.array_equal(one.share, other.share)
        and np.array_equal(one.mix_w_k, other.mix_w_k)
        and one.ducts.static.total_pa == other.ducts.static.total_pa
        and one.ducts.actual_flow_m3_s == other.ducts.actual_flow_m3_s
    )


def _outside(shared: Shared, result: Result, option: Option) -> Measures:
    """Measures with the price, the findings and the sound outdoors of an option whose units may stand elsewhere."""
    measures, price = result.score.measures, option.price
    evidence = PriceEvidence(float(price.low_usd), float(price.mid_usd), float(price.high_usd), shared.reference_usd)
    level_dba = measures.outdoor_dba
    if option.routes and _spots(option) != _spots(result.option):
        hours = [running.unpacked() for running in result.year.outdoor]
        level_dba = outdoor_dba(option, hours, shared.season, shared.numbers)
    return replace(
        measures,
        outdoor_dba=level_dba,
        price=evidence,
        price_ratio=price_ratio(evidence),
        faults=tuple(Fault(finding.fatal, finding.code, finding.text) for finding in option.findings),
    )


def _spots(option: Option) -> list[OutdoorSpot]:
    return [route.spot for route in option.routes]
