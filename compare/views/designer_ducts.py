"""The duct part of a DesignerView: schedule, static, sound, way back, and the same rooms ducted otherwise."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from compare.air.draught.points import Listener
from compare.air.ducts.design import design_ducts
from compare.air.ducts.network import Flows, notches_open, solve_design
from compare.air.ducts.remarks import throw_and_way_m
from compare.air.ducts.result import Branch, DuctDesign
from compare.air.ducts.sound import SoundChoice
from compare.air.ducts.sound_budget import SoundBudget, Sources, position_penalty_db, sound_budget
from compare.air.from_catalogue import sound_source
from compare.air.noise.criteria import limit_dba
from compare.air.siting import heads_of
from compare.air.tables import constant
from compare.equipment.catalogue import Catalogue
from compare.equipment.sound import Port
from compare.house.plan import Plan, SpaceKind, Use
from compare.options.option import Option
from compare.views.designer import (
    DuctRow,
    DuctZone,
    Octaves,
    PartPressure,
    ReturnSheet,
    SizingRow,
    SolvedRow,
    SoundPart,
    SoundSheet,
    SpaceRow,
    TransferRow,
)
from compare.views.designer_desk import Desk, repriced
from compare.views.duct_lines import branch_lines, plenum_line, return_line
from compare.zones.served import ServedZone, request_of

POLICIES = ("tight", "normal", "generous")
REACH = {
    SpaceKind.HALL_DROP: "from the floor of the room below: the grille opens downwards and the filter lies behind it",
    SpaceKind.CLOSET: "from the floor, through the closet door or its grille",
    SpaceKind.ATTIC: "from the room below: keep the filter in the ceiling grille, not at the unit in the attic",
    SpaceKind.CRAWLSPACE: "from the room above: keep the filter in the floor or wall grille, not in the crawlspace",
    SpaceKind.BASEMENT: "at the grille, or at the unit from the basement floor",
}


@dataclass(frozen=True, slots=True)
class Loudest:
    """The ear of a branch's room that hears it most, with its budgets."""

    ear: Listener
    bed: bool
    high: SoundBudget
    penalty_db: float
    full_static_db: float


def sources_of(units: Catalogue, zone: ServedZone) -> Sources:
    """Sound of a concealed unit at its outlet and inlet."""
    return Sources(*(sound_source(units, zone.pair.indoor, port) for port in (Port.DISCHARGE, Port.INLET)))


def loudest_ear(plan: Plan, ducts: DuctDesign, branch: Branch, sources: Sources) -> Loudest | None:
    """The loudest bed (or seat) of a branch's room at high speed; None in a room without either."""
    found = []
    for _, bed, ear in heads_of(plan, (branch.room,)):
        heard = (sources, ear, 1.0)
        budget = sound_budget(plan, ducts, branch, heard)
        usual = position_penalty_db(plan, ducts, branch, heard)
        full = position_penalty_db(plan, ducts, branch, heard, full_static=True)
        found.append(Loudest(ear, bed, budget, usual, full))
    return max(found, key=lambda one: (one.bed, one.high.level_dba), default=None)


def pillow_dba(plan: Plan, ducts: DuctDesign, sources: Sources) -> float | None:
    """Loudest bed of a zone at high speed."""
    ears = [loudest_ear(plan, ducts, branch, sources) for branch in ducts.branches]
    return max((ear.high.level_dba for ear in ears if ear is not None and ear.bed), default=None)


def duct_zone(desk: Desk, option: Option, index: int, tag: str) -> DuctZone:
    """One concealed unit of an option, in full."""
    zone, plan = option.zones[index], desk.plan
    ducts = zone.ducts
    if ducts is None:
        raise ValueError(f"zone {index} has no ducts; only concealed units have a duct sheet")
    sources = sources_of(desk.units, zone)
    ears = [loudest_ear(plan, ducts, branch, sources) for branch in ducts.branches]
    solved, bare = solve_design(ducts), solve_design(ducts, open_dampers=True)
    longest = max(ducts.branches, key=lambda branch: branch.parts.total_pa)
    return DuctZone(
        tag=tag,
        unit=zone.pair.label,
        space=ducts.space.name,
        policy=ducts.policy,
        feasible=ducts.feasible,
        reasons=ducts.reasons,
        notes=ducts.notes,
        design_m3_s=ducts.design_flow_m3_s,
        actual_m3_s=solved.total_m3_s,
        static=tuple(PartPressure(part=part, pressure_pa=pa) for part, pa in ducts.static.parts),
        branch_parts=tuple(_branch_parts(longest)),
        static_pa=ducts.static.total_pa,
        setting_pa=ducts.static.setting_pa,
        available_pa=ducts.static.available_pa,
        flow_residual_frac=solved.flow_residual_frac,
        pressure_residual_pa=solved.pressure_residual_pa,
        solved=tuple(_solved(plan, ducts, solved, bare)),
        plenum_width_m=ducts.plenum_w_m,
        plenum_height_m=ducts.plenum_h_m,
        plenum_m=plenum_line(ducts),
        branches=tuple(_rows(plan, zone, ears)),
        way_back=_way_back(plan, ducts),
        transfers=tuple(_transfers(plan, ducts)),
        sound=tuple(_sound(plan, ducts, (sources, ears))),
        heat_delivered_frac=ducts.heat_delivered_frac,
        cool_delivered_frac=ducts.cool_delivered_frac,
        spaces=tuple(_spaces(desk, option, index)),
        sizings=tuple(_sizings(desk, option, index)),
        level=ducts.space.level,
        dashed=ducts.space.kind not in (SpaceKind.HALL_DROP, SpaceKind.CLOSET),
    )


