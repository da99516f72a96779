"""Words and figures on the designer's drawings, in the units of the house."""

from __future__ import annotations

from compare.units import Kind, System, show
from compare.views.designer import DuctRow, DuctZone, LineMark, ReturnSheet

NO_BREAK = "\u00a0"


def joined(*parts: str) -> str:
    """Parts of a label; a part does not break within itself."""
    return " · ".join(part.replace(" ", NO_BREAK) for part in parts if part)


def inches(value_m: float, units: System) -> str:
    """A size: whole inches or millimetres."""
    return f"{value_m / 0.0254:.0f} in." if units is System.US else f"{value_m * 1000:.0f} mm"


def face(width_m: float, height_m: float, units: System) -> str:
    """A rectangular size."""
    if units is System.US:
        return f"{width_m / 0.0254:.0f} × {height_m / 0.0254:.0f} in."
    return f"{width_m * 1000:.0f} × {height_m * 1000:.0f} mm"


def pressure(value_pa: float, units: System) -> str:
    """A pressure with enough decimals for small ducts."""
    return show(value_pa, Kind.PRESSURE, units, 3 if units is System.US else 1)


def pressure_figure(value_pa: float, units: System) -> str:
    """The same without its unit."""
    return f"{value_pa / 249.08891:.3f}" if units is System.US else f"{value_pa:.1f}"


def pressure_unit(units: System) -> str:
    """Unit of `pressure_figure`."""
    return "in. w.c." if units is System.US else "Pa"


def branch_label(row: DuctRow, units: System) -> str:
    """Tag, size, air and damper of a branch."""
    runs = f"{row.runs} × " if row.runs > 1 else ""
    return joined(
        f"{row.tag} {runs}{inches(row.diameter_m, units)}",
        show(row.flow_m3_s, Kind.FLOW, units),
        f"damper {row.damper_notches} of {row.notches}",
    )


def register_label(row: DuctRow, units: System) -> str:
    """Size of a register."""
    return face(row.face_width_m, row.face_height_m, units).replace(" ", NO_BREAK)


def return_label(back: ReturnSheet, units: System) -> str:
    """Size of the return grille and its filter."""
    deep = inches(back.filter_depth_in * 0.0254, units)
    return joined(f"R {face(back.face_width_m, back.face_height_m, units)}", f"filter {deep}")


def unit_label(zone: DuctZone, units: System) -> str:
    """Tag of a concealed unit and the static to set."""
    return joined(zone.tag, f"set to {pressure(zone.setting_pa, units)}")


def plenum_label(zone: DuctZone, units: System) -> str:
    """Size of the plenum."""
    return f"plenum {face(zone.plenum_width_m, zone.plenum_height_m, units)}".replace(" ", NO_BREAK)


def line_label(line: LineMark, units: System) -> str:
    """Length and lift of a line set."""
    return joined(
        f"line {line.tag}", show(line.length_m, Kind.LENGTH, units), f"lift {show(line.lift_m, Kind.LENGTH, units)}"
    )


def drain_label(line: LineMark, units: System) -> str:
    """Fall that a drain needs, or its pump."""
    if line.pump:
        return f"drain {line.tag} · pump".replace(" ", NO_BREAK)
    return joined(f"drain {line.tag}", f"fall {show(line.drain_fall_m, Kind.SMALL_LENGTH, units)}")
