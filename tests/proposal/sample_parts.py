"""Parts of the invented views: figures, room outcomes, bands, cards. Nothing is worked out from anything."""

from __future__ import annotations

import itertools

from compare.units import Kind, System, to_si
from compare.views.customer import (
    HouseCard,
    Number,
    OptionCard,
    OptionFacts,
    ReasonLine,
    RoomOutcome,
    UnitBand,
)
from compare.views.plan_view import OptionDrawing, PlanView

CRITERIA = ("comfort", "noise", "rough cost", "energy", "cycling")


def celsius(value_f: float) -> float:
    """A Fahrenheit figure of a sample in Celsius."""
    return to_si(value_f, Kind.TEMPERATURE, System.US)


def watts(value_kbtu_h: float) -> float:
    """Thousands of Btu an hour in watts."""
    return to_si(value_kbtu_h * 1000.0, Kind.CAPACITY, System.US)


TARGETS_F = {"living": 70.0, "kitchen": 70.0, "bath": 68.0, "bedroom": 66.0, "work": 68.0, "hobby": 68.0}
NIGHT_TARGETS_F = {"living": 70.0, "kitchen": 70.0, "bath": 68.0, "bedroom": 66.0}


def outcomes(
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


def facts(
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
        bill_low_usd=0.9 * bill,
        bill_high_usd=1.1 * bill,
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


def card(option_id: str, family: str, total: float, scores: tuple[float, ...], facts: OptionFacts) -> dict[str, object]:
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


def option(base: dict[str, object], drawing: OptionDrawing, **more: object) -> OptionCard:
    return OptionCard.model_validate({**base, "drawing": drawing, **more})


def house(name: str, *, units: str = "US") -> HouseCard:
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
