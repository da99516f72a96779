"""SheetsView: what the people who build, check and hand over one option need beside its DesignerView.

Figures and places only; no cost, no margin. Numbers are SI with their unit in the name.
"""

from __future__ import annotations

from compare.views.customer import AssumptionLine
from compare.views.designer import DesignerView
from compare.views.plan_view import ViewModel


class FromWall(ViewModel):
    """A distance on the plan, measured along or square to a wall."""

    what: str
    """As in `the north end of the west wall`."""
    distance_m: float


class IndoorRow(ViewModel):
    """An indoor unit: size, load, output at design conditions, where it hangs."""

    tag: str
    kind: str
    size: str
    rooms: tuple[str, ...]
    borrows: tuple[str, ...]
    """Rooms that share its air through an open door; their load is in its own."""
    heat_load_w: float
    cool_load_w: float
    heat_most_w: float
    """Largest heating output at the 99 % temperature, before ducts."""
    heat_least_w: float
    cool_most_w: float
    cover_heat_frac: float | None
    """Output over load on its outdoor unit, after ducts; None without a load."""
    cover_cool_frac: float | None
    width_m: float
    height_m: float
    depth_m: float
    quiet_m3_s: float
    high_m3_s: float
    place: str
    space: str
    """Kind of its space, as in `attic`; empty in a room."""
    level: int
    hangs_m: float | None
    """Height of its connections over the floor; None for a unit outside the rooms."""
    clear_m: tuple[float, float, float] | None
    """Length, width and height that its space leaves free."""
    service: str
    offsets: tuple[FromWall, ...]
    others: tuple[str, ...]
    """Other sizes, each with the reason why it was not taken."""


class CircuitRow(ViewModel):
    """An outdoor unit: place, base, circuit, refrigerant."""

    tag: str
    size: str
    ports: int
    serves: tuple[str, ...]
    spot: str
    side: str
    offsets: tuple[FromWall, ...]
    width_m: float
    height_m: float
    depth_m: float
    volts: str
    circuit_a: float
    sound_power_dba: float
    factory_kg: float
    added_kg: float
    limit_kg: float
    charge_verdict: str
    charge_reason: str
    lines_m: float
    lines_most_m: float
    branch_most_m: float
    lift_most_m: float


class LoadRow(ViewModel):
    """Design loads of a room."""

    room: str
    heat_w: float
    cool_sensible_w: float
    cool_latent_w: float
    peak_hour_h: int | None
    second_heat_w: float
    second_cool_w: float
    """Of the second method; sensible."""


class BillsRow(ViewModel):
    """Heating of the house at its design difference by the bills, and calculated with the air of the same winter."""

    heat_w: float
    low_w: float
    high_w: float
    calculated_w: float
    agrees: bool


class LoadSheet(ViewModel):
    """Loads by our method and a second one, and the fuel bills where the file has them."""

    method: str
    second_method: str
    rooms: tuple[LoadRow, ...]
    house: LoadRow
    bills: str
    """What the third method rests on, or why it cannot be used; empty without bills."""
    by_bills: BillsRow | None
    warnings: tuple[str, ...]


class HeaterRow(ViewModel):
    """An electric room heater: its room's design load and its rated power."""

    tag: str
    room: str
    load_w: float
    power_w: float


class PanelRow(ViewModel):
    """What the panel must hold."""

    spaces_needed: int
    spaces_free: int | None
    enough: bool | None
    heater_circuits: int
    """Circuits of 20 A at 240 V for all room heaters together."""
    note: str


class SheetsView(ViewModel):
    """One option for its crew."""

    house: str
    place: str
    units: str
    demo: bool
    estimate: bool
    built: int | None
    option_id: str
    option_name: str
    heating_99_c: float
    cooling_1_c: float
    heating_set_c: float
    cooling_set_c: float
    weather: str
    design_source: str
    catalogue_note: str
    indoor: tuple[IndoorRow, ...]
    circuits: tuple[CircuitRow, ...]
    room_heaters: tuple[HeaterRow, ...]
    panel: PanelRow
    findings: tuple[str, ...]
    loads: LoadSheet
    heaters: bool
    old_heat: bool
    design: DesignerView
    assumptions: tuple[AssumptionLine, ...]
