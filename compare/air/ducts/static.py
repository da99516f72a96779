"""Static budget: filter, return box, plenum and the branches; what each damper takes; what the fan still moves."""

from __future__ import annotations

import math
from dataclasses import dataclass

from compare.air.ducts.friction import (
    equivalent_diameter_m,
    flex_pa_m,
    friction_pa_m,
    velocity_m_s,
    velocity_pressure_pa,
)
from compare.air.ducts.sizing import Face
from compare.air.tables import constant, fitting, require_positive, row


@dataclass(frozen=True, slots=True)
class BranchParts:
    """Pressure of one branch by part, at its design flow."""

    takeoff_pa: float
    straight_pa: float
    elbows_pa: float
    flex_pa: float
    boot_pa: float
    register_pa: float

    @property
    def total_pa(self) -> float:
        """From the plenum into the room."""
        return self.takeoff_pa + self.straight_pa + self.elbows_pa + self.flex_pa + self.boot_pa + self.register_pa


@dataclass(frozen=True, slots=True)
class BranchShape:
    """Geometry of one run: rigid and flexible length, turns, diameter and register face."""

    rigid_m: float
    flex_m: float
    elbows: int
    diameter_m: float
    face: Face


def branch_parts(shape: BranchShape, flow_m3_s: float) -> BranchParts:
    """Pressure parts of a run at a flow, its volume damper wide open."""
    heads = velocity_pressure_pa(velocity_m_s(flow_m3_s, shape.diameter_m))
    face_heads = velocity_pressure_pa(flow_m3_s / shape.face.area_m2)
    return BranchParts(
        takeoff_pa=fitting("takeoff_round_from_plenum") * heads,
        straight_pa=friction_pa_m(flow_m3_s, shape.diameter_m) * shape.rigid_m,
        elbows_pa=shape.elbows * fitting("round_smooth_rd_1.0") * heads,
        flex_pa=flex_pa_m(flow_m3_s, shape.diameter_m) * shape.flex_m,
        boot_pa=fitting("boot_90") * heads,
        register_pa=fitting("register_face") * face_heads,
    )


def equivalent_length_m(shape: BranchShape, flow_m3_s: float) -> float:
    """Straight duct of equal pressure drop, register left out."""
    parts = branch_parts(shape, flow_m3_s)
    return (parts.total_pa - parts.register_pa) / friction_pa_m(flow_m3_s, shape.diameter_m)


def filter_pa(flow_m3_s: float, face: Face, depth_in: int = 2, *, loaded: bool = True) -> float:
    """Drop of a pleated filter at a flow; `loaded` adds the allowance for dirt. Depths 1, 2, 4 in."""
    entry = row("filters", "depth_in", str(depth_in))
    speed = flow_m3_s / face.area_m2
    clean = float(entry["pressure_pa"]) * math.pow(speed / float(entry["face_m_s"]), float(entry["exponent"]))
    return clean * (constant("filter_loaded_frac") if loaded else 1.0)


@dataclass(frozen=True, slots=True)
class ReturnPath:
    """Central return: filter face, its depth, and the square box between grille and unit, turning at both ends."""

    filter_face: Face
    filter_depth_in: int
    box_side_m: float
    radius_turns: bool
    length_m: float
    """Length of the box or duct between grille and unit."""
    filter_load_frac: float
    """Factor on the clean filter's drop for dirt."""

    def box_pa(self, flow_m3_s: float) -> float:
        """Two turns and the friction of the box."""
        turn = fitting("rect_radius_rw_1.0" if self.radius_turns else "rect_mitred_90")
        heads = velocity_pressure_pa(flow_m3_s / self.box_side_m**2)
        round_m = equivalent_diameter_m(self.box_side_m, self.box_side_m)
        return 2 * turn * heads + friction_pa_m(flow_m3_s, round_m) * self.length_m

    def filter_pa(self, flow_m3_s: float) -> float:
        """The filter with its dirt."""
        return self.filter_load_frac * filter_pa(flow_m3_s, self.filter_face, self.filter_depth_in, loaded=False)

    def total_pa(self, flow_m3_s: float) -> float:
        """Filter, grille and box."""
        return self.filter_pa(flow_m3_s) + self.grille_pa(flow_m3_s) + self.box_pa(flow_m3_s)

    def grille_pa(self, flow_m3_s: float) -> float:
        """The grille in front of the filter, of the filter's size."""
        return fitting("return_grille_face") * velocity_pressure_pa(flow_m3_s / self.filter_face.area_m2)


@dataclass(frozen=True, slots=True)
class StaticBudget:
    """Total external static by part at the design flow, against what the unit can give."""

    filter_pa: float
    grille_pa: float
    return_box_pa: float
    plenum_pa: float
    index_branch_pa: float
    available_pa: float

    @property
    def total_pa(self) -> float:
        """Total external static."""
        return self.filter_pa + self.grille_pa + self.return_box_pa + self.plenum_pa + self.index_branch_pa

    @property
    def parts(self) -> tuple[tuple[str, float], ...]:
        """Part and pressure, in the order in which the air meets them."""
        return (
            ("return grille", self.grille_pa),
            ("filter", self.filter_pa),
            ("return box", self.return_box_pa),
            ("plenum", self.plenum_pa),
            ("longest branch", self.index_branch_pa),
        )

    @property
    def setting_pa(self) -> float:
        """The static to set at the unit: the next step above what the ducts take, at most what the unit can give."""
        step = constant("static_step_pa")
        return min(step * math.ceil(self.total_pa / step - 1e-9), self.available_pa)

    @property
    def enough(self) -> bool:
        """Whether the unit's static covers it."""
        return self.total_pa <= self.available_pa + 1e-9


def actual_flow_m3_s(design_m3_s: float, static_pa: float, available_pa: float) -> float:
    """Airflow at high speed on ducts that need `static_pa` at the design flow.

    Within the unit's static a constant-airflow motor holds the design flow. Beyond it the ducts' square law meets
    the fan's limit curve, which falls to nothing 0.40 in. w.c. above the rated static (from memory).
    """
    require_positive(design_m3_s, "design_m3_s", "m3/s")
    if static_pa <= available_pa:
        return design_m3_s
    spare = constant("fan_spare_pa")
    return design_m3_s * math.sqrt((available_pa + spare) / (static_pa + spare))


def damper_angle_deg(damper_pa: float, speed_m_s: float) -> float:
    """Blade angle of a butterfly damper (Weisbach) that takes `damper_pa` at a duct speed; 0 is wide open."""
    if damper_pa <= 0:
        return 0.0
    wanted = math.log(damper_pa / velocity_pressure_pa(speed_m_s))
    angles = (10.0, 20.0, 40.0, 60.0)
    logs = [math.log(fitting(f"damper_{angle:.0f}")) for angle in angles]
    if wanted <= logs[0]:
        return angles[0] * math.exp(wanted - logs[0])
    for low in range(3):
        if wanted <= logs[low + 1]:
            share = (wanted - logs[low]) / (logs[low + 1] - logs[low])
            return angles[low] + share * (angles[low + 1] - angles[low])
    return angles[-1]
