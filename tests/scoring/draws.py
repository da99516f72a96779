"""Random but possible measures of options of one house, for property tests."""

from __future__ import annotations

import math
from dataclasses import replace

from hypothesis import strategies as st

from compare.house.plan import Use
from compare.scoring.evidence import PriceEvidence, Source
from compare.scoring.measures import Measures
from compare.scoring.room_measures import RoomMeasures
from compare.scoring.scores import OptionScore, score_measures
from compare.scoring.unit_measures import UnitMeasures
from tests.scoring.builders import energy, plan

USES = (Use.LIVING, Use.BEDROOM, Use.BEDROOM, Use.WORK, Use.BATH)
SHARE = st.floats(0.0, 1.0, allow_nan=False)


def number(low: float, high: float):
    return st.floats(low, high, allow_nan=False, allow_infinity=False)


@st.composite
def room_measures(draw, index: int, use: Use) -> RoomMeasures:
    source = draw(st.sampled_from(list(Source)))
    open_always = draw(st.booleans())
    on_unit = source is Source.SERVED or open_always
    morning = draw(number(5.0, 22.0))
    room = plan(f"Room {index}", use, regular=index != 2)
    bed = use is Use.BEDROOM
    return RoomMeasures(
        index=index,
        room=room,
        source=source,
        open_always=open_always,
        open_ever=open_always or draw(st.booleans()),
        heat_load_w=700.0 + 300.0 * index,
        cool_load_w=500.0 + 200.0 * index,
        heat_cover=draw(number(0.3, 6.0)) if on_unit else math.nan,
        cool_cover=draw(number(0.3, 6.0)) if on_unit else math.nan,
        morning_c=morning,
        morning_drop_k=max(0.0, room.target_c - morning),
        cold_frac=draw(SHARE) ** 3,
        hot_frac=draw(SHARE) ** 3,
        draught_frac=draw(number(0.0, 0.5)),
        bed_dba=draw(number(18.0, 45.0)) if bed else math.nan,
        seat_dba=math.nan if bed else draw(number(18.0, 45.0)),
        coldest_night_c=morning if bed else math.nan,
        people_frac=(0.4, 0.25, 0.05, 0.2, 0.1)[index],
        sleepers=(0.0, 2.0, 0.1, 0.0, 0.0)[index],
        bed_running_dba=math.nan,
    )


@st.composite
def unit_measures(draw, index: int) -> UnitMeasures:
    return UnitMeasures(
        name=f"Outdoor unit {index + 1}",
        rooms=(index,),
        heads=1,
        running_h=draw(number(100.0, 8000.0)),
        below_min_frac=draw(SHARE),
        starts_per_y=draw(number(0.0, 30000.0)),
        law_starts_per_y=0.0,
        mild_starts_per_h=0.0,
        peak_starts_per_h=draw(number(0.0, 6.0)),
        heat_kwh=draw(number(0.0, 9000.0)),
    )


@st.composite
def measures(draw, option_id: str = "a", warm: bool = False) -> Measures:
    """Measures of one option; with `warm` no bedroom is cold enough to be rejected."""
    rooms = [draw(room_measures(i, use)) for i, use in enumerate(USES)]
    if warm:
        rooms = [
            replace(r, coldest_night_c=18.0, source=Source.SERVED, heat_cover=1.0, cool_cover=1.0)
            if r.room.use is Use.BEDROOM
            else r
            for r in rooms
        ]
    units = tuple(draw(unit_measures(i)) for i in range(draw(st.integers(1, 3))))
    kwh = draw(number(2500.0, 15000.0))
    use = energy(kwh)
    mid = draw(number(4000.0, 40000.0))
    return Measures(
        option_id=option_id,
        family="mix",
        name=f"Option {option_id}",
        rooms=tuple(rooms),
        units=units,
        backup_frac=0.0,
        outdoor_dba=draw(number(30.0, 62.0)),
        outdoor_limit_dba=50.0,
        damp_frac=draw(SHARE),
        price=PriceEvidence(0.85 * mid, mid, 1.2 * mid, 6000.0),
        price_ratio=mid / 6000.0,
        energy=use,
        cop=11000.0 / kwh,
        cool_share_frac=0.15,
        visible_units=draw(st.integers(0, 6)),
        outdoor_units=len(units),
        faults=(),
    )


@st.composite
def options(draw, least: int = 2, most: int = 5, warm: bool = False) -> list[OptionScore]:
    """Scored options of one house with ids a, b, c, ..."""
    count = draw(st.integers(least, most))
    return [score_measures(draw(measures("abcdefgh"[k], warm))) for k in range(count)]
