"""Glass of one or two panes: what it lets through and absorbs by angle, and how U and SHGC map onto it.

Fresnel reflection at each face and absorption along the bent path, both polarisations apart, after Duffie and Beckman,
Solar Engineering of Thermal Processes, ch. 5 (from memory).
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

import numpy as np
import numpy.typing as npt

from compare.physics.fabric.tables import values

FloatArray = npt.NDArray[np.float64]

ANGLES = 91


@dataclass(frozen=True, slots=True)
class PaneOptics:
    """Shares of beam sun at whole degrees of incidence 0-90, and of diffuse sun, for a set of panes."""

    transmitted_frac: tuple[float, ...]
    outer_frac: tuple[float, ...]
    """Absorbed in the outer pane."""
    inner_frac: tuple[float, ...]
    """Absorbed in the inner pane."""
    diffuse_frac: tuple[float, float, float]
    """Transmitted, absorbed outer, absorbed inner, for light from a whole hemisphere."""

    def scaled(self, factor_frac: float) -> PaneOptics:
        """The same shape by angle, every share times one factor."""
        return PaneOptics(
            tuple(factor_frac * x for x in self.transmitted_frac),
            tuple(factor_frac * x for x in self.outer_frac),
            tuple(factor_frac * x for x in self.inner_frac),
            (
                factor_frac * self.diffuse_frac[0],
                factor_frac * self.diffuse_frac[1],
                factor_frac * self.diffuse_frac[2],
            ),
        )


@dataclass(frozen=True, slots=True)
class Glazing:
    """Panes as the room model needs them; an opaque panel is glazing that lets nothing through."""

    optics: PaneOptics
    between_w_m2k: float
    """From the outer to the inner pane node: gap and panes [W/m2K]."""


def clear_optics(panes: int) -> PaneOptics:
    """Optics of one or two clear panes of the published test glass."""
    return _clear_optics(panes)


@cache
def _clear_optics(panes: int) -> PaneOptics:
    table = values("glass.csv")
    index, straight_frac = _pane_constants(table["pane_transmittance_frac"], table["pane_reflectance_frac"])
    shares = _panes_at(np.radians(np.arange(ANGLES, dtype=np.float64)), index, straight_frac, panes)
    return _packed(shares)


def _packed(shares: FloatArray) -> PaneOptics:
    diffuse = [_hemispherical_frac(row) for row in shares]
    rows = [tuple(float(x) for x in row) for row in shares]
    return PaneOptics(rows[0], rows[1], rows[2], (diffuse[0], diffuse[1], diffuse[2]))


def _pane_constants(transmittance_frac: float, reflectance_frac: float) -> tuple[float, float]:
    """Refractive index and straight-through share of a pane from its normal properties (exact inversion)."""
    t, r = transmittance_frac, reflectance_frac
    beta = t * t - r * r + 2.0 * r + 1.0
    face_frac = (beta - np.sqrt(beta * beta - 4.0 * (2.0 - r) * r)) / (2.0 * (2.0 - r))
    straight_frac = (r - face_frac) / (face_frac * t)
    root = np.sqrt(face_frac)
    return float((1.0 + root) / (1.0 - root)), float(straight_frac)


def _panes_at(angle: FloatArray, index: float, straight_frac: float, panes: int) -> FloatArray:
    """Transmitted, absorbed outer, absorbed inner at each angle [rad]; shape (3, angles)."""
    bent = np.arcsin(np.sin(angle) / index)
    through_frac = straight_frac ** (1.0 / np.cos(bent))
    total = np.zeros((3, angle.size))
    for face_frac in _face_reflectances(angle, bent, index):
        t = (1.0 - face_frac) ** 2 * through_frac / (1.0 - (face_frac * through_frac) ** 2)
        r = face_frac * (1.0 + through_frac * t)
        total += 0.5 * (_two_panes(t, r) if panes > 1 else _one_pane(t, r))
    return total


def _face_reflectances(angle: FloatArray, bent: FloatArray, index: float) -> tuple[FloatArray, FloatArray]:
    cos_in, cos_bent = np.maximum(np.cos(angle), 0.0), np.cos(bent)
    across = ((cos_in - index * cos_bent) / (cos_in + index * cos_bent)) ** 2
    along = ((index * cos_in - cos_bent) / (index * cos_in + cos_bent)) ** 2
    return across, along


def _one_pane(t: FloatArray, r: FloatArray) -> FloatArray:
    half = 0.5 * (1.0 - t - r)
    return np.stack([t, half, half])


def _two_panes(t: FloatArray, r: FloatArray) -> FloatArray:
    many = 1.0 - r * r
    many = np.where(many <= 1e-12, 1.0, many)
    absorbed = 1.0 - t - r
    return np.stack([t * t / many, absorbed * (1.0 + t * r / many), t * absorbed / many])


def _hemispherical_frac(by_angle: FloatArray) -> float:
    """Mean over a hemisphere of even brightness: 2 integral f sin cos."""
    angle = np.radians(np.arange(ANGLES, dtype=np.float64))
    weight = 2.0 * np.sin(angle) * np.cos(angle)
    return float(np.trapezoid(by_angle * weight, angle))


def published_test_glass() -> Glazing:
    """The two clear panes of ANSI/ASHRAE 140-2020 with the air gap at its mean temperature."""
    table = values("glass.csv")
    gap_w_m2k = table["gap_convective_w_m2k"] + table["gap_radiant_w_m2k"]
    return Glazing(clear_optics(2), 1.0 / (1.0 / gap_w_m2k + table["pane_m2k_w"]))


def opaque_panel(between_w_m2k: float, absorptance_frac: float) -> Glazing:
    """An opaque panel with the conductance of glass: sun is absorbed at its outer face."""
    none, all_ = (0.0,) * ANGLES, (absorptance_frac,) * ANGLES
    return Glazing(PaneOptics(none, all_, none, (0.0, absorptance_frac, 0.0)), between_w_m2k)


@cache
def glazing_from_ratings(u_w_m2k: float, shgc_frac: float) -> Glazing:
    """Glass whose stated U-value and solar heat gain coefficient (frame included) are as given.

    The gap takes the resistance that the stated U-value leaves between its films; transmitted and absorbed shares keep
    the shape by angle of clear glass (one pane above U 4.5 W/m2K, else two) and are scaled together until the heat
    gain at normal incidence, with the inward-flowing part of absorbed sun, equals the stated coefficient.
    """
    if not u_w_m2k > 0.0:
        raise ValueError(f"window u_w_m2k = {u_w_m2k}: must be above 0; give the whole-window U-value in W/m2K")
    if not 0.0 <= shgc_frac <= 0.95:
        raise ValueError(f"window shgc_frac = {shgc_frac}: must be between 0 and 0.95")
    table = values("glass.csv")
    u_w_m2k = min(u_w_m2k, table["highest_u_w_m2k"])
    outside_m2k_w = 1.0 / table["rated_outside_w_m2k"]
    between_m2k_w = 1.0 / u_w_m2k - outside_m2k_w - 1.0 / table["rated_inside_w_m2k"]
    clear = clear_optics(1 if u_w_m2k > table["single_above_w_m2k"] else 2)
    inward_outer_frac = u_w_m2k * outside_m2k_w
    inward_inner_frac = u_w_m2k * (outside_m2k_w + between_m2k_w)
    gain_frac = clear.transmitted_frac[0] + (
        clear.outer_frac[0] * inward_outer_frac + clear.inner_frac[0] * inward_inner_frac
    )
    return Glazing(clear.scaled(shgc_frac / gain_frac), 1.0 / between_m2k_w)


def shares_at(optics: PaneOptics, cos_incidence_frac: FloatArray) -> FloatArray:
    """Transmitted, absorbed outer, absorbed inner of beam sun by cosine of incidence; shape (3, hours)."""
    degrees = np.degrees(np.arccos(np.clip(cos_incidence_frac, 0.0, 1.0)))
    below = np.minimum(degrees.astype(np.intp), ANGLES - 2)
    rest = degrees - below
    table = np.array([optics.transmitted_frac, optics.outer_frac, optics.inner_frac])
    mixed: FloatArray = table[:, below] * (1.0 - rest) + table[:, below + 1] * rest
    return mixed
