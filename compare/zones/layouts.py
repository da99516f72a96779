"""Every layout of a house by enumeration, beyond the families: what each habitable room can get, in all combinations.

A habitable room gets a room unit, a branch of a concealed ducted unit, a room heater or the old heat, or is left to its
neighbours. An upper hall or landing (`families.Cells`) may get a room unit besides; whatever else the house has, it is
an offer and never a need. *Fully served* means that every closed habitable room and every common open space has a
supply of its own. Which rooms one ducted unit may serve stands in `ducted_sets`.

By rule, not by choice (each would multiply the layouts for little; the families hold the common exceptions):

* baths join the largest group on their level that reaches them, else they live on the air of their neighbours;
* halls and entries get no branch: air that goes to rooms comes back through them (common practice);
* laundries and storage get nothing; a hall on the ground floor gets no unit, its open space does.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from enum import StrEnum
from itertools import product

from compare.house.plan import Plan
from compare.zones.ducted_sets import MOST_GROUPS, DuctedSets
from compare.zones.families import cells_of
from compare.zones.sketch import Family, LayoutSketch, Rest, ZoneSketch


class Layer(StrEnum):
    """Kinds of layout that are counted apart."""

    FULL = "fully served"
    HEATERS = "with room heaters or the old heat"
    NEIGHBOUR = "rooms left to a neighbour through a door kept open"


@dataclass(frozen=True, slots=True)
class Enumerated:
    """A layout with the kind it is counted under."""

    layout: LayoutSketch
    layer: Layer


Choice = tuple[str, ...]
"""What each room with a choice gets: `h` a unit, `d` a branch, `e` a heater, `o` old heat, `b` its neighbours' air."""


def all_layouts(plan: Plan, *, old_heat_rooms: Iterable[int] = (), layers: frozenset[Layer]) -> Iterator[Enumerated]:
    """Every layout of these kinds, each once, in a stable order.

    Parameters
    ----------
    plan : rooms in canonical order.
    old_heat_rooms : rooms that the existing heat can go on heating.
    layers : kinds wanted.
    """
    house = _House(plan, frozenset(old_heat_rooms))
    seen: set[str] = set()
    for choice in house.choices(layers):
        layer = house.layer(choice)
        if layer not in layers:
            continue
        for zones in house.zones(choice):
            layout = house.layout(choice, zones)
            if layout.key not in seen:
                seen.add(layout.key)
                yield Enumerated(layout, layer)


def counts(layouts: Iterable[Enumerated]) -> dict[str, int]:
    """How many there are of each kind, and by family."""
    found: Counter[str] = Counter()
    for item in layouts:
        found[item.layer.value] += 1
        found[f"{item.layer.value}: {item.layout.family.value}"] += 1
    return dict(sorted(found.items()))


def room_offers(plan: Plan, old_heat_rooms: Iterable[int] = ()) -> dict[int, str]:
    """What each room may get, as letters of `Choice` (`b`: left to its neighbours); none for rooms that go by rule."""
    house = _House(plan, frozenset(old_heat_rooms))
    every = frozenset(Layer)
    return {room: house.offers(room, every) if room in house.rooms else "" for room in range(len(plan.rooms))}


