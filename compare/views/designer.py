"""DesignerView: the air side of one option for the designer's desk. Figures and places only; no cost, no margin.

Numbers are SI with their unit in the name; the faces format them in the house's unit system.
"""

from __future__ import annotations

from compare.views.plan_view import OptionDrawing, PlanView, Point, ViewModel

Octaves = tuple[float, float, float, float, float, float, float, float]


class DuctRow(ViewModel):
    """One branch of the duct schedule; flows and pressures at the design flow."""

    tag: str
    room: int
    room_name: str
    runs: int
    diameter_m: float
    flow_m3_s: float
    """Of the room, all runs together."""
    speed_m_s: float
    length_m: float
    flex_m: float
    elbows: int
    drop_pa: float
    damper_pa: float
    damper_deg: float
    damper_notches: int
    notches: int
    face_width_m: float
    face_height_m: float
    outlet: str
    throw_m: float
    way_m: float
    """Length of room in front of the register."""
    bed_dba: float | None
    """Loudest ear of the room at high speed, damper at the plenum; None without a bed or seat."""
    register_damper_db: float | None
    """How much louder that ear hears the branch with its damper at the register, at the recommended static setting."""
    full_static_db: float | None
    """The same with the unit left at its highest static, so that the dampers throttle the rest."""
    points_m: tuple[Point, ...]
    outlet_m: Point
    blows_deg: float
    """Plan bearing of the register's air."""


class PartPressure(ViewModel):
    """A part of the static budget."""

    part: str
    pressure_pa: float


class SoundPart(ViewModel):
    """A part of the sound budget: what it does to octave levels (63 Hz to 8 kHz), and the level after it."""

    part: str
    change_db: Octaves
    after_dba: float
    at_register_dba: float
    """The same with the damper at the register and the unit left at its highest static."""


class SoundSheet(ViewModel):
    """The way of the sound to the loudest ear of a zone."""

    room_name: str
    ear: str
    speed: str
    """`high` or `quiet`."""
    parts: tuple[SoundPart, ...]
    level_db: Octaves
    level_dba: float
    at_register_dba: float
    criterion_nc: float
    limit_dba: float


class ReturnSheet(ViewModel):
    """The way back: grille with filter, box, and how the filter is reached."""

    room_name: str
    at_m: Point
    points_m: tuple[Point, ...]
    face_width_m: float
    face_height_m: float
    filter_depth_in: int
    face_m_s: float
    filter_pa: float
    box_side_m: float
    length_m: float
    radius_turns: bool
    from_supply_m: float
    """Distance to the nearest supply register."""
    reach: str


class TransferRow(ViewModel):
    """Return path of one room with its doors shut."""

    room_name: str
    flow_m3_s: float
    as_is_pa: float
    limit_pa: float
    remedy: str
    undercut_m: float
    grille_m2: float
    pressure_pa: float


class SpaceRow(ViewModel):
    """The same rooms ducted from one space."""

    option_id: str
    space: str
    chosen: bool
    feasible: bool
    reasons: tuple[str, ...]
    price_usd: float
    heat_delivered_frac: float
    cool_delivered_frac: float
    static_pa: float
    available_pa: float
    pillow_dba: float | None
    service: str
    pump: bool


class SizingRow(ViewModel):
    """The same ducts at one generosity."""

    policy: str
    chosen: bool
    feasible: bool
    price_usd: float
    static_pa: float
    setting_pa: float
    available_pa: float
    smallest_m: float
    largest_m: float
    diameters_m: tuple[float, ...]
    """Of each branch, in the order of the schedule."""
    filter_face_m_s: float
    pillow_dba: float | None
    heat_delivered_frac: float
    cool_delivered_frac: float
    warnings: tuple[str, ...]


class SolvedRow(ViewModel):
    """Flow of one room from the solved network, dampers as set and wide open."""

    room_name: str
    design_m3_s: float
    set_m3_s: float
    open_m3_s: float


