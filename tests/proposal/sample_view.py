"""Invented customer views for tests of pages, words and drawings. Houses, people, prices and figures do not exist.

`ranch_view()` is one storey with five options (the mix leads, *likely*); `two_storey_view()` has two storeys, three
options and no clear winner. Figures are only there to be shown; nothing is worked out from anything.
"""

from __future__ import annotations

import itertools

from compare.units import Kind, System, to_si
from compare.views.customer import (
    Answer,
    AssumptionLine,
    CustomerView,
    FaultLine,
    HouseCard,
    NotPossible,
    Number,
    OptionCard,
    OptionFacts,
    ReasonLine,
    RoomOutcome,
    UnitBand,
)
from compare.views.plan_view import OptionDrawing, PlanView
from tests.proposal.sample_drawings import ranch_drawings, two_storey_drawings
from tests.proposal.sample_plan import ranch_plan, two_storey_plan

CRITERIA = ("comfort", "noise", "price", "energy", "steady")


def celsius(value_f: float) -> float:
    """A Fahrenheit figure of a sample in Celsius."""
    return to_si(value_f, Kind.TEMPERATURE, System.US)


def watts(value_kbtu_h: float) -> float:
    """Thousands of Btu an hour in watts."""
    return to_si(value_kbtu_h * 1000.0, Kind.CAPACITY, System.US)


TARGETS_F = {"living": 70.0, "kitchen": 70.0, "bath": 68.0, "bedroom": 66.0, "work": 68.0, "hobby": 68.0}
NIGHT_TARGETS_F = {"living": 70.0, "kitchen": 70.0, "bath": 68.0, "bedroom": 66.0}


def _outcomes(
    plan: PlanView, morning_f: list[float], hot_f: list[float], bed_dba: float, seat_dba: float
) -> tuple[RoomOutcome, ...]:
    found = []
    for shape, morning, hot in zip(plan.rooms, morning_f, hot_f, strict=True):
        night, evening = NIGHT_TARGETS_F.get(shape.use), TARGETS_F.get(shape.use)
        cooled = shape.use in TARGETS_F and shape.use != "bath"
        seats = [piece for piece in plan.furniture if piece.room == shape.index and piece.kind != "bed"]
        found.append(
            RoomOutcome(
                room=shape.index,
                source="own",
                morning_c=celsius(morning),
                morning_target_c=None if night is None else celsius(night),
                evening_c=celsius(morning + 1.0),
                evening_target_c=None if evening is None else celsius(evening),
                hot_c=celsius(hot),
                hot_limit_c=celsius(75.0) if cooled else None,
                bed_dba=bed_dba + shape.index % 3 if shape.sleepers else None,
                seat_dba=seat_dba if seats else None,
            )
        )
    return tuple(found)


def band(
    label: str,
    rooms: tuple[str, ...],
    peak: tuple[float, float],
    output: tuple[float, float],
    share: float,
    *,
    mode: str = "heating",
) -> UnitBand:
    """A hill that peaks at `peak[0]` kBtu/h and ends at the design load `peak[1]`, over a band `output`."""
    top, design = peak
    edges = [design * step / 24.0 for step in range(25)]
    hours = []
    for low, high in itertools.pairwise(edges):
        middle = (low + high) / 2.0
        side = top if middle < top else design - top
        hours.append(max(0.0, 320.0 * (1.0 - ((middle - top) / side) ** 2)))
    return UnitBand(
        label=label,
        tags=(label.upper()[:1] + "1",),
        rooms=rooms,
        mode=mode,
        edges_w=tuple(watts(edge) for edge in edges),
        hours=tuple(hours),
        design_load_w=watts(design),
        smallest_w=watts(output[0]),
        largest_w=watts(output[1]),
        on_off_share=share,
        starts_per_year=2100.0,
    )


def _facts(
    coldest: tuple[str, float], pillow_dba: float, prices: tuple[float, float, float], bill: float
) -> OptionFacts:
    low, middle, high = prices
    return OptionFacts(
        coldest_bedroom=coldest[0],
        coldest_bedroom_c=celsius(coldest[1]),
        pillow_dba=pillow_dba,
        pillow_room="Bedroom 1",
        price_low_usd=low,
        price_usd=middle,
        price_high_usd=high,
        bill_usd=bill,
        electricity_kwh=bill / 0.165,
        equal_service_kwh=bill / 0.16,
        equal_service_cop=3.1,
        old_fuel_kwh=0.0,
        resistance_share=0.0,
        starts_per_year=2100.0,
        below_minimum_share=0.34,
        outdoor_dba=43.0,
        outdoor_units=2,
        visible_units=1,
    )


