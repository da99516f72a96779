"""CustomerView from a comparison, field by field. Only the price list was read on the way here, never a cost."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from compare.equipment.unit import LABEL
from compare.house.defaults import assumptions
from compare.house.model import HouseFile
from compare.scoring.criteria import CRITERIA
from compare.scoring.ranking import Ranking, best_of_families
from compare.search.flips import Flip
from compare.views.cards_build import option_card
from compare.views.customer import Answer, AssumptionLine, CustomerView, FlipLine, HouseCard, NotPossible, Number
from compare.views.plan_build import plan_view
from compare.views.shown import Shown, cannot_be_built
from compare.years.bench import Result
from compare.zones.sketch import Family

ALWAYS_A_CARD = frozenset(Family) - {Family.FEW_HEADS}
"""Families whose best option always has a card of its own."""


def customer_view(found: Shown) -> CustomerView:
    """All a customer may see of a comparison."""
    case, ranking = found.case, found.ranking
    return CustomerView(
        house=_house(found),
        plan=plan_view(case.house, case.plan),
        options=tuple(option_card(found, item) for item in found.cards),
        cards=_best_of_each(found),
        not_possible=tuple(_not_possible(found)),
        answer=_answer(ranking),
        weights={c.value: w for c, w in zip(CRITERIA, ranking.weights.fracs, strict=True)},
        priorities=found.priorities,
        profile_winners={name: ids[0] for name, ids in ranking.profile_winners if ids},
        heat_load_w=case.loads.house.heat_w,
        cool_load_w=case.loads.house.cool_total_w,
        assumptions=(*_assumptions(case.house), *found.simple_forms),
        flips=tuple(flip_line(flip) for flip in found.flips),
    )


def _best_of_each(found: Shown) -> tuple[str, ...]:
    """One card per family, its best option; a layout with a few heads only when it wins."""
    best: dict[str, str] = {}
    for item in found.cards:
        if item.place == 1 or Family(item.option.family) in ALWAYS_A_CARD:
            best.setdefault(item.option.family, item.option.option_id)
    return tuple(best.values())


def _house(found: Shown) -> HouseCard:
    house, case = found.case.house, found.case
    return HouseCard(
        name=house.house.name,
        place=house.site.place,
        units=house.units.value,
        people=house.people,
        built=house.house.built,
        demo=found.demo,
        estimate=found.placeholder_prices or _generic_units(found.results.values()),
        heating_99_c=case.design.heating_99_c,
        cooling_1_c=case.design.cooling_1_c,
        heating_set_c=house.comfort.heating_c,
        cooling_set_c=house.comfort.cooling_c,
        weather=case.weather.provenance,
        weather_error=case.weather.error_band,
        electricity_usd_kwh=house.rates.electricity_usd_kwh,
    )


def _generic_units(results: Iterable[Result]) -> bool:
    return any(zone.pair.indoor.source == LABEL for result in results for zone in result.option.zones)


def _answer(ranking: Ranking) -> Answer:
    rivals = best_of_families([item for item in ranking.ranked if item.place])
    winner = rivals[0] if rivals else None
    second = rivals[1] if len(rivals) > 1 else None
    certainty = ranking.certainty
    sampled = certainty if certainty is not None and certainty.draws > 0 else None
    return Answer(
        winner=winner.option.option_id if winner else "",
        runner_up=second.option.option_id if second else None,
        lead_points=winner.total - second.total if winner and second else 0.0,
        verdict=certainty.verdict.value if certainty else "none",
        equals=certainty.near if certainty else (),
        tries_won=round(sampled.stays_frac * sampled.draws) if sampled else None,
        tries=sampled.draws if sampled else None,
        first_otherwise=dict(sampled.others) if sampled else {},
    )


def _not_possible(found: Shown) -> Iterator[NotPossible]:
    """Families of which no option can be built, each with the reason of its best one."""
    built = {item.option.family for item in found.ranking.ranked if not cannot_be_built(item.option)}
    told: set[str] = set()
    for item in found.ranking.ranked:
        family = item.option.family
        if family in built or family in told or family not in ALWAYS_A_CARD:
            continue
        told.add(family)
        yield NotPossible(family=family, text=item.option.fatal[0].text, cure=CURES[item.option.fatal[0].code])
    for family in sorted(ALWAYS_A_CARD - built - told):
        if family in (Family.MIX, Family.DUCTED_ALL):
            yield NotPossible(
                family=family,
                text=NOWHERE[bool(found.case.plan.unit_spaces)],
                cure="A dropped ceiling, a closet, an attic or a crawlspace with room for it.",
            )


NOWHERE = {
    False: "There is no place for a concealed unit and its ducts.",
    True: "No place for a concealed unit reaches every room that needs its ducts.",
}
"""Why no layout with ducts exists, in a house without and with places for them."""

CURES = {
    "no_fit": "A larger space for the unit, or shorter and larger ducts.",
    "no_outdoor_place": "Another place outdoors.",
    "panel": "A larger panel or a load calculation by a licensed electrician.",
    "refrigerant": "A separate outdoor unit for the smallest room, or another kind of indoor unit.",
}
"""What would make an option possible, by the finding that forbids it."""


def flip_line(flip: Flip) -> FlipLine:
    """One change as a customer may see it."""
    both = (("before", flip.before), ("after", flip.after))
    numbers = tuple(Number(role=role, value=value, kind=flip.unit) for role, value in both)
    return FlipLine(kind=flip.kind, subject=flip.subject, numbers=numbers, winner=flip.winner, family=flip.family)


def _assumptions(house: HouseFile) -> Iterator[AssumptionLine]:
    for item in assumptions(house):
        yield AssumptionLine(subject=item.path, value=item.value_text, reason=item.reason)
