"""Design loads of a draft after each edit: rooms that did not change keep their prepared model.

Preparing a room's full model takes a tenth of a second; it depends on the room alone, so one edit costs one or two of
them. Heating needs none and is there at once.
"""

from __future__ import annotations

from collections import OrderedDict
from concurrent.futures import CancelledError, Future, ThreadPoolExecutor
from concurrent.futures import TimeoutError as LateError
from dataclasses import dataclass
from pathlib import Path
from threading import Lock

from compare.climate.place import PlaceWeather
from compare.house.model import HouseFile
from compare.house.plan import Plan
from compare.loads.case import LoadCase, load_case_of
from compare.loads.heating import heating_parts_w
from compare.loads.house_loads import design_loads
from compare.physics.fabric.parts import inside_masses
from compare.physics.fabric.room import PreparedRoom, prepare_room
from compare.physics.fabric.spaces import ground_of_year
from dashboard.survey.draft.history import digest
from dashboard.survey.mend import Judged

MOST_ROOMS = 400
MOST_HOUSES = 24
MOST_PLACES = 16
WAIT_S = 0.2
"""An answer waits this long for cooling; later it comes with the next one."""


@dataclass(frozen=True, slots=True)
class RoomLive:
    """One room of a valid draft: floor area and loads; cooling None while it is worked out."""

    name: str
    area_m2: float
    heat_w: float
    cool_w: float | None


@dataclass(frozen=True, slots=True)
class Live:
    """Loads of a valid draft."""

    rooms: tuple[RoomLive, ...]
    heat_w: float
    cool_w: float | None
    heating_c: float
    cooling_c: float
    source: str = ""

    @property
    def area_m2(self) -> float:
        """Floor area of all rooms."""
        return sum(room.area_m2 for room in self.rooms)


@dataclass(frozen=True, slots=True)
class Unknown:
    """Why there are no loads."""

    words: str


class Loads:
    """Loads on request, worked out in the background, each room's model kept."""

    def __init__(self, wait_s: float = WAIT_S) -> None:
        self._wait_s = wait_s
        self._rooms: OrderedDict[str, PreparedRoom] = OrderedDict()
        self._places: OrderedDict[str, PlaceWeather] = OrderedDict()
        self._found: OrderedDict[str, Future[Live]] = OrderedDict()
        self._pool = ThreadPoolExecutor(max_workers=1, thread_name_prefix="loads")
        self._lock = Lock()

    def of(self, draft: Judged, text: str, folder: Path | None) -> Live | Unknown:
        """Loads of a valid draft; those of heating alone while cooling is worked out."""
        if draft.house is None or draft.plan is None:
            return Unknown("The loads follow when everything is mended.")
        try:
            case = self._case(draft.house, draft.plan, folder)
            found = self._asked(digest(text.encode()), case).result(self._wait_s)
        except (LateError, CancelledError):
            return _heating(case)
        except (ValueError, OSError) as error:
            return Unknown(plain_words(str(error)))
        return found

    def _asked(self, key: str, case: LoadCase) -> Future[Live]:
        """The work for a draft, under way or done; work for older drafts that did not begin is given up."""
        with self._lock:
            for old in [old for old, work in self._found.items() if old != key and work.cancel()]:
                del self._found[old]
            if key not in self._found or self._found[key].cancelled():
                self._found[key] = self._pool.submit(self._whole, case)
            while len(self._found) > MOST_HOUSES:
                self._found.popitem(last=False)
            return self._found[key]

    def _case(self, house: HouseFile, plan: Plan, folder: Path | None) -> LoadCase:
        from compare.years.case import design_of

        place = self._place(house, folder)
        return load_case_of(house, plan, design_of(house, place), ground_of_year(place.year.dry_bulb_c))

    def _place(self, house: HouseFile, folder: Path | None) -> PlaceWeather:
        """Weather of the place, kept by what the file says of it."""
        from compare.years.case import weather_of

        key = repr((house.site, folder))
        with self._lock:
            kept = self._places.get(key)
        if kept is None:
            kept = weather_of(house, folder)
        with self._lock:
            self._places[key] = kept
            while len(self._places) > MOST_PLACES:
                self._places.popitem(last=False)
        return kept

    def _whole(self, case: LoadCase) -> Live:
        found = design_loads(case, [self._prepared(case, index) for index in range(len(case.plan.rooms))])
        total, design = found.house, case.design
        rooms = tuple(
            RoomLive(room.name, plan.area_m2, room.heat_w, room.cool_total_w)
            for room, plan in zip(found.rooms, case.plan.rooms, strict=True)
        )
        return Live(rooms, total.heat_w, total.cool_total_w, design.heating_99_c, design.cooling_1_c, design.source)

    def _prepared(self, case: LoadCase, index: int) -> PreparedRoom:
        room, masses = case.plan.rooms[index], inside_masses(case.plan, index)
        key = repr((room.surfaces, room.volume_m3, room.area_m2, masses, case.fabric))
        with self._lock:
            kept = self._rooms.get(key)
        if kept is None:
            kept = prepare_room(room, masses, case.fabric)
        with self._lock:
            self._rooms[key] = kept
            self._rooms.move_to_end(key)
            while len(self._rooms) > MOST_ROOMS:
                self._rooms.popitem(last=False)
        return kept


def plain_words(message: str) -> str:
    """A message about the place or its weather without names of fields."""
    told = message.removeprefix("site.weather = ").removeprefix("site.design: ")
    return told.replace("heating_99 and cooling_1", "the coldest-night and hot-day temperatures")


def _heating(case: LoadCase) -> Live:
    parts = heating_parts_w(case)
    heat = [max(sum(own.values()), 0.0) for own in parts]
    rooms = tuple(
        RoomLive(room.name, room.area_m2, heat_w, None) for room, heat_w in zip(case.plan.rooms, heat, strict=True)
    )
    return Live(rooms, sum(heat), None, case.design.heating_99_c, case.design.cooling_1_c, case.design.source)
