"""Invented views whose reasons carry the codes and numbers of the scoring, for tests of words and papers."""

from __future__ import annotations

from compare.views.customer import CustomerView, FaultLine, Number, OptionCard, ReasonLine
from tests.proposal.sample_view import celsius, ranch_view, two_storey_view

CRITERIA = {
    "price": "rough cost",
    "energy": "energy",
    "bill": "",
    "no_cooling": "load match",
    "on_heaters": "load match",
    "bed_noise": "noise",
    "below_minimum": "cycling",
    "starts": "cycling",
    "morning": "comfort",
    "outdoor_units": "",
}
PROFILES = {
    "Balanced": "mix",
    "Keep the price down": "heaters",
    "Quiet and even": "mix",
    "Low bills": "mix",
    "Built to last": "mix",
}
BEDROOMS = ("Bedroom 3", "Bedroom 1", "Bedroom 2")


def fact(
    code: str,
    sides: tuple[str, str],
    numbers: tuple[float, float],
    *,
    kind: str = "",
    rooms: tuple[str, ...] = (),
    points: float = 2.0,
) -> ReasonLine:
    """A reason with the numbers of its better and its worse side."""
    return ReasonLine(
        code=code,
        criterion=CRITERIA.get(code, ""),
        better=sides[0],
        worse=sides[1],
        numbers=(
            Number(role="better", value=numbers[0], kind=kind or "count"),
            Number(role="worse", value=numbers[1], kind=kind or "count"),
        ),
        rooms=rooms,
        points=points,
    )


def _with(option: OptionCard, **changes: object) -> OptionCard:
    return OptionCard.model_validate({**option.model_dump(), **changes})


def _dumped(*reasons: ReasonLine) -> list[dict[str, object]]:
    return [reason.model_dump() for reason in reasons]


def doors(view: CustomerView, *options: str) -> list[dict[str, object]]:
    """Bedrooms with their doors shut as they are in the view, and with them open half the way to 70 degF."""
    beds = [shape.index for shape in view.plan.rooms if shape.use == "bedroom"]
    found = []
    for option_id in options:
        shut = {room.room: room.morning_c for room in view.option(option_id).rooms}
        rooms = [{"room": i, "shut_c": shut[i], "open_c": (shut[i] + celsius(70.0)) / 2.0} for i in beds]
        found.append({"option": option_id, "rooms": rooms})
    return found


def told_ranch() -> CustomerView:
    """The sample ranch: the mix is likely, room heaters are its strongest rival, one wall unit is left out."""
    view = ranch_view()
    price = fact("price", ("heaters", "mix"), (6800.0, 15800.0), kind="usd", points=6.0)
    heaters_worse = (
        fact("no_cooling", ("mix", "heaters"), (0.0, 3.0), rooms=BEDROOMS, points=5.0),
        fact("energy", ("mix", "heaters"), (4300.0, 7200.0), kind="kwh", points=4.0),
        fact("bill", ("mix", "heaters"), (710.0, 1190.0), kind="usd", points=0.0),
    )
    noise = fact("bed_noise", ("mix", "hidden"), (24.0, 33.0), kind="dba", rooms=("Bedroom 1",), points=4.0)
    below = fact("below_minimum", ("mix", "each"), (0.40, 0.87), kind="share", points=4.0)
    units = fact("outdoor_units", ("mix", "each"), (2.0, 4.0), points=0.0)
    cold = fact(
        "morning", ("mix", "one"), (celsius(69.0), celsius(48.0)), kind="temperature", rooms=("Bedroom 3",), points=20.0
    )
    fault = FaultLine(
        code="cold_bedroom",
        fatal=True,
        text="On the coldest mornings Bedroom 3 is at 48.2 °F. A bedroom under 58 °F at night is too cold to offer.",
        numbers=(
            Number(role="value", value=celsius(48.0), kind="temperature"),
            Number(role="limit", value=celsius(58.0), kind="temperature"),
        ),
        rooms=("Bedroom 3",),
    )
    cheap = fact("price", ("one", "mix"), (6000.0, 15800.0), kind="usd", points=7.0)
    changed = {
        "mix": {"weak_point": price.model_dump(), "better_than_winner": [], "worse_than_winner": []},
        "heaters": {
            "weak_point": heaters_worse[0].model_dump(),
            "better_than_winner": _dumped(price),
            "worse_than_winner": _dumped(*heaters_worse),
        },
        "hidden": {
            "weak_point": noise.model_dump(),
            "better_than_winner": [],
            "worse_than_winner": _dumped(
                noise, fact("bill", ("mix", "hidden"), (710.0, 860.0), kind="usd", points=0.0)
            ),
        },
        "each": {
            "weak_point": below.model_dump(),
            "better_than_winner": [],
            "worse_than_winner": _dumped(below, units),
        },
        "one": {
            "weak_point": cold.model_dump(),
            "better_than_winner": _dumped(cheap),
            "worse_than_winner": _dumped(cold),
            "faults": [fault.model_dump()],
        },
    }
    options = [_with(option, **changed[option.id]).model_dump() for option in view.options]
    more = {"options": options, "profile_winners": PROFILES, "doors": doors(view, "mix", "one")}
    return CustomerView.model_validate({**view.model_dump(), **more})


def told_two_storey() -> CustomerView:
    """The sample house of two storeys: the mix and a unit in each room are too close to call."""
    view = two_storey_view()
    starts = fact("starts", ("mix", "each"), (2100.0, 4800.0), kind="starts", points=3.0)
    price = fact("price", ("each", "mix"), (16000.0, 18400.0), kind="usd", points=2.0)
    cold = fact(
        "morning",
        ("mix", "one"),
        (celsius(63.0), celsius(54.0)),
        kind="temperature",
        rooms=("Guest bedroom",),
        points=15.0,
    )
    changed = {
        "mix": {"weak_point": price.model_dump()},
        "each": {
            "weak_point": starts.model_dump(),
            "better_than_winner": _dumped(price),
            "worse_than_winner": _dumped(starts),
        },
        "one": {"weak_point": cold.model_dump(), "worse_than_winner": _dumped(cold)},
    }
    options = [_with(option, **changed[option.id]).model_dump() for option in view.options]
    profiles = {**PROFILES, "Keep the price down": "each"}
    more = {"options": options, "profile_winners": profiles, "doors": doors(view, "each", "mix", "one")}
    return CustomerView.model_validate({**view.model_dump(), **more})
