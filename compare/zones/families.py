"""The layouts of a house by family, generated from its plan.

Words: a *cell* is an open space of the plan (one closed room is a cell of its own). A cell is *common* when people
gather in it (living, dining, kitchen); in a house without such rooms the cell of the largest habitable room is. A
*landing* is a hall or a room open to a stair that leads down: a head there is an offer, not a need. Other habitable
rooms are *closed*. Room units are offered to common cells, landings and closed rooms, ducted units to the rooms that a
unit space can reach on its level.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import product

from compare.house.plan import Plan, Use
from compare.zones.sketch import Family, LayoutSketch, Rest, ZoneSketch

GATHERING = frozenset({Use.LIVING, Use.DINING, Use.KITCHEN})
PASSING = frozenset({Use.HALL, Use.ENTRY})
WET_OR_STORE = frozenset({Use.BATH, Use.LAUNDRY, Use.STORAGE})

Heads = tuple[ZoneSketch, ...]


def families(plan: Plan, *, old_heat_rooms: Iterable[int] = ()) -> tuple[LayoutSketch, ...]:
    """Every family's layouts for this plan, without duplicates, in a stable order.

    Parameters
    ----------
    plan : rooms in canonical order.
    old_heat_rooms : rooms that the existing heat can go on heating; none when it is removed.
    """
    house = Cells(plan)
    old = frozenset(old_heat_rooms)
    found: dict[str, LayoutSketch] = {}
    for sketch in _all(house, old):
        found.setdefault(sketch.key, sketch)
    return tuple(found.values())


def cells_of(plan: Plan) -> Cells:
    """The plan's open spaces sorted into common and closed cells."""
    return Cells(plan)


def _all(house: Cells, old: frozenset[int]) -> Iterator[LayoutSketch]:
    for heads in house.single_heads():
        yield _layout(house.plan, Family.SINGLE_HEAD, heads)
    for heads in house.common_heads():
        yield from _room_units(house, heads, old)
        yield from _mixes(house, heads)
    yield from _mixes_with_far_branch(house)
    for ducted in house.ducted_groups(house.ductable):
        if house.habitable <= _rooms_of(ducted):
            yield _layout(house.plan, Family.DUCTED_ALL, ducted)


def _room_units(house: Cells, heads: Heads, old: frozenset[int]) -> Iterator[LayoutSketch]:
    """Layouts without ducts: a head in each room or heaters in closed ones (baths with and without), few heads."""
    plan = house.plan
    closed = house.closed_without(heads)
    each = (*heads, *(ZoneSketch((room,)) for room in closed))
    for warm_baths in ({}, dict.fromkeys(sorted(house.wet), Rest.HEATER)):
        yield _layout(plan, Family.HEAD_EACH, each, warm_baths)
        yield _layout(plan, Family.HEADS_AND_HEATERS, heads, dict.fromkeys(closed, Rest.HEATER) | warm_baths)
    if closed and old.issuperset(closed):
        yield _layout(plan, Family.HEADS_AND_HEATERS, heads, dict.fromkeys(closed, Rest.OLD_HEAT))
    if len(heads) > 1:
        yield _layout(plan, Family.FEW_HEADS, heads)
    for room in closed[:1]:
        yield _layout(plan, Family.FEW_HEADS, (*heads, ZoneSketch((room,))))


def _mixes(house: Cells, heads: Heads) -> Iterator[LayoutSketch]:
    """Ducts for all closed rooms, and for all but the first one (which keeps a head of its own)."""
    closed = house.closed_without(heads)
    for wanted in (frozenset(closed), frozenset(closed[1:])):
        for ducted in house.ducted_groups(wanted | house.wet):
            kept = tuple(ZoneSketch((room,)) for room in closed if room not in _rooms_of(ducted))
            yield _layout(house.plan, Family.MIX, (*heads, *kept, *ducted))


def _mixes_with_far_branch(house: Cells) -> Iterator[LayoutSketch]:
    """One head per common cell; the ducts also reach the far end of one."""
    for heads, far in house.heads_with_far_branch():
        for ducted in house.ducted_groups(frozenset(house.closed) | house.wet | far):
            if far <= _rooms_of(ducted):
                yield _layout(house.plan, Family.MIX, (*heads, *ducted))


def _rooms_of(zones: Iterable[ZoneSketch]) -> frozenset[int]:
    return frozenset(room for zone in zones for room in zone.rooms)


def _layout(plan: Plan, family: Family, zones: Heads, rest: dict[int, Rest] | None = None) -> LayoutSketch:
    served = _rooms_of(zones)
    chosen = rest or {}
    others = tuple((room, chosen.get(room, Rest.NEIGHBOUR)) for room in range(len(plan.rooms)) if room not in served)
    return LayoutSketch(family, tuple(sorted(zones)), others)


