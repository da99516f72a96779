"""What-ifs of a house: doors at night, insulation first, bedrooms that nobody wants cooled.

Changes of the house give another house file (compare it again); a change of what is asked for only scores anew.
"""

from __future__ import annotations

from dataclasses import replace

from compare.house.model import HouseFile
from compare.house.plan import Use
from compare.pipeline import Comparison
from compare.scoring.evidence import Evidence
from compare.scoring.scores import score_option

ATTIC_U_W_M2K = 0.148
"""Ceiling under a vented attic after insulation to about R-38 (0.026 Btu/h ft2 F; common practice)."""
SEALED_SHARE = 0.75
"""Leakage that is left after the attic floor is sealed (our judgement)."""
NEVER_HOT_C = 1000.0


def doors_at_night(house: HouseFile, *, shut: bool) -> HouseFile:
    """The house with all its bedroom doors shut, or open, at night."""
    bedrooms = {room.name for room in house.rooms if room.use is Use.BEDROOM}
    doors = [
        door.model_copy(update={"night_open_frac": 0.0 if shut else 1.0})
        if door.between is not None and bedrooms & set(door.between)
        else door
        for door in house.doors
    ]
    return house.model_copy(update={"doors": doors})


def bedroom_doors_shut(house: HouseFile) -> bool | None:
    """Whether the bedroom doors are shut at night: all, none, or None for some (or no such door)."""
    bedrooms = {room.name for room in house.rooms if room.use is Use.BEDROOM}
    states = {
        door.night_open_frac < 0.5 for door in house.doors if door.between is not None and bedrooms & set(door.between)
    }
    return states.pop() if len(states) == 1 else None


def insulated_first(house: HouseFile) -> HouseFile:
    """The house after its attic floor is insulated and sealed; unchanged where it is better already."""
    fabric = house.fabric.model_copy(update={"ceiling_u_w_m2k": min(house.fabric.ceiling_u_w_m2k, ATTIC_U_W_M2K)})
    air = house.air.model_copy(update={"ach50_1_h": house.air.ach50_1_h * SEALED_SHARE})
    return house.model_copy(update={"fabric": fabric, "air": air})


def bedrooms_not_cooled(found: Comparison) -> Comparison:
    """The same years judged by a family that does not ask for cool bedrooms."""
    results = []
    for result in found.results:
        evidence = _without_bedroom_cooling(result.evidence)
        results.append(replace(result, evidence=evidence, score=score_option(evidence, found.season)))
    return replace(found, results=tuple(results))


def _without_bedroom_cooling(evidence: Evidence) -> Evidence:
    rooms = tuple(
        replace(room, cool_load_w=0.0, cool_set_c=NEVER_HOT_C) if room.room.use is Use.BEDROOM else room
        for room in evidence.rooms
    )
    return replace(evidence, rooms=rooms)
