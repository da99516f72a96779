"""What a duct design is asked for and what comes back."""

from __future__ import annotations

from dataclasses import dataclass

from compare.air.ducts.fit import DuctUnit
from compare.air.ducts.loss import DuctLoss
from compare.air.ducts.sizing import Face
from compare.air.ducts.stand import UnitStand
from compare.air.ducts.static import BranchParts, BranchShape, ReturnPath, StaticBudget
from compare.air.ducts.transfer import TransferPath
from compare.house.plan import UnitSpace


@dataclass(frozen=True, slots=True)
class RoomLoad:
    """Design loads of one room; they set its share of the air."""

    room: int
    heat_w: float
    cool_w: float


@dataclass(frozen=True, slots=True)
class DuctRequest:
    """What to design. `reach_m` is the longest branch allowed (the 25 ft cluster rule), None to leave it open."""

    space: UnitSpace
    loads: tuple[RoomLoad, ...]
    unit: DuctUnit
    policy: str = "normal"
    filter_depth_in: int = 2
    heat_outdoor_c: float = -5.0
    cool_outdoor_c: float = 33.0
    reach_m: float | None = 7.62
    return_face: Face | None = None
    """The return grille and filter that is there or fits; None to size it by the policy."""
    filter_load_frac: float | None = None
    """Factor on the clean filter's drop; None for the usual allowance."""


@dataclass(frozen=True, slots=True)
class Branch:
    """The branch of one room: `runs` equal runs, each with its own register; flow is the room's."""

    room: int
    outlet: str
    x_m: float
    y_m: float
    bearing_deg: float
    runs: int
    flow_m3_s: float
    shape: BranchShape
    elbows: int
    velocity_m_s: float
    parts: BranchParts
    damper_pa: float
    damper_deg: float

    @property
    def length_m(self) -> float:
        """Length of one run, flexible part included."""
        return self.shape.rigid_m + self.shape.flex_m

    @property
    def diameter_m(self) -> float:
        """Diameter of each run."""
        return self.shape.diameter_m

    @property
    def run_flow_m3_s(self) -> float:
        """Flow of one run."""
        return self.flow_m3_s / self.runs


@dataclass(frozen=True, slots=True)
class Takeoff:
    """Quantities for pricing."""

    rigid_m: tuple[tuple[float, float], ...]
    """Metres of rigid round duct by diameter."""
    flex_m: tuple[tuple[float, float], ...]
    """Metres of flexible duct by diameter."""
    registers: int
    dampers: int
    elbows: int
    filter_face: Face
    transfer_grilles: int
    undercuts: int


@dataclass(frozen=True, slots=True)
class DuctDesign:
    """Everything designed for one ducted zone. `feasible` is False when `reasons` holds a fatal lack."""

    space: UnitSpace
    policy: str
    start_x_m: float
    start_y_m: float
    stand: UnitStand
    branches: tuple[Branch, ...]
    return_path: ReturnPath
    static: StaticBudget
    design_flow_m3_s: float
    actual_flow_m3_s: float
    plenum_w_m: float
    plenum_h_m: float
    plenum_length_m: float
    loss: DuctLoss
    heat_delivered_frac: float
    """Share delivered at the heating design temperature."""
    cool_delivered_frac: float
    transfers: tuple[TransferPath, ...]
    needs_pump: bool
    feasible: bool
    reasons: tuple[str, ...]
    notes: tuple[str, ...]
    takeoff: Takeoff

    @property
    def air_shares(self) -> tuple[tuple[int, float], ...]:
        """Share of the air by room, in room order."""
        return tuple((branch.room, branch.flow_m3_s / self.design_flow_m3_s) for branch in self.branches)
