"""What a set of outdoor units asks of the electrical panel: a first look; a licensed electrician decides."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from compare.equipment.heater import heater_circuits
from compare.equipment.unit import OutdoorUnit

SPACES_240_V = 2
"""Breaker spaces of a two-pole breaker."""

PANEL_NOTE = (
    "Circuit sizes come from the unit's nameplate and the service from a load calculation (NEC 440 and 220): "
    "confirm with a licensed electrician."
)
"""Printed with every panel check."""


@dataclass(frozen=True, slots=True)
class PanelCheck:
    """Breaker spaces and amperes asked for, and whether the panel has the spaces (None: not known)."""

    circuits_a: tuple[float, ...]
    """Of the outdoor units."""
    spaces_needed: int
    spaces_free: int | None
    enough_spaces: bool | None
    note: str = PANEL_NOTE


def panel_check(outdoor: Sequence[OutdoorUnit], spaces_free: int | None, heaters_w: Sequence[float] = ()) -> PanelCheck:
    """Compare the circuits of all outdoor units and new room heaters with the free breaker spaces.

    Parameters
    ----------
    outdoor
        Outdoor units; indoor units take their power from them.
    spaces_free
        Free full-size breaker spaces, None when the panel was not surveyed.
    heaters_w
        Rated power of each new electric room heater.
    """
    circuits = tuple(unit.circuit_a for unit in outdoor)
    needed = SPACES_240_V * (len(circuits) + heater_circuits(heaters_w))
    enough = None if spaces_free is None else needed <= spaces_free
    return PanelCheck(circuits, needed, spaces_free, enough)