class Cells:
    """The plan's open spaces sorted into common and closed cells, with the offers each can get."""

    def __init__(self, plan: Plan) -> None:
        self.plan = plan
        rooms = plan.rooms
        uses = [room.use for room in rooms]
        self.habitable = frozenset(i for i, room in enumerate(rooms) if room.habitable)
        self.wet = frozenset(i for i, use in enumerate(uses) if use is Use.BATH)
        self.ductable = frozenset(i for i, use in enumerate(uses) if use not in {Use.STORAGE, Use.LAUNDRY})
        self.common = [cell for cell in plan.open_spaces if any(uses[i] in GATHERING for i in cell)]
        if not self.common and self.habitable:
            self.common = [plan.space_of(self._largest(self.habitable))]
        in_common = {room for cell in self.common for room in cell}
        self.landings = [
            i
            for i, room in enumerate(rooms)
            if (room.use in PASSING or room.habitable) and i not in in_common and self._opens_downstairs(i)
        ]
        in_the_open = in_common | set(self.landings)
        self.closed = sorted((i for i in self.habitable if i not in in_the_open), key=lambda i: (-self._weight(i), i))

    def closed_without(self, heads: Heads) -> list[int]:
        """Closed rooms that these heads do not serve, the one that gets a head first in front."""
        served = _rooms_of(heads)
        return [room for room in self.closed if room not in served]

    def _weight(self, room: int) -> float:
        """Regular rooms with sleepers first, then area: which closed room gets a head of its own first."""
        plan_room = self.plan.rooms[room]
        return (100.0 if plan_room.regular else 0.0) + 10.0 * plan_room.sleepers + plan_room.area_m2 / 100.0

    def _opens_downstairs(self, room: int) -> bool:
        level = self.plan.rooms[room].level
        ends = [{link.a, link.b} for link in self.plan.links if room in (link.a, link.b)]
        return any(self.plan.rooms[other].level < level for pair in ends for other in pair - {room})

    def main_room(self, cell: tuple[int, ...]) -> int:
        """The room of an open space that gets its first head: the largest where people gather."""
        gathering = [i for i in cell if self.plan.rooms[i].use in GATHERING]
        return self._largest(gathering or [i for i in cell if i in self.habitable])

    def _largest(self, rooms: Iterable[int]) -> int:
        return max(rooms, key=lambda i: (self.plan.rooms[i].area_m2, -i))

    def _far(self, cell: tuple[int, ...]) -> list[int]:
        """Other habitable rooms of an open space, farthest from its main room first."""
        main = self.main_room(cell)
        others = [i for i in cell if i != main and i in self.habitable]
        return sorted(others, key=lambda i: (-self._distance(main, i), i))

    def _distance(self, a: int, b: int) -> float:
        (ax, ay), (bx, by) = (_centre(self.plan.rooms[i].outline_m) for i in (a, b))
        return abs(ax - bx) + abs(ay - by)

    def single_heads(self) -> Iterator[Heads]:
        """One head for the whole house, in the largest common cell."""
        if self.common:
            largest = max(self.common, key=lambda cell: (sum(self.plan.rooms[i].area_m2 for i in cell), -cell[0]))
            yield (ZoneSketch((self.main_room(largest),)),)

    def common_heads(self) -> Iterator[Heads]:
        """Heads for all common cells: one each; with a second at a far end; with one on a landing."""
        if not self.common:
            return
        choices: list[list[Heads]] = []
        for cell in self.common:
            main = ZoneSketch((self.main_room(cell),))
            far = self._far(cell)
            offers: list[Heads] = [(main,)]
            offers += [(main, ZoneSketch((room,))) for room in far[:2]]
            if len(far) >= 2:
                offers.append((main, *(ZoneSketch((room,)) for room in far)))
            choices.append(offers)
        for pick in product(*choices):
            heads = tuple(head for offer in pick for head in offer)
            yield heads
            for landing in self.landings[:1]:
                yield (*heads, ZoneSketch((landing,)))

    def heads_with_far_branch(self) -> Iterator[tuple[Heads, frozenset[int]]]:
        """One head per common cell, and one far room of a cell that a duct branch could take instead of a head."""
        heads = tuple(ZoneSketch((self.main_room(cell),)) for cell in self.common)
        for cell in self.common:
            for room in self._far(cell)[:2]:
                yield heads, frozenset({room})

    def ducted_groups(self, wanted: frozenset[int]) -> Iterator[Heads]:
        """Ducted units for the wanted rooms: one unit per level that has some, in each choice of places.

        A level without a place for a unit is left out of the group.
        """
        per_level: list[list[ZoneSketch | None]] = []
        for level in sorted({self.plan.rooms[i].level for i in wanted}):
            rooms = frozenset(i for i in wanted if self.plan.rooms[i].level == level)
            offers: list[ZoneSketch | None] = []
            for index, space in enumerate(self.plan.unit_spaces):
                reach = frozenset(space.serves) if space.serves else rooms
                group = tuple(sorted(rooms & reach))
                if space.level == level and len(self.habitable & set(group)) >= 1:
                    offers.append(ZoneSketch(group, index))
            per_level.append(offers or [None])
        seen = set()
        for pick in product(*per_level):
            zones = tuple(zone for zone in pick if zone is not None)
            if zones and zones not in seen:
                seen.add(zones)
                yield zones


def _centre(outline_m: tuple[tuple[float, float], ...]) -> tuple[float, float]:
    xs = [x for x, _ in outline_m]
    ys = [y for _, y in outline_m]
    return (min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2
