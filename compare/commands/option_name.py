"""What an option is, in one line."""

from __future__ import annotations

from compare.options.option import Option
from compare.zones.sketch import Rest, ZoneKind


def option_name(option: Option, rooms: list[str]) -> str:
    """What an option is, in one line."""
    heads = [rooms[zone.rooms[0]] for zone in option.zones if zone.sketch.kind is ZoneKind.ROOM_UNIT]
    parts = []
    if heads:
        parts.append(f"{'room unit' if len(heads) == 1 else f'{len(heads)} room units'} ({', '.join(heads)})")
    parts += [
        f"ducted unit, {zone.ducts.space.name} ({', '.join(rooms[room] for room in zone.rooms)})"
        for zone in option.zones
        if zone.ducts is not None
    ]
    for rest, word in ((Rest.HEATER, "heaters"), (Rest.OLD_HEAT, "old heat")):
        warmed = [rooms[room] for room, how in option.layout.rest if how is rest]
        if warmed:
            parts.append(f"{word} ({', '.join(warmed)})")
    shared = [group for group in option.outdoor.groups if group.shared]
    tail = f"; {option.outdoor.count} outdoor" + (", shared" if shared else "")
    return " + ".join(parts) + tail