def _branch_parts(branch: Branch) -> Iterator[PartPressure]:
    parts = branch.parts
    for part, pa in (
        ("take-off", parts.takeoff_pa),
        ("straight duct", parts.straight_pa),
        ("elbows", parts.elbows_pa),
        ("flexible duct", parts.flex_pa),
        ("boot", parts.boot_pa),
        ("register", parts.register_pa),
    ):
        yield PartPressure(part=part, pressure_pa=pa)


def _solved(plan: Plan, ducts: DuctDesign, solved: Flows, bare: Flows) -> Iterator[SolvedRow]:
    for branch, with_dampers, without in zip(ducts.branches, solved.room_m3_s, bare.room_m3_s, strict=True):
        yield SolvedRow(
            room_name=plan.rooms[branch.room].name,
            design_m3_s=branch.flow_m3_s,
            set_m3_s=with_dampers,
            open_m3_s=without,
        )


def _rows(plan: Plan, zone: ServedZone, ears: list[Loudest | None]) -> Iterator[DuctRow]:
    assert zone.ducts is not None
    lines = list(branch_lines(zone.ducts, zone.pair.indoor.cabinet.width_m))
    for number, ((branch, points), ear) in enumerate(zip(lines, ears, strict=True), start=1):
        throw, way = throw_and_way_m(plan, branch)
        yield DuctRow(
            tag=f"B{number}",
            room=branch.room,
            room_name=plan.rooms[branch.room].name,
            runs=branch.runs,
            diameter_m=branch.diameter_m,
            flow_m3_s=branch.flow_m3_s,
            speed_m_s=branch.velocity_m_s,
            length_m=branch.length_m,
            flex_m=branch.shape.flex_m,
            elbows=branch.elbows,
            drop_pa=branch.parts.total_pa,
            damper_pa=branch.damper_pa,
            damper_deg=branch.damper_deg,
            damper_notches=notches_open(branch.damper_deg),
            notches=int(constant("damper_notches")),
            face_width_m=branch.shape.face.width_m,
            face_height_m=branch.shape.face.height_m,
            outlet=branch.outlet.removeprefix("register_"),
            throw_m=throw,
            way_m=way,
            bed_dba=ear.high.level_dba if ear else None,
            register_damper_db=ear.penalty_db if ear else None,
            full_static_db=ear.full_static_db if ear else None,
            points_m=points,
            outlet_m=(branch.x_m, branch.y_m),
            blows_deg=branch.bearing_deg,
        )


def _way_back(plan: Plan, ducts: DuctDesign) -> ReturnSheet:
    back, stand = ducts.return_path, ducts.stand
    grille = (stand.return_x_m, stand.return_y_m)
    nearest = min(((branch.x_m - grille[0]) ** 2 + (branch.y_m - grille[1]) ** 2) ** 0.5 for branch in ducts.branches)
    return ReturnSheet(
        room_name=plan.rooms[stand.return_room].name if stand.return_room >= 0 else ducts.space.name,
        at_m=grille,
        points_m=return_line(ducts),
        face_width_m=back.filter_face.width_m,
        face_height_m=back.filter_face.height_m,
        filter_depth_in=back.filter_depth_in,
        face_m_s=ducts.design_flow_m3_s / back.filter_face.area_m2,
        filter_pa=ducts.static.filter_pa,
        box_side_m=back.box_side_m,
        length_m=back.length_m,
        radius_turns=back.radius_turns,
        from_supply_m=nearest,
        reach=REACH[ducts.space.kind],
    )


def _transfers(plan: Plan, ducts: DuctDesign) -> Iterator[TransferRow]:
    for path in ducts.transfers:
        yield TransferRow(
            room_name=plan.rooms[path.room].name,
            flow_m3_s=path.flow_m3_s,
            as_is_pa=path.pressure_as_is_pa,
            limit_pa=path.limit_pa,
            remedy=path.remedy,
            undercut_m=path.undercut_m,
            grille_m2=path.grille_m2,
            pressure_pa=path.pressure_pa,
        )


