"""Invented customer views for tests of pages, words and drawings. Houses, people, prices and figures do not exist.

`ranch_view()` is one storey with five options (the mix leads, *likely*); `two_storey_view()` has two storeys, three
options and no clear winner. Figures are only there to be shown; nothing is worked out from anything.
"""

from __future__ import annotations

from compare.views.customer import (
    Answer,
    AssumptionLine,
    CustomerView,
    FaultLine,
    NotPossible,
    Number,
    OptionCard,
    UnitBand,
)
from tests.proposal.sample_drawings import ranch_drawings, two_storey_drawings
from tests.proposal.sample_parts import CRITERIA, band, card, celsius, facts, house, option, outcomes, reason, watts
from tests.proposal.sample_plan import ranch_plan, two_storey_plan

__all__ = ["band", "celsius", "ranch_view", "reason", "two_storey_view", "watts"]


def _ranch_options() -> tuple[OptionCard, ...]:
    plan, drawings = ranch_plan(), ranch_drawings()
    living, small = ("Living, dining, kitchen",), ("Bedroom 1", "Bedroom 2", "Bedroom 3", "Bath")
    wall_band = band("Wall unit", living, (3.6, 9.7), (3.0, 12.6), 0.32)
    hidden_band = band("Hidden unit", small, (3.1, 8.0), (2.8, 10.4), 0.40)
    tiny = band("Wall unit in Bedroom 2", ("Bedroom 2",), (0.9, 1.9), (1.5, 7.8), 0.87)
    whole = band("Hidden unit", (*living, *small), (6.0, 17.7), (5.6, 24.0), 0.35)
    usd = Number(role="difference", value=9000.0, kind="usd")
    mix = option(
        card(
            "mix",
            "mix",
            86.0,
            (92.0, 90.0, 62.0, 84.0, 88.0),
            facts(("Bedroom 2", 69.0), 24.0, (14400, 15800, 17400), 710),
        ),
        drawings["mix"],
        heads=1,
        hidden=1,
        places=("Hall ceiling",),
        head_rooms=living,
        ducted_rooms=small,
        bands=(wall_band, hidden_band),
        rooms=outcomes(plan, [70, 69, 68, 64, 68, 69, 70], [75, 75, 76, 79, 77, 75, 75], 24.0, 31.0),
        weak_point=reason("price", "rough cost", "heaters", "mix", usd),
    )
    heaters = option(
        card(
            "heaters",
            "heads_and_heaters",
            82.0,
            (80.0, 93.0, 95.0, 52.0, 80.0),
            facts(("Bedroom 3", 67.0), 21.0, (6200, 6800, 7500), 1190),
        ),
        drawings["heaters"],
        heads=1,
        heaters=3,
        head_rooms=living,
        heater_rooms=("Bedroom 1", "Bedroom 2", "Bedroom 3"),
        bands=(wall_band,),
        rooms=outcomes(plan, [70, 67, 64, 61, 62, 67, 68], [75, 82, 78, 81, 80, 83, 81], 21.0, 31.0),
        weak_point=reason(
            "hot_room", "comfort", "mix", "heaters", Number(role="temperature", value=celsius(83.0), kind="temperature")
        ),
        better_than_winner=(reason("price", "rough cost", "heaters", "mix", usd, points=6.0),),
        worse_than_winner=(
            reason(
                "energy", "energy", "mix", "heaters", Number(role="difference", value=480.0, kind="usd"), points=4.0
            ),
        ),
    )
    hidden = option(
        card(
            "hidden",
            "ducted_all",
            80.0,
            (90.0, 60.0, 66.0, 78.0, 84.0),
            facts(("Bedroom 3", 68.0), 33.0, (13600, 15000, 16600), 860),
        ),
        drawings["hidden"],
        hidden=1,
        places=("Hall ceiling",),
        ducted_rooms=(*living, *small),
        bands=(whole,),
        rooms=outcomes(plan, [70, 68, 68, 66, 68, 68, 69], [75, 76, 76, 78, 77, 77, 76], 31.0, 34.0),
        weak_point=reason("noise_bed", "noise", "mix", "hidden", Number(role="level", value=33.0, kind="dba")),
        better_than_winner=(
            reason("price", "rough cost", "hidden", "mix", Number(role="difference", value=800.0, kind="usd")),
        ),
    )
    each = option(
        card(
            "each",
            "head_each",
            80.0,
            (91.0, 86.0, 58.0, 88.0, 30.0),
            facts(("Bedroom 1", 70.0), 25.0, (14700, 16100, 17800), 680),
        ),
        drawings["each"],
        heads=4,
        head_rooms=("Living, dining, kitchen", "Bedroom 1", "Bedroom 2", "Bedroom 3"),
        bands=(wall_band, tiny),
        rooms=outcomes(plan, [70, 70, 65, 62, 61, 70, 70], [75, 75, 77, 80, 79, 75, 75], 23.0, 31.0),
        weak_point=reason("starts", "cycling", "mix", "each", Number(role="share", value=0.87, kind="share")),
        better_than_winner=(
            reason("energy", "energy", "each", "mix", Number(role="difference", value=30.0, kind="usd")),
        ),
    )
    one = option(
        card(
            "one",
            "single_head",
            0.0,
            (10.0, 93.0, 97.0, 90.0, 80.0),
            facts(("Bedroom 3", 48.0), 20.0, (5500, 6000, 6700), 540),
        ),
        drawings["one"],
        status="left out",
        heads=1,
        head_rooms=living,
        bands=(wall_band,),
        rooms=outcomes(plan, [70, 49, 61, 56, 53, 48, 50], [75, 84, 79, 82, 81, 85, 83], 20.0, 31.0),
        faults=(
            FaultLine(
                code="cold_room",
                fatal=True,
                text="Bedroom 3 is about 48 °F at 6 a.m.",
                numbers=(Number(role="temperature", value=celsius(48.0), kind="temperature"),),
                rooms=("Bedroom 3",),
            ),
        ),
        weak_point=reason(
            "cold_room", "comfort", "mix", "one", Number(role="temperature", value=celsius(48.0), kind="temperature")
        ),
    )
    return (mix, heaters, hidden, each, one)