class _House:
    """Choices of every room of one plan."""

    def __init__(self, plan: Plan, old: frozenset[int]) -> None:
        self.plan = plan
        self.old = old
        cells = cells_of(plan)
        self.habitable = cells.habitable
        self.rooms = sorted(cells.habitable | set(cells.landings))
        self.common = [tuple(r for r in cell if r in cells.habitable) for cell in cells.common]
        self.in_common = {room for cell in self.common for room in cell}
        self.main = {cells.main_room(cell) for cell in cells.common}
        self.landings = cells.landings
        self.wet = sorted(cells.wet)
        self.ducts = DuctedSets(plan)
        self._known: dict[tuple[int, ...], bool] = {}

    def choices(self, layers: frozenset[Layer]) -> Iterator[Choice]:
        """Every combination of what rooms get; a landing may have a unit besides."""
        offers = [self.offers(room, layers) for room in self.rooms]
        for pick in product(*offers):
            if self._holds(pick):
                yield pick

    def offers(self, room: int, layers: frozenset[Layer]) -> str:
        """Letters of what a room may get in these kinds of layout."""
        if room in self.landings:
            return "hb" + ("d" if room in self.habitable and self.ducts.reach[room] else "")
        offers = "h" + ("d" if self.ducts.reach[room] else "")
        if room in self.in_common:
            return offers + ("" if room in self.main else "b")
        if Layer.HEATERS in layers:
            offers += "e" + ("o" if room in self.old else "")
        if Layer.NEIGHBOUR in layers and self._always_open(room):
            offers += "b"
        return offers

    def _always_open(self, room: int) -> bool:
        links = (link for link in self.plan.links if room in (link.a, link.b))
        return any(min(link.open_frac(night=False), link.open_frac(night=True)) >= 0.5 for link in links)

    def _holds(self, choice: Choice | tuple[str, ...]) -> bool:
        """A common open space has a supply; somewhere is a heat pump."""
        by_room = dict(zip(self.rooms, choice, strict=True))
        return all(any(by_room[room] in "hd" for room in cell) for cell in self.common) and any(
            what in "hd" for what in choice
        )

    def layer(self, choice: Choice) -> Layer:
        """The kind that a combination is counted under."""
        if any(what in "eo" for what in choice):
            return Layer.HEATERS
        closed = (r for r in self.rooms if r not in self.in_common and r not in self.landings)
        by_room = dict(zip(self.rooms, choice, strict=True))
        return Layer.NEIGHBOUR if any(by_room[room] == "b" for room in closed) else Layer.FULL

    def zones(self, choice: Choice) -> Iterator[tuple[ZoneSketch, ...]]:
        """Every way to group the branches of a combination and to place the units."""
        by_room = dict(zip(self.rooms, choice, strict=True))
        heads = tuple(ZoneSketch((room,)) for room in self.rooms if by_room[room] == "h")
        levels = sorted({self.plan.rooms[room].level for room in self.rooms if by_room[room] == "d"})
        per_level = [
            list(self._groups([r for r in self.rooms if by_room[r] == "d" and self.plan.rooms[r].level == level]))
            for level in levels
        ]
        for pick in product(*per_level):
            yield tuple(sorted((*heads, *(zone for zones in pick for zone in zones))))

    def _groups(self, rooms: list[int]) -> Iterator[tuple[ZoneSketch, ...]]:
        for blocks in _partitions(rooms):
            if len(blocks) > MOST_GROUPS or any(self._refused(block) for block in blocks):
                continue
            for places in product(*(self.ducts.places(block) for block in blocks)):
                if self.ducts.room_for(places):
                    yield self._with_baths(blocks, places)

    def _refused(self, block: list[int]) -> bool:
        key = tuple(sorted(block))
        if key not in self._known:
            self._known[key] = self.ducts.refusal(key) is not None
        return self._known[key]

    def _with_baths(self, blocks: list[list[int]], places: tuple[int, ...]) -> tuple[ZoneSketch, ...]:
        """The largest group on a bath's level that can reach it takes the bath too; the first of equals."""
        rooms = [list(block) for block in blocks]
        order = sorted(range(len(blocks)), key=lambda k: (-len(blocks[k]), blocks[k]))
        for bath in self.wet:
            for k in order:
                if places[k] in self.ducts.reach[bath]:
                    rooms[k].append(bath)
                    break
        return tuple(ZoneSketch(tuple(sorted(block)), place) for block, place in zip(rooms, places, strict=True))

    def layout(self, choice: Choice, zones: tuple[ZoneSketch, ...]) -> LayoutSketch:
        """The layout with what the other rooms live on."""
        served = {room for zone in zones for room in zone.rooms}
        marks = {"e": Rest.HEATER, "o": Rest.OLD_HEAT}
        by_room = dict(zip(self.rooms, choice, strict=True))
        rest = tuple(
            (room, marks.get(by_room.get(room, "b"), Rest.NEIGHBOUR))
            for room in range(len(self.plan.rooms))
            if room not in served
        )
        return LayoutSketch(self._family(choice, zones), zones, rest)

    def _family(self, choice: Choice, zones: tuple[ZoneSketch, ...]) -> Family:
        heads, ducted = (sum(zone.space < 0 for zone in zones), sum(zone.space >= 0 for zone in zones))
        if ducted and heads:
            return Family.MIX
        if ducted:
            return Family.MIX if any(what in "eo" for what in choice) else Family.DUCTED_ALL
        if any(what in "eo" for what in choice):
            return Family.HEADS_AND_HEATERS
        if self.layer(choice) is Layer.FULL:
            return Family.HEAD_EACH if heads > 1 else Family.SINGLE_HEAD
        return Family.FEW_HEADS if heads > 1 else Family.SINGLE_HEAD


def _partitions(rooms: list[int]) -> Iterator[list[list[int]]]:
    """Every way to split rooms into groups."""
    if not rooms:
        yield []
        return
    first, rest = rooms[0], rooms[1:]
    for smaller in _partitions(rest):
        yield [[first], *smaller]
        for k, block in enumerate(smaller):
            yield [*smaller[:k], [first, *block], *smaller[k + 1 :]]