def reason(code: str, criterion: str, better: str, worse: str, *numbers: Number, points: float = 2.0) -> ReasonLine:
    """A reason with its numbers."""
    return ReasonLine(code=code, criterion=criterion, better=better, worse=worse, numbers=numbers, points=points)


def _card(
    option_id: str, family: str, total: float, scores: tuple[float, ...], facts: OptionFacts
) -> dict[str, object]:
    return {
        "id": option_id,
        "family": family,
        "heads": 0,
        "hidden": 0,
        "heaters": 0,
        "old_heat": False,
        "shared_outdoor": False,
        "places": (),
        "head_rooms": (),
        "ducted_rooms": (),
        "heater_rooms": (),
        "status": "offered",
        "total": total,
        "criteria": dict(zip(CRITERIA, scores, strict=True)),
        "facts": facts,
        "bands": (),
        "faults": (),
        "weak_point": None,
        "better_than_winner": (),
        "worse_than_winner": (),
    }


def _option(base: dict[str, object], drawing: OptionDrawing, **more: object) -> OptionCard:
    return OptionCard.model_validate({**base, "drawing": drawing, **more})


def _house(name: str, *, units: str = "US") -> HouseCard:
    return HouseCard(
        name=name,
        place="Invented town",
        units=units,
        people=4.0,
        built=1974,
        demo=True,
        estimate=True,
        heating_99_c=celsius(25.0),
        cooling_1_c=celsius(88.0),
        heating_set_c=celsius(70.0),
        cooling_set_c=celsius(75.0),
        weather="An invented weather year.",
        weather_error="Invented; a real house may differ by 2 °F.",
        electricity_usd_kwh=0.165,
    )


