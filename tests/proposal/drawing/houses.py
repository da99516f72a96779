"""Invented houses of random rooms for tests: columns cut into rooms, with units and heaters along their walls."""

from __future__ import annotations

from itertools import pairwise

from hypothesis import strategies as st

from compare.views.customer import CustomerView, RoomOutcome
from compare.views.plan_view import LevelView, OptionDrawing, PlanView
from tests.proposal.sample_drawings import head, heater
from tests.proposal.sample_plan import Rect, shapes_of, walls_of
from tests.proposal.sample_view import ranch_view

USES = ("living", "bedroom", "bath", "hall", "storage")
NAMES = ("Bath", "Bedroom for guests", "Wohn- und Schlafzimmer", "Den", "Großmutters Nähzimmer", "Hall & stairs <2>")


@st.composite
def houses(draw: st.DrawFn) -> CustomerView:
    """A one-storey view with 2 to 12 rooms of 1 m to 6 m a side and a unit in some of them."""
    rects: list[Rect] = []
    x = 0.0
    for _ in range(draw(st.integers(1, 4))):
        width = draw(st.sampled_from([1.0, 1.8, 2.6, 3.6, 5.5]))
        cuts = draw(st.lists(st.sampled_from([1.2, 2.4, 4.0, 5.6, 6.8]), max_size=2, unique=True))
        marks = [0.0, *sorted(cuts), 8.0]
        for low, high in pairwise(marks):
            name, use = draw(st.sampled_from(NAMES)), draw(st.sampled_from(USES))
            rects.append((f"{name} {len(rects) + 1}", use, 0, x, low, x + width, high))
        x += width
    rooms = shapes_of(rects, {})
    plan = PlanView(
        levels=(LevelView(level=0, name="Ground"),),
        rooms=rooms,
        walls=walls_of(rects),
        windows=(),
        doors=(),
        furniture=(),
        north_deg=draw(st.sampled_from([0.0, 35.0, 180.0])),
    )
    units = []
    for index, (_, _, _, x0, y0, x1, y1) in enumerate(rects):
        kind = draw(st.sampled_from(["none", "head", "heater"]))
        if kind == "head":
            units.append(head(f"W{index}", index, (x0, (y0 + y1) / 2.0), 90.0 + plan.north_deg))
        elif kind == "heater":
            units.append(heater(f"E{index}", index, ((x0 + x1) / 2.0, y0), plan.north_deg))
    outcomes = tuple(
        RoomOutcome(
            room=index,
            source="own",
            morning_c=draw(st.floats(5.0, 25.0)),
            morning_target_c=draw(st.sampled_from([None, 19.0, 21.0])),
            evening_c=20.0,
            evening_target_c=20.0,
            hot_c=26.0,
            hot_limit_c=24.0,
            bed_dba=None,
            seat_dba=None,
        )
        for index in range(len(rects))
    )
    view = ranch_view()
    option = view.options[0].model_copy(
        update={"rooms": outcomes, "drawing": OptionDrawing(units=tuple(units), ducts=(), outdoor=())}
    )
    return view.model_copy(update={"plan": plan, "options": (option,)})