def _sound(plan: Plan, ducts: DuctDesign, heard: tuple[Sources, list[Loudest | None]]) -> Iterator[SoundSheet]:
    """The loudest ear of the zone, a bed before a seat, at quiet and at high speed."""
    sources, ears = heard
    pairs = [(ear, branch) for ear, branch in zip(ears, ducts.branches, strict=True) if ear is not None]
    if not pairs:
        return
    ear, branch = max(pairs, key=lambda pair: (pair[0].bed, pair[0].high.level_dba))
    place = "bedroom_night" if plan.rooms[branch.room].use is Use.BEDROOM else "living"
    spare = max(ducts.static.available_pa - ducts.static.total_pa, 0.0)
    at_register = SoundChoice(damper="register", spare_pa=spare)
    for speed, fraction in (("quiet", 0.0), ("high", 1.0)):
        here = sound_budget(plan, ducts, branch, (sources, ear.ear, fraction))
        there = sound_budget(plan, ducts, branch, (sources, ear.ear, fraction), at_register)
        yield SoundSheet(
            room_name=plan.rooms[branch.room].name,
            ear=ear.ear.label,
            speed=speed,
            parts=tuple(
                SoundPart(
                    part=one.part,
                    change_db=_octaves(one.change_db),
                    after_dba=one.after_dba,
                    at_register_dba=other.after_dba,
                )
                for one, other in zip(here.steps, there.steps, strict=True)
            ),
            level_db=_octaves(here.level_db),
            level_dba=here.level_dba,
            at_register_dba=there.level_dba,
            criterion_nc=here.rating.nc,
            limit_dba=limit_dba(place),
        )


def _octaves(values: tuple[float, ...]) -> Octaves:
    a, b, c, d, e, f, g, h = values
    return a, b, c, d, e, f, g, h


def _spaces(desk: Desk, option: Option, index: int) -> Iterator[SpaceRow]:
    """The option's siblings whose only difference is the space of this zone."""
    for other in desk.options:
        zone = _same_but_space(option, other, index)
        if zone is None or zone.ducts is None:
            continue
        ducts = zone.ducts
        yield SpaceRow(
            option_id=other.key,
            space=ducts.space.name,
            chosen=other.key == option.key,
            feasible=ducts.feasible,
            reasons=ducts.reasons,
            price_usd=float(other.price.mid_usd),
            heat_delivered_frac=ducts.heat_delivered_frac,
            cool_delivered_frac=ducts.cool_delivered_frac,
            static_pa=ducts.static.total_pa,
            available_pa=ducts.static.available_pa,
            pillow_dba=pillow_dba(desk.plan, ducts, sources_of(desk.units, zone)),
            service=ducts.space.service_side or REACH[ducts.space.kind],
            pump=ducts.needs_pump,
        )


def _same_but_space(option: Option, other: Option, index: int) -> ServedZone | None:
    mine = option.zones[index]
    if len(other.zones) != len(option.zones) or other.layout.rest != option.layout.rest:
        return None
    if other.outdoor.count != option.outdoor.count:
        return None
    rest = [zone.sketch for place, zone in enumerate(option.zones) if place != index]
    for place, zone in enumerate(other.zones):
        others = [one.sketch for at, one in enumerate(other.zones) if at != place]
        if zone.ducts is not None and zone.rooms == mine.rooms and sorted(others) == sorted(rest):
            return zone
    return None


def _sizings(desk: Desk, option: Option, index: int) -> Iterator[SizingRow]:
    """The same ducts tight, normal and generous."""
    zone = option.zones[index]
    assert zone.ducts is not None
    sources = sources_of(desk.units, zone)
    for policy in POLICIES:
        request = replace(request_of(desk.basis, zone.sketch, zone.pair), policy=policy)
        ducts = design_ducts(desk.plan, request)
        sizes = [branch.diameter_m for branch in ducts.branches]
        yield SizingRow(
            policy=policy,
            chosen=policy == zone.ducts.policy,
            feasible=ducts.feasible,
            price_usd=repriced(desk, option, index, replace(zone, ducts=ducts)),
            static_pa=ducts.static.total_pa,
            setting_pa=ducts.static.setting_pa,
            available_pa=ducts.static.available_pa,
            smallest_m=min(sizes),
            largest_m=max(sizes),
            diameters_m=tuple(sizes),
            filter_face_m_s=ducts.design_flow_m3_s / ducts.return_path.filter_face.area_m2,
            pillow_dba=pillow_dba(desk.plan, ducts, sources),
            heat_delivered_frac=ducts.heat_delivered_frac,
            cool_delivered_frac=ducts.cool_delivered_frac,
            warnings=tuple(w for w in (*ducts.reasons, *ducts.notes) if _is_warning(w)),
        )


def _is_warning(text: str) -> bool:
    return any(word in text for word in ("throws", "undersized", "above", "enlarged", "needs"))