def _ranch_options() -> tuple[OptionCard, ...]:
    plan, drawings = ranch_plan(), ranch_drawings()
    living, small = ("Living, dining, kitchen",), ("Bedroom 1", "Bedroom 2", "Bedroom 3", "Bath")
    wall_band = band("Wall unit", living, (3.6, 9.7), (3.0, 12.6), 0.32)
    hidden_band = band("Hidden unit", small, (3.1, 8.0), (2.8, 10.4), 0.40)
    tiny = band("Wall unit in Bedroom 2", ("Bedroom 2",), (0.9, 1.9), (1.5, 7.8), 0.87)
    whole = band("Hidden unit", (*living, *small), (6.0, 17.7), (5.6, 24.0), 0.35)
    usd = Number(role="difference", value=9000.0, kind="usd")
    mix = _option(
        _card(
            "mix",
            "mix",
            86.0,
            (92.0, 90.0, 62.0, 84.0, 88.0),
            _facts(("Bedroom 2", 69.0), 24.0, (14400, 15800, 17400), 710),
        ),
        drawings["mix"],
        heads=1,
        hidden=1,
        places=("Hall ceiling",),
        head_rooms=living,
        ducted_rooms=small,
        bands=(wall_band, hidden_band),
        rooms=_outcomes(plan, [70, 69, 68, 64, 68, 69, 70], [75, 75, 76, 79, 77, 75, 75], 24.0, 31.0),
        weak_point=reason("price", "price", "heaters", "mix", usd),
    )
    heaters = _option(
        _card(
            "heaters",
            "heads_and_heaters",
            82.0,
            (80.0, 93.0, 95.0, 52.0, 80.0),
            _facts(("Bedroom 3", 67.0), 21.0, (6200, 6800, 7500), 1190),
        ),
        drawings["heaters"],
        heads=1,
        heaters=3,
        head_rooms=living,
        heater_rooms=("Bedroom 1", "Bedroom 2", "Bedroom 3"),
        bands=(wall_band,),
        rooms=_outcomes(plan, [70, 67, 64, 61, 62, 67, 68], [75, 82, 78, 81, 80, 83, 81], 21.0, 31.0),
        weak_point=reason(
            "hot_room", "comfort", "mix", "heaters", Number(role="temperature", value=celsius(83.0), kind="temperature")
        ),
        better_than_winner=(reason("price", "price", "heaters", "mix", usd, points=6.0),),
        worse_than_winner=(
            reason(
                "energy", "energy", "mix", "heaters", Number(role="difference", value=480.0, kind="usd"), points=4.0
            ),
        ),
    )
    hidden = _option(
        _card(
            "hidden",
            "ducted_all",
            80.0,
            (90.0, 60.0, 66.0, 78.0, 84.0),
            _facts(("Bedroom 3", 68.0), 33.0, (13600, 15000, 16600), 860),
        ),
        drawings["hidden"],
        hidden=1,
        places=("Hall ceiling",),
        ducted_rooms=(*living, *small),
        bands=(whole,),
        rooms=_outcomes(plan, [70, 68, 68, 66, 68, 68, 69], [75, 76, 76, 78, 77, 77, 76], 31.0, 34.0),
        weak_point=reason("noise_bed", "noise", "mix", "hidden", Number(role="level", value=33.0, kind="dba")),
        better_than_winner=(
            reason("price", "price", "hidden", "mix", Number(role="difference", value=800.0, kind="usd")),
        ),
    )
    each = _option(
        _card(
            "each",
            "head_each",
            80.0,
            (91.0, 86.0, 58.0, 88.0, 30.0),
            _facts(("Bedroom 1", 70.0), 25.0, (14700, 16100, 17800), 680),
        ),
        drawings["each"],
        heads=4,
        head_rooms=("Living, dining, kitchen", "Bedroom 1", "Bedroom 2", "Bedroom 3"),
        bands=(wall_band, tiny),
        rooms=_outcomes(plan, [70, 70, 65, 62, 61, 70, 70], [75, 75, 77, 80, 79, 75, 75], 23.0, 31.0),
        weak_point=reason("starts", "steady", "mix", "each", Number(role="share", value=0.87, kind="share")),
        better_than_winner=(
            reason("energy", "energy", "each", "mix", Number(role="difference", value=30.0, kind="usd")),
        ),
    )
    one = _option(
        _card(
            "one",
            "single_head",
            0.0,
            (10.0, 93.0, 97.0, 90.0, 80.0),
            _facts(("Bedroom 3", 48.0), 20.0, (5500, 6000, 6700), 540),
        ),
        drawings["one"],
        status="left out",
        heads=1,
        head_rooms=living,
        bands=(wall_band,),
        rooms=_outcomes(plan, [70, 49, 61, 56, 53, 48, 50], [75, 84, 79, 82, 81, 85, 83], 20.0, 31.0),
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
        house=_house("The sample ranch"),
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
    mix = _option(
        _card(
            "mix",
            "mix",
            81.0,
            (84.0, 88.0, 60.0, 82.0, 86.0),
            _facts(("Guest bedroom", 63.0), 26.0, (16800, 18400, 20200), 940),
        ),
        drawings["mix"],
        heads=2,
        hidden=1,
        places=("Attic",),
        head_rooms=("Living room", "Study"),
        ducted_rooms=("Main bedroom", "Child's room", "Sewing room", "Teenager's room"),
        bands=(down, _upper_band()),
        rooms=_outcomes(plan, [float(t) for t in warm], [float(t) for t in hot], 25.0, 32.0),
        weak_point=reason("price", "price", "each", "mix", Number(role="difference", value=400.0, kind="usd")),
    )
    each = _option(
        _card(
            "each",
            "head_each",
            80.0,
            (80.0, 86.0, 62.0, 86.0, 50.0),
            _facts(("Guest bedroom", 59.0), 25.0, (16500, 18000, 19800), 900),
        ),
        drawings["each"],
        heads=6,
        head_rooms=("Living room", "Study", "Main bedroom", "Child's room", "Teenager's room"),
        bands=(down,),
        rooms=_outcomes(plan, [float(t) for t in heads], [float(t) for t in hot], 23.0, 32.0),
        weak_point=reason("starts", "steady", "mix", "each", Number(role="share", value=0.78, kind="share")),
    )
    one = _option(
        _card(
            "one",
            "single_head",
            0.0,
            (8.0, 92.0, 96.0, 90.0, 78.0),
            _facts(("Guest bedroom", 54.0), 22.0, (5800, 6300, 7000), 610),
        ),
        drawings["one"],
        status="left out",
        heads=1,
        head_rooms=("Living room",),
        bands=(down,),
        rooms=_outcomes(plan, [float(t) for t in cold], [float(t) for t in hotter], 22.0, 32.0),
        faults=(FaultLine(code="cold_room", fatal=True, text="The guest bedroom is about 54 °F at 6 a.m."),),
    )
    return (mix, each, one)


def two_storey_view() -> CustomerView:
    """Two storeys turned against north, three options: mix and each (too close to call), one (left out)."""
    options = _two_storey_options()
    return CustomerView(
        house=_house("The sample two-storey house"),
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
