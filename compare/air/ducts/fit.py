"""Whether a concealed unit fits its space: cabinet, pan, service, drain."""

from __future__ import annotations

import math
from dataclasses import dataclass

from compare.air.tables import constant, require_positive
from compare.air.units_us import both_m
from compare.house.plan import SpaceKind, UnitSpace


@dataclass(frozen=True, slots=True)
class DuctUnit:
    """A concealed unit as the ducts see it: airflow, static, cabinet and the outputs at high speed.

    Cabinet width runs across the airflow, depth along it. Outputs are magnitudes of total capacity.
    """

    flow_quiet_m3_s: float
    flow_high_m3_s: float
    static_pa: float
    cabinet_w_m: float
    cabinet_h_m: float
    cabinet_d_m: float
    heat_w: float
    cool_w: float

    def __post_init__(self) -> None:
        """Refuse values that no unit can have."""
        for field in ("flow_quiet_m3_s", "flow_high_m3_s", "cabinet_w_m", "cabinet_h_m", "cabinet_d_m"):
            require_positive(getattr(self, field), field, "SI")
        for field in ("static_pa", "heat_w", "cool_w"):
            require_positive(getattr(self, field), field, "SI")


@dataclass(frozen=True, slots=True)
class Fit:
    """Result of the fit: reasons against it, notes to read, whether a condensate pump is needed."""

    reasons: tuple[str, ...]
    notes: tuple[str, ...]
    needs_pump: bool


def _needs_pan(space: UnitSpace) -> bool:
    return space.kind is not SpaceKind.CRAWLSPACE


def _clear_needed_m(unit: DuctUnit, space: UnitSpace) -> tuple[float, float, float]:
    """Length, width and height a unit needs with its pan; a ceiling drop has a pan with a shallow lip."""
    margin = 2 * constant("pan_margin_m") if _needs_pan(space) else 0.0
    hang = constant("hang_and_drain_m" if space.kind is SpaceKind.HALL_DROP else "hang_and_pan_m")
    return unit.cabinet_w_m + margin, unit.cabinet_d_m + margin, unit.cabinet_h_m + hang


def _size_reasons(unit: DuctUnit, space: UnitSpace) -> list[str]:
    wide, deep, high = _clear_needed_m(unit, space)
    have = sorted((space.clear_length_m, space.clear_width_m))
    need = sorted((wide, deep))
    found = []
    if need[0] > have[0] + 1e-9 or need[1] > have[1] + 1e-9:
        found.append(
            f"{space.name}: unit with pan needs {both_m(need[1])} by {both_m(need[0])} on plan, "
            f"clear is {both_m(have[1])} by {both_m(have[0])}"
        )
    if high > space.clear_height_m + 1e-9:
        found.append(
            f"{space.name}: unit with hangers and drain needs {both_m(high)} of height, "
            f"clear is {both_m(space.clear_height_m)}"
        )
    return found


def _passes(unit: DuctUnit) -> str:
    """The smaller two sides of the cabinet, which must go through a hatch."""
    small, middle, _ = sorted((unit.cabinet_w_m, unit.cabinet_h_m, unit.cabinet_d_m))
    return f"{both_m(small)} by {both_m(middle)}"


def unit_fit(unit: DuctUnit, space: UnitSpace, drain_run_m: float) -> Fit:
    """Check cabinet with pan against the clear size, and the drain's fall over its run to an outside wall.

    Without a stated fall, or with less than 1/8 in. per ft of run, a condensate pump is needed; by code a pump in
    an attic or crawlspace must stop the unit when it fails (2018 IRC M1411.4; the local code governs).
    """
    fall_needed = constant("drain_fall_frac") * drain_run_m
    fall = space.drain_fall_m
    pump = fall is None or fall < fall_needed
    notes = []
    if pump:
        have = "not surveyed" if fall is None else f"has {both_m(fall)}"
        notes.append(
            f"{space.name}: drain needs {both_m(fall_needed)} of fall over {both_m(drain_run_m)}, {have}: "
            "condensate pump that stops the unit on failure"
        )
    if _needs_pan(space):
        notes.append(f"{space.name}: drain pan with its own drain or a float switch (local code governs)")
    if space.kind in (SpaceKind.HALL_DROP, SpaceKind.ATTIC):
        notes.append(
            f"{space.name}: hang from framing on isolators; never cut a truss or joist, an engineer decides; "
            f"service side {space.service_side or 'not surveyed'}"
        )
    if space.kind is SpaceKind.ATTIC:
        notes.append(f"{space.name}: platform, walkway, light and a hatch that the cabinet passes ({_passes(unit)})")
    return Fit(tuple(_size_reasons(unit, space)), tuple(notes), pump)


def branch_height_limit_m(space: UnitSpace) -> float | None:
    """Largest round branch a ceiling drop can take; other spaces set no limit."""
    if space.kind is not SpaceKind.HALL_DROP:
        return None
    limit = space.clear_height_m - 2 * constant("duct_wrap_m")
    return limit if math.isfinite(limit) else None
