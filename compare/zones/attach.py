"""Which served zone each room without a supply hangs on: through what it is open to, by the shortest way.

A unit is sized for the rooms it serves and for the rooms that borrow its air. A door counts as open when it stands open
at least half of the time by day and by night; a shut room hangs on nothing.
"""

from __future__ import annotations

import heapq
from collections.abc import Iterable

from compare.house.plan import Link, Plan
from compare.zones.sketch import LayoutSketch, Rest

OPEN_HALF = 0.5
"""Share of the time from which a door counts as open (our judgement)."""


def attached_rooms(plan: Plan, layout: LayoutSketch) -> tuple[tuple[int, ...], ...]:
    """For each zone of the layout, the rooms without a supply that borrow its air (sorted room indices)."""
    owner = {room: index for index, zone in enumerate(layout.zones) for room in zone.rooms}
    free = {room for room, rest in layout.rest if rest is Rest.NEIGHBOUR}
    nearest = _nearest_owner(plan, owner, free)
    return tuple(
        tuple(sorted(room for room, zone in nearest.items() if zone == index)) for index in range(len(layout.zones))
    )


def open_to_served(plan: Plan, layout: LayoutSketch, *, night: bool) -> frozenset[int]:
    """Rooms without a supply that are open to a served room at that time of day, directly or through such rooms."""
    reached = set(layout.served)
    grew = True
    while grew:
        grew = False
        for link in plan.links:
            if link.open_frac(night) >= OPEN_HALF and (link.a in reached) != (link.b in reached):
                reached |= {link.a, link.b}
                grew = True
    return frozenset(reached - layout.served)


def leaning_on(plan: Plan, layout: LayoutSketch) -> dict[int, int]:
    """For every room without a supply that is ever open to a served room, the zone that it leans on.

    Ways that are open by day and by night come first; a room on a heater of its own leans too.
    """
    owner = {room: index for index, zone in enumerate(layout.zones) for room in zone.rooms}
    others = [room for room, _ in layout.rest]
    always = _nearest_owner(plan, owner, others)
    ever = _nearest_owner(plan, owner, others, ever=True)
    return {**ever, **always}


def _nearest_owner(plan: Plan, owner: dict[int, int], free: Iterable[int], *, ever: bool = False) -> dict[int, int]:
    allowed = set(free)
    ways = [link for link in plan.links if _open_enough(link, ever)]
    queue = [(0.0, zone, room) for room, zone in sorted(owner.items())]
    heapq.heapify(queue)
    found: dict[int, int] = {}
    done: set[int] = set()
    while queue:
        distance, zone, room = heapq.heappop(queue)
        if room in done:
            continue
        done.add(room)
        if room not in owner:
            found[room] = zone
        for link in ways:
            if room in (link.a, link.b):
                other = link.b if link.a == room else link.a
                if other in allowed and other not in done:
                    step = _leg_m(plan, room, link) + _leg_m(plan, other, link)
                    heapq.heappush(queue, (distance + step, zone, other))
    return found


def _open_enough(link: Link, ever: bool) -> bool:
    shares = (link.open_frac(night=False), link.open_frac(night=True))
    return (max(shares) if ever else min(shares)) >= OPEN_HALF


def _leg_m(plan: Plan, room: int, link: Link) -> float:
    """Way from the middle of a room to one of its doors, along the axes of the plan."""
    corners = plan.rooms[room].outline_m
    x_m = sum(x for x, _ in corners) / len(corners)
    y_m = sum(y for _, y in corners) / len(corners)
    return abs(x_m - link.x_m) + abs(y_m - link.y_m)
