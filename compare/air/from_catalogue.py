"""From catalogue units to what the air side needs: sound sources, outlets, output ranges, duct units."""

from __future__ import annotations

import numpy as np

from compare.air.draught.outlets import AirOutlet
from compare.air.draught.points import OutputRange
from compare.air.ducts.fit import DuctUnit
from compare.air.noise.fan import SoundSource
from compare.air.siting import RoomUnit
from compare.equipment.catalogue import Catalogue
from compare.equipment.sound import Port, octave_db, sound_power_dba
from compare.equipment.unit import IndoorUnit, Pair, UnitKind

OUTLETS = {UnitKind.WALL: "wall_head", UnitKind.FLOOR: "floor_console", UnitKind.CEILING: "ceiling_cassette"}


def sound_source(units: Catalogue, unit: IndoorUnit, port: Port = Port.ROOM) -> SoundSource:
    """Sound power of a unit between quiet and high; for a ducted unit `port` is discharge, inlet or casing."""
    flows = (unit.airflow_m3_s.quiet, unit.airflow_m3_s.high)
    quiet, high = (float(sound_power_dba(unit, flow, port)) for flow in flows)
    shapes = [tuple((np.asarray(octave_db(units, unit, level, port)) - level).tolist()) for level in (quiet, high)]
    return SoundSource(quiet, high, shapes[0], shapes[1], *flows)


def output_range(pair: Pair) -> OutputRange:
    """Airflow and output from least to greatest at 47 degF heating and 95 degF cooling."""
    out, flow = pair.output, pair.indoor.airflow_m3_s
    return OutputRange(flow.quiet, flow.high, out.cool.min_w, out.cool.max_w, out.heat.min_w[0], out.heat.max_w[0])


def room_unit(pair: Pair) -> RoomUnit:
    """A wall head, floor console or cassette for siting.

    Raises ValueError for a ducted unit.
    """
    kind = OUTLETS.get(pair.indoor.kind)
    if kind is None:
        raise ValueError(f"{pair.label} blows into ducts; use duct_unit")
    return RoomUnit(AirOutlet(kind, cabinet_w_m=pair.indoor.cabinet.width_m), output_range(pair))


def duct_unit(pair: Pair) -> DuctUnit:
    """A concealed unit for duct design, outputs at most heating (47 degF) and rated cooling (95 degF)."""
    unit = pair.indoor
    if not unit.kind.ducted:
        raise ValueError(f"{pair.label} blows into the room; use room_unit")
    return DuctUnit(
        flow_quiet_m3_s=unit.airflow_m3_s.quiet,
        flow_high_m3_s=unit.airflow_m3_s.high,
        static_pa=unit.static_pa,
        cabinet_w_m=unit.cabinet.width_m,
        cabinet_h_m=unit.cabinet.height_m,
        cabinet_d_m=unit.cabinet.depth_m,
        heat_w=pair.output.heat.rated_w,
        cool_w=pair.output.cool.rated_w,
    )