def ranch_view() -> CustomerView:
    """One storey, five options: mix, heaters, hidden, each, one (left out)."""
    options = _ranch_options()
    return CustomerView(
        house=house("The sample ranch"),
        plan=ranch_plan(),
        options=options,
        cards=tuple(option.id for option in options),
        not_possible=(
            NotPossible(family="few_heads", text="Two heads would stand in one room.", cure="A wall between them."),
        ),
        answer=Answer(
            winner="mix",
            runner_up="heaters",
            lead_points=4.0,
            verdict="likely",
            equals=("mix",),
            tries_won=71,
            tries=100,
        ),
        weights=dict(zip(CRITERIA, (0.3, 0.2, 0.2, 0.2, 0.1), strict=True)),
        priorities=dict(zip(CRITERIA, (4, 3, 2, 2, 2), strict=True)),
        profile_winners={"balanced": "mix", "price first": "heaters"},
        heat_load_w=watts(17.7),
        cool_load_w=watts(17.3),
        assumptions=(AssumptionLine(subject="Air leakage", value="7 air changes", reason="typical for its age"),),
    )


def _upper_band() -> UnitBand:
    return band("Hidden unit", ("Main bedroom", "Child's room", "Teenager's room"), (4.0, 10.6), (3.4, 13.0), 0.36)


def _two_storey_options() -> tuple[OptionCard, ...]:
    plan, drawings = two_storey_plan(), two_storey_drawings()
    down = band("Wall unit", ("Living room", "Kitchen and dining"), (4.2, 11.4), (3.4, 14.8), 0.30)
    warm = [70, 68, 66, 67, 61, 63, 67, 66, 68, 67, 62, 67, 66, 66]
    heads = [70, 68, 64, 68, 60, 59, 66, 66, 62, 65, 60, 65, 64, 67]
    cold = [70, 68, 62, 58, 55, 54, 62, 58, 57, 63, 56, 61, 57, 56]
    hot = [75, 76, 77, 75, 79, 80, 75, 76, 78, 78, 80, 78, 76, 76]
    hotter = [75, 77, 79, 80, 82, 82, 82, 83, 82, 81, 84, 82, 85, 86]
    mix = option(
        card(
            "mix",
            "mix",
            81.0,
            (84.0, 88.0, 60.0, 82.0, 86.0),
            facts(("Guest bedroom", 63.0), 26.0, (16800, 18400, 20200), 940),
        ),
        drawings["mix"],
        heads=2,
        hidden=1,
        places=("Attic",),
        head_rooms=("Living room", "Study"),
        ducted_rooms=("Main bedroom", "Child's room", "Sewing room", "Teenager's room"),
        bands=(down, _upper_band()),
        rooms=outcomes(plan, [float(t) for t in warm], [float(t) for t in hot], 25.0, 32.0),
        weak_point=reason("price", "rough cost", "each", "mix", Number(role="difference", value=400.0, kind="usd")),
    )
    each = option(
        card(
            "each",
            "head_each",
            80.0,
            (80.0, 86.0, 62.0, 86.0, 50.0),
            facts(("Guest bedroom", 59.0), 25.0, (16500, 18000, 19800), 900),
        ),
        drawings["each"],
        heads=6,
        head_rooms=("Living room", "Study", "Main bedroom", "Child's room", "Teenager's room"),
        bands=(down,),
        rooms=outcomes(plan, [float(t) for t in heads], [float(t) for t in hot], 23.0, 32.0),
        weak_point=reason("starts", "cycling", "mix", "each", Number(role="share", value=0.78, kind="share")),
    )
    one = option(
        card(
            "one",
            "single_head",
            0.0,
            (8.0, 92.0, 96.0, 90.0, 78.0),
            facts(("Guest bedroom", 54.0), 22.0, (5800, 6300, 7000), 610),
        ),
        drawings["one"],
        status="left out",
        heads=1,
        head_rooms=("Living room",),
        bands=(down,),
        rooms=outcomes(plan, [float(t) for t in cold], [float(t) for t in hotter], 22.0, 32.0),
        faults=(FaultLine(code="cold_room", fatal=True, text="The guest bedroom is about 54 °F at 6 a.m."),),
    )
    return (mix, each, one)


def two_storey_view() -> CustomerView:
    """Two storeys turned against north, three options: mix and each (too close to call), one (left out)."""
    options = _two_storey_options()
    return CustomerView(
        house=house("The sample two-storey house"),
        plan=two_storey_plan(),
        options=options,
        cards=tuple(option.id for option in options),
        not_possible=(),
        answer=Answer(
            winner="mix",
            runner_up="each",
            lead_points=1.0,
            verdict="too close to call",
            equals=("each", "mix"),
            tries_won=52,
            tries=100,
        ),
        weights=dict(zip(CRITERIA, (0.3, 0.2, 0.2, 0.2, 0.1), strict=True)),
        priorities=dict(zip(CRITERIA, (4, 3, 2, 2, 2), strict=True)),
        profile_winners={"balanced": "mix"},
        heat_load_w=watts(26.0),
        cool_load_w=watts(22.0),
        assumptions=(),
    )
