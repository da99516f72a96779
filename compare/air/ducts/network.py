"""The duct network solved for flow: branches in parallel behind one trunk, against the fan.

Each branch loses friction by Colebrook and its fittings and damper by velocity heads; the trunk (return grille, filter,
box, plenum) loses by the whole flow. The fan holds its design flow up to the static it is set to; beyond that it
follows its limit curve, which falls to nothing `fan_spare_pa` above the setting.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from compare.air.ducts.friction import velocity_m_s, velocity_pressure_pa
from compare.air.ducts.result import Branch, DuctDesign
from compare.air.ducts.static import BranchShape, branch_parts
from compare.air.tables import constant, fitting

FLOW_REL = 1e-12
MOST_STEPS = 200


@dataclass(frozen=True, slots=True)
class BranchPath:
    """One room's branch: `runs` equal runs, each with a damper of a loss coefficient on its own velocity head."""

    shape: BranchShape
    runs: int
    damper_heads: float

    def drop_pa(self, flow_m3_s: float) -> float:
        """Pressure from the plenum into the room at the room's flow."""
        each = flow_m3_s / self.runs
        heads = velocity_pressure_pa(velocity_m_s(each, self.shape.diameter_m))
        return branch_parts(self.shape, each).total_pa + self.damper_heads * heads


@dataclass(frozen=True, slots=True)
class Fan:
    """A unit at high speed, set to a static."""

    design_m3_s: float
    setting_pa: float
    spare_pa: float

    def pressure_pa(self, flow_m3_s: float) -> float:
        """Pressure on the limit curve."""
        return self.setting_pa + self.spare_pa * (1 - (flow_m3_s / self.design_m3_s) ** 2)


@dataclass(frozen=True, slots=True)
class Flows:
    """The solved network. Residuals: flow that does not add up, as a share, and pressure around each loop."""

    room_m3_s: tuple[float, ...]
    total_m3_s: float
    plenum_pa: float
    trunk_pa: float
    flow_residual_frac: float
    pressure_residual_pa: float

    @property
    def static_pa(self) -> float:
        """External static that the fan works against."""
        return self.plenum_pa + self.trunk_pa


def flow_at(path: BranchPath, pressure_pa: float, guess_m3_s: float) -> float:
    """Flow of a branch at a plenum pressure, by Newton steps on a drop that goes nearly with the square of flow."""
    if pressure_pa <= 0:
        return 0.0
    flow = guess_m3_s
    for _ in range(MOST_STEPS):
        drop = path.drop_pa(flow)
        step = flow * 0.5 * (pressure_pa - drop) / drop
        flow = max(flow + step, 0.1 * flow)
        if abs(step) <= FLOW_REL * flow:
            return flow
    raise ArithmeticError(f"branch flow did not settle at {pressure_pa} Pa")


def _root(rises: Callable[[float], float], low: float, high: float) -> float:
    """Zero of a rising function by regula falsi with halving (Illinois)."""
    f_low, f_high = rises(low), rises(high)
    while f_high < 0:
        low, f_low, high = high, f_high, 2 * high
        f_high = rises(high)
    side = 0
    for _ in range(MOST_STEPS):
        if high - low <= 1e-14 * high or f_high == 0:
            break
        middle = (low * f_high - high * f_low) / (f_high - f_low)
        value = rises(middle)
        if value < 0:
            low, f_low = middle, value
            f_high = f_high / 2 if side == -1 else f_high
            side = -1
        else:
            high, f_high = middle, value
            f_low = f_low / 2 if side == 1 else f_low
            side = 1
        if value == 0:
            return middle
    return high


def solve(
    trunk_pa: Callable[[float], float], paths: tuple[BranchPath, ...], fan: Fan, shares: tuple[float, ...]
) -> Flows:
    """Flows of all branches; `shares` of the design flow only start the search."""
    starts = [share * fan.design_m3_s for share in shares]

    def flows(plenum_pa: float) -> list[float]:
        return [flow_at(path, plenum_pa, start) for path, start in zip(paths, starts, strict=True)]

    plenum = _root(lambda pa: math.fsum(flows(pa)) - fan.design_m3_s, 0.0, 10.0)
    total = fan.design_m3_s
    if plenum + trunk_pa(total) > fan.setting_pa * (1 + 1e-9):

        def beyond(pa: float) -> float:
            moved = math.fsum(flows(pa))
            return pa + trunk_pa(moved) - fan.pressure_pa(moved)

        plenum = _root(beyond, 0.0, plenum)
        total = math.fsum(flows(plenum))
    rooms = flows(plenum)
    loops = [abs(path.drop_pa(flow) - plenum) for path, flow in zip(paths, rooms, strict=True)]
    if total < fan.design_m3_s:
        loops.append(abs(plenum + trunk_pa(total) - fan.pressure_pa(total)))
    return Flows(
        room_m3_s=tuple(rooms),
        total_m3_s=total,
        plenum_pa=plenum,
        trunk_pa=trunk_pa(total),
        flow_residual_frac=abs(math.fsum(rooms) - total) / total,
        pressure_residual_pa=max(loops),
    )


def damper_heads(branch: Branch) -> float:
    """Loss coefficient of a branch's damper as set."""
    return branch.damper_pa / velocity_pressure_pa(branch.velocity_m_s)


def solve_design(design: DuctDesign, *, open_dampers: bool = False) -> Flows:
    """A designed zone at the recommended static setting, its dampers as set or all wide open."""
    back, section = design.return_path, design.plenum_w_m * design.plenum_h_m

    def trunk_pa(flow_m3_s: float) -> float:
        plenum = fitting("transition") * velocity_pressure_pa(flow_m3_s / section)
        return back.total_pa(flow_m3_s) + plenum

    paths = tuple(
        BranchPath(branch.shape, branch.runs, 0.0 if open_dampers else damper_heads(branch))
        for branch in design.branches
    )
    fan = Fan(design.design_flow_m3_s, design.static.setting_pa, constant("fan_spare_pa"))
    return solve(trunk_pa, paths, fan, tuple(share for _, share in design.air_shares))


def notches_open(angle_deg: float) -> int:
    """How many notches of the damper's handle stand open, of `damper_notches`; never shut."""
    most = int(constant("damper_notches"))
    return max(1, round(most * (1 - angle_deg / 90)))
