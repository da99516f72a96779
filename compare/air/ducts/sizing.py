"""Standard sizes by the company's generosity: branches, registers, filters."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from compare.air.ducts.friction import friction_pa_m, velocity_m_s
from compare.air.tables import constant, row, rows
from compare.air.units_us import FPM_M_S, IN_M, IN_WC_100FT_PA_M

SLACK = 1.005
"""Half a per cent over a limit still meets it: sizes come in whole inches."""


@dataclass(frozen=True, slots=True)
class Policy:
    """How generously ducts are sized: limits of speed and friction."""

    name: str
    branch_m_s: float
    face_m_s: float
    filter_m_s: float
    return_duct_m_s: float
    friction_pa_m: float


@cache
def policy(name: str = "normal") -> Policy:
    """One of `tight`, `normal`, `generous` from the `duct_policy` table."""
    entry = row("duct_policy", "policy", name)
    return Policy(
        name,
        float(entry["branch_fpm"]) * FPM_M_S,
        float(entry["face_fpm"]) * FPM_M_S,
        float(entry["filter_fpm"]) * FPM_M_S,
        float(entry["return_duct_fpm"]) * FPM_M_S,
        float(entry["friction_in_100ft"]) * IN_WC_100FT_PA_M,
    )


@dataclass(frozen=True, slots=True)
class Face:
    """A rectangular face: register, grille or filter."""

    width_m: float
    height_m: float

    @property
    def area_m2(self) -> float:
        """Gross face area."""
        return self.width_m * self.height_m


@cache
def round_sizes_m() -> tuple[float, ...]:
    """Stock diameters, ascending."""
    return tuple(float(entry["a_in"]) * IN_M for entry in rows("duct_sizes") if entry["kind"] == "round")


@cache
def faces(kind: str) -> tuple[Face, ...]:
    """Stock `register` or `filter` sizes by area, ascending."""
    found = [
        Face(float(entry["a_in"]) * IN_M, float(entry["b_in"]) * IN_M)
        for entry in rows("duct_sizes")
        if entry["kind"] == kind
    ]
    return tuple(sorted(found, key=lambda face: face.area_m2))


def fits_policy(flow_m3_s: float, diameter_m: float, limits: Policy) -> bool:
    """Whether a diameter keeps both the speed and the friction limit."""
    slow = velocity_m_s(flow_m3_s, diameter_m) <= limits.branch_m_s * SLACK
    return slow and friction_pa_m(flow_m3_s, diameter_m) <= limits.friction_pa_m * SLACK


def branch_size_m(flow_m3_s: float, limits: Policy, most_m: float | None = None) -> float | None:
    """Smallest stock diameter within the limits, at most `most_m`; None when no stock size does."""
    for diameter in round_sizes_m():
        if most_m is not None and diameter > most_m + 1e-9:
            return None
        if fits_policy(flow_m3_s, diameter, limits):
            return diameter
    return None


def next_size_m(diameter_m: float, most_m: float | None = None) -> float | None:
    """The next stock diameter up, or None beyond `most_m` or the largest."""
    for diameter in round_sizes_m():
        if diameter > diameter_m + 1e-9:
            return diameter if most_m is None or diameter <= most_m + 1e-9 else None
    return None


def runs_for(flow_m3_s: float) -> int:
    """Number of equal runs (each with its register) a room's flow is parted into."""
    return max(1, -int(-flow_m3_s // constant("register_flow_max_m3_s")))


def face_for(kind: str, flow_m3_s: float, speed_m_s: float) -> Face:
    """Smallest stock face within a face speed; the largest when none is."""
    for face in faces(kind):
        if flow_m3_s / face.area_m2 <= speed_m_s * SLACK:
            return face
    return faces(kind)[-1]
