"""Job descriptions used by several tests; lengths in feet as the trade measures them."""

from __future__ import annotations

from compare.prices.job import DuctedItem, IndoorItem, IndoorKind, JobDescription, OutdoorItem, StaticClass

FT_M = 0.3048


def head(name: str, size: int, outdoor: str | None = None, line_ft: float = 20.0, cover_ft: float = 12.0) -> IndoorItem:
    return IndoorItem(name, IndoorKind.WALL, size, outdoor or f"out {name}", line_ft * FT_M, cover_ft * FT_M)


def ducted(name: str, size: int, branches: int, line_ft: float = 30.0, soffit: bool = False) -> DuctedItem:
    return DuctedItem(name, StaticClass.LOW, size, f"out {name}", branches, line_ft * FT_M, 12.0 * FT_M, soffit=soffit)


def pairs(*units: IndoorItem | DuctedItem, room_heaters: tuple[str, ...] = ()) -> JobDescription:
    """Every unit with an outdoor unit of its own."""
    return JobDescription(
        indoor=tuple(u for u in units if isinstance(u, IndoorItem)),
        ducted=tuple(u for u in units if isinstance(u, DuctedItem)),
        outdoor=tuple(OutdoorItem(u.outdoor, u.size) for u in units),
        room_heaters=room_heaters,
    )


def shared(size: int, *units: IndoorItem) -> JobDescription:
    return JobDescription(indoor=units, outdoor=(OutdoorItem("shared", size, shared=True),))
