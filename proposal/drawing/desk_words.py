"""Words and figures on the designer's drawings, in the units of the house."""

from __future__ import annotations

from compare.units import Kind, System, show
from compare.views.designer import DuctRow, DuctZone, LineMark, ReturnSheet
from proposal.drawing.look import Look
from proposal.drawing.words import local

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


def _label(look: Look, *parts: str) -> str:
    """Parts of a label in the language of the picture."""
    return local(joined(*parts), look.words)


def branch_label(row: DuctRow, look: Look) -> str:
    """Tag, size, air and damper of a branch."""
    runs = f"{row.runs} × " if row.runs > 1 else ""
    return _label(
        look,
        f"{row.tag} {runs}{inches(row.diameter_m, look.units)}",
        show(row.flow_m3_s, Kind.FLOW, look.units),
        look.say("label_damper", open=f"{row.damper_notches}", notches=f"{row.notches}"),
    )


def register_label(row: DuctRow, look: Look) -> str:
    """Size of a register."""
    return _label(look, face(row.face_width_m, row.face_height_m, look.units))


def return_label(back: ReturnSheet, look: Look) -> str:
    """Size of the return grille and its filter."""
    deep = inches(back.filter_depth_in * 0.0254, look.units)
    size = face(back.face_width_m, back.face_height_m, look.units)
    return _label(look, f"R {size}", look.say("label_filter", depth=deep))


def unit_label(zone: DuctZone, look: Look) -> str:
    """Tag of a concealed unit and the static to set."""
    return _label(look, zone.tag, look.say("label_set", pressure=pressure(zone.setting_pa, look.units)))


def plenum_label(zone: DuctZone, look: Look) -> str:
    """Size of the plenum."""
    size = face(zone.plenum_width_m, zone.plenum_height_m, look.units)
    return _label(look, look.say("label_plenum", size=size))


def line_label(line: LineMark, look: Look) -> str:
    """Length and lift of a line set."""
    length, lift = (show(value, Kind.LENGTH, look.units) for value in (line.length_m, line.lift_m))
    return _label(look, look.say("label_line", tag=line.tag), length, look.say("label_lift", lift=lift))


def drain_label(line: LineMark, look: Look) -> str:
    """Fall that a drain needs, or its pump."""
    fall = show(line.drain_fall_m, Kind.SMALL_LENGTH, look.units)
    how = look.say("label_pump") if line.pump else look.say("label_fall", fall=fall)
    return _label(look, look.say("label_drain", tag=line.tag), how)
