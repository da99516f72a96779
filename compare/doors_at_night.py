"""Every room at 6 on the coldest mornings with the bedroom doors shut at night and with them open, the same units."""

from __future__ import annotations

from collections.abc import Sequence

from compare.house.plan import Use
from compare.pipeline import Comparison
from compare.scoring.judgements import rulebook
from compare.scoring.room_measures import morning_c
from compare.views.customer import DoorsOutcome, RoomDoors
from compare.whatif import bedroom_doors_shut, doors_at_night
from compare.years.bench import Bench
from compare.years.case import prepare
from compare.years.gather import OptionRun
from compare.years.supplies import factory_of


def doors_both_ways(found: Comparison, option_ids: Sequence[str]) -> tuple[DoorsOutcome, ...]:
    """Bedrooms of some options with their doors shut and with them open; nothing where no bedroom has a door.

    The units stay as they were designed; only the doors change. Where the family keeps all doors alike, one of the two
    is the year that the comparison has run; the other is run here.

    Raises
    ------
    KeyError
        If the comparison has no such option.
    """
    beds = _bedrooms_with_doors(found)
    if not beds:
        return ()
    habit = bedroom_doors_shut(found.case.house)
    shut, opened = (
        [found.hours(option_id) for option_id in option_ids] if habit is state else _runs(found, option_ids, shut=state)
        for state in (True, False)
    )
    return tuple(
        DoorsOutcome(
            option=option_id,
            rooms=tuple(
                RoomDoors(room=room, shut_c=_morning_c(found, one, room), open_c=_morning_c(found, other, room))
                for room in beds
            ),
        )
        for option_id, one, other in zip(option_ids, shut, opened, strict=True)
    )


def _bedrooms_with_doors(found: Comparison) -> tuple[int, ...]:
    """Bedrooms behind a door that may be shut."""
    doors = {name for door in found.case.house.doors if door.between is not None for name in door.between}
    rooms = enumerate(found.case.plan.rooms)
    return tuple(index for index, room in rooms if room.use is Use.BEDROOM and room.name in doors)


def _runs(found: Comparison, option_ids: Sequence[str], *, shut: bool) -> list[OptionRun]:
    case = prepare(doors_at_night(found.case.house, shut=shut), found.folder)
    bench = Bench(case, factory_of(case), found.season, rulebook().numbers)
    results = [found.by_id[option_id] for option_id in option_ids]
    return [bench.settled(result.option, result.year.doors).run for result in results]


def _morning_c(found: Comparison, run: OptionRun, room: int) -> float:
    air_c = run.trace.room_c[:, room].astype(float)
    return morning_c(air_c, found.case.plan.rooms[room], found.season, rulebook().numbers)