class DuctZone(ViewModel):
    """One concealed unit with its ducts."""

    tag: str
    unit: str
    space: str
    policy: str
    feasible: bool
    reasons: tuple[str, ...]
    notes: tuple[str, ...]
    design_m3_s: float
    actual_m3_s: float
    static: tuple[PartPressure, ...]
    branch_parts: tuple[PartPressure, ...]
    """Parts of the longest branch."""
    static_pa: float
    setting_pa: float
    available_pa: float
    flow_residual_frac: float
    pressure_residual_pa: float
    solved: tuple[SolvedRow, ...]
    plenum_width_m: float
    plenum_height_m: float
    plenum_m: tuple[Point, ...]
    branches: tuple[DuctRow, ...]
    way_back: ReturnSheet
    transfers: tuple[TransferRow, ...]
    sound: tuple[SoundSheet, ...]
    heat_delivered_frac: float
    cool_delivered_frac: float
    spaces: tuple[SpaceRow, ...]
    sizings: tuple[SizingRow, ...]
    level: int
    dashed: bool
    """Ducts lie out of the rooms (attic, crawlspace)."""


class HeadRow(ViewModel):
    """One bed or seat in front of a room unit."""

    ear: str
    distance_m: float
    cool_m_s: float
    cool_frac: float
    heat_frac: float
    cool_dissatisfied_frac: float | None
    heat_dissatisfied_frac: float | None
    """Thermal comfort by ISO 7730 in that air, at rest in summer or winter clothes; None in bed."""
    high_dba: float
    quiet_dba: float


class KindRow(ViewModel):
    """What a type of room unit would be here."""

    kind: str
    feasible: bool
    points: float
    extra_usd: float
    worst_draught_frac: float
    label: str
    why: str


class SitingSheet(ViewModel):
    """A room unit and its place."""

    tag: str
    unit: str
    kind: str
    room: int
    room_name: str
    label: str
    surveyed: bool
    at_m: Point
    throws_deg: float
    throw_m: float
    points: float
    feasible: bool
    needs_pump: bool
    heads: tuple[HeadRow, ...]
    notes: tuple[str, ...]
    others: tuple[str, ...]
    """Places passed over, each with the reason."""
    kinds: tuple[KindRow, ...]


class ControlMark(ViewModel):
    """Where the control of a unit hangs."""

    tag: str
    serves: str
    room_name: str
    level: int
    at_m: Point
    note: str


class LineMark(ViewModel):
    """A line set with its drain."""

    tag: str
    outdoor: str
    level: int
    points_m: tuple[Point, ...]
    length_m: float
    lift_m: float
    cover_m: float
    cover_width_m: float
    pump: bool
    drain_m: tuple[Point, ...]
    drain_fall_m: float
    """Fall that the drain needs over its run."""
    notes: tuple[str, ...]


class OutdoorSheet(ViewModel):
    """An outdoor unit at its place."""

    tag: str
    serves: tuple[str, ...]
    spot: str
    side: str
    at_m: Point
    property_line_m: float
    line_dba: float
    """Level at the property line at the most heating."""
    window_dba: float | None
    limit_dba: float
    notes: tuple[str, ...]


class CheckRow(ViewModel):
    """One check of the design."""

    check: str
    design: str
    allowed: str
    source: str
    met: bool


class ElevationOpening(ViewModel):
    """A window or door in a wall seen from outside."""

    from_m: float
    to_m: float
    sill_m: float
    head_m: float
    door: bool


class ElevationItem(ViewModel):
    """A line cover or an outdoor unit on a wall seen from outside."""

    kind: str
    """`cover`, `outdoor unit`, `hole`."""
    label: str
    from_m: float
    to_m: float
    low_m: float
    high_m: float


class Elevation(ViewModel):
    """One outside wall as one sees it from the garden; lengths from its left end, heights over the ground."""

    side: str
    length_m: float
    floor_m: tuple[float, ...]
    eave_m: float
    openings: tuple[ElevationOpening, ...]
    items: tuple[ElevationItem, ...]


class DesignerView(ViewModel):
    """The air side of one option."""

    house: str
    units: str
    demo: bool
    option_id: str
    option_name: str
    plan: PlanView
    drawing: OptionDrawing
    zones: tuple[DuctZone, ...]
    sitings: tuple[SitingSheet, ...]
    controls: tuple[ControlMark, ...]
    lines: tuple[LineMark, ...]
    outdoor: tuple[OutdoorSheet, ...]
    checks: tuple[CheckRow, ...]
    elevations: tuple[Elevation, ...]
    fan_rooms: tuple[str, ...]
    """Rooms without a supply that a transfer fan would not warm, each with the reason."""
