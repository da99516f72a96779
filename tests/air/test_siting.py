"""Places of room units, sound of ducts at beds, lines and outdoor spots on an invented ranch."""

from dataclasses import replace

import numpy as np
import pytest

from compare.air.draught.outlets import AirOutlet
from compare.air.draught.points import Aim, OutputRange, draught_at
from compare.air.ducts.design import design_ducts
from compare.air.ducts.result import DuctRequest, RoomLoad
from compare.air.ducts.room_air import register_draught
from compare.air.ducts.sound import SoundChoice, branch_curve, branch_loss_db, damper_rise_db, return_through_door_db
from compare.air.from_catalogue import duct_unit, output_range, room_unit, sound_source
from compare.air.geometry import walls
from compare.air.lines import OutdoorGroup, assign_spots, drain_needs_pump, end_of_siting, end_of_space, line_route
from compare.air.noise.bands import level_dba
from compare.air.places import Place
from compare.air.siting import JUDGED_SHARES, RoomUnit, heads_of, place_room_unit, room_air, space_on_level
from compare.equipment.catalogue import catalogue
from compare.equipment.sound import Port
from compare.equipment.unit import UnitKind
from compare.house.plan import Bed, Plan, Seat

from .ranch import BED_1, BED_2, BED_3, FT, HALL, LIVING, ranch_plan, spaces

PLAN = ranch_plan()
UNITS = catalogue()
HEAD = RoomUnit(AirOutlet("wall_head", cabinet_w_m=0.79), OutputRange(0.064, 0.137, 600, 2200, 600, 2600))
SLIM = UNITS.pair(UnitKind.DUCTED_LOW, 9)
BEDS = (RoomLoad(BED_1, 720, 760), RoomLoad(BED_2, 557, 548), RoomLoad(BED_3, 720, 777))


def reworked(plan: Plan, room, **change) -> Plan:
    rooms = list(plan.rooms)
    rooms[room] = replace(rooms[room], **change)
    return replace(plan, rooms=tuple(rooms))


def test_outside_walls_come_from_the_plan():
    """Bedroom 1 lies in the north-east corner: its north and east walls are outside, the other two are not."""
    by_facing = {round((wall.inward_deg + 180) % 360): wall.outside for wall in walls(PLAN, BED_1)}
    assert by_facing == {0: True, 90: True, 180: False, 270: False}


def test_hall_end_wall_is_cut_at_the_rooms():
    """The living room's east wall is shared along its whole length, in stretches by neighbour."""
    east = [wall for wall in walls(PLAN, LIVING) if round(wall.inward_deg) == 270]
    assert not any(wall.outside for wall in east)
    assert sum(wall.length_m for wall in east) == pytest.approx(26 * FT)


@pytest.mark.parametrize("room", [BED_1, BED_2, BED_3])
def test_bedroom_head_keeps_off_bed_and_door(room):
    """Trade rules: never above the head of a bed, not above a door, outside wall preferred."""
    got = place_room_unit(PLAN, room, HEAD)
    assert got.feasible
    assert got.outside_wall
    assert not got.needs_pump
    bed = PLAN.rooms[room].beds[0]
    assert np.hypot(got.x_m - bed.x_m, got.y_m - bed.y_m) > 1.0
    reasons = {place.reason for place in got.rejected}
    assert {"above the head of a bed", "above a door"} <= reasons
    assert max(head.worst_frac for head in got.heads) < 0.30


def worst_at(unit, plan, room, aim):
    """Draught at the room's first head from a given place and aim, judged as siting judges it."""
    place = Place(aim.x_m, aim.y_m, aim.bearing_deg, outside_wall=True, label="given", surveyed=False)
    ceiling = plan.rooms[room].height_m
    air = room_air(plan, space_on_level(plan, room), place, aim.bearing_deg, ceiling)
    ear = heads_of(plan, (room,))[0][2]
    duties = [unit.span.duty(share, heating=mode) for share in JUDGED_SHARES for mode in (False, True)]
    return max(draught_at(unit.outlet, aim, duty, ear, replace(air, room_c=duty.room_c())).rate_frac for duty in duties)


@pytest.mark.parametrize("away_m", [3.0, 4.0])
def test_head_aimed_at_the_sofa_is_not_chosen(away_m):
    """Trade rule: a head that blows at the sofa is a draught (above 20 %); the chosen place of the room is not."""
    unit = RoomUnit(AirOutlet("wall_head", cabinet_w_m=0.91), OutputRange(0.09, 0.236, 1100, 4400, 1100, 5300))
    plan = reworked(PLAN, LIVING, seats=(Seat(away_m, 19 * FT, "sofa"),))
    got = place_room_unit(plan, LIVING, unit)
    aimed = worst_at(unit, plan, LIVING, Aim(0.0, 19 * FT, 90.0))
    assert aimed > 0.20
    assert max(head.worst_frac for head in got.heads) < aimed / 1.2


def test_cold_air_comes_down_the_far_wall():
    """Asian trade guides: opposite is poor too. A pillow at the far wall in line is draughtier than one aside."""
    in_line = reworked(PLAN, BED_1, beds=(Bed(35 * FT, 20.25 * FT, 2, regular=True),))
    aside = reworked(PLAN, BED_1, beds=(Bed(35 * FT, 15.5 * FT, 2, regular=True),))
    aim = Aim(46 * FT, 20.25 * FT, 270.0)
    assert worst_at(HEAD, in_line, BED_1, aim) > 1.15 * worst_at(HEAD, aside, BED_1, aim)


def test_generated_places_work_without_a_survey():
    got = place_room_unit(ranch_plan(wall_places=False), BED_2, HEAD)
    assert got.feasible
    assert not got.surveyed
    assert any("not yet checked on site" in note for note in got.notes)


def test_no_good_place_is_said():
    """A bed against every wall leaves nothing: the least bad place comes back as not feasible."""
    outline = PLAN.rooms[BED_2].outline_m
    xs, ys = [p[0] for p in outline], [p[1] for p in outline]
    grid = [(x, y) for x in np.arange(min(xs), max(xs) + 0.1, 0.7) for y in np.arange(min(ys), max(ys) + 0.1, 0.7)]
    plan = reworked(PLAN, BED_2, beds=tuple(Bed(float(x), float(y), 1, regular=True) for x, y in grid))
    got = place_room_unit(plan, BED_2, HEAD)
    assert not got.feasible
    assert got.notes[0].startswith("no good place")


def test_renaming_rooms_moves_nothing():
    renamed = replace(PLAN, rooms=tuple(replace(room, name=f"x{i}") for i, room in enumerate(PLAN.rooms)))
    one, two = (place_room_unit(plan, BED_3, HEAD) for plan in (PLAN, renamed))
    assert (one.x_m, one.y_m, one.throws_deg) == (two.x_m, two.y_m, two.throws_deg)


@pytest.mark.parametrize("kind", [UnitKind.FLOOR, UnitKind.CEILING])
def test_other_types_are_placed(kind):
    got = place_room_unit(PLAN, LIVING, room_unit(UNITS.pair(kind, 15)))
    assert got.feasible
    assert got.needs_pump is (kind is UnitKind.CEILING)


def test_cassette_needs_an_attic_above():
    plan = reworked(PLAN, BED_1, surfaces=tuple(s for s in PLAN.rooms[BED_1].surfaces if s.kind.value != "ceiling"))
    got = place_room_unit(plan, BED_1, room_unit(UNITS.pair(UnitKind.CEILING, 6)))
    assert not got.feasible


def built(policy="normal", place="hall"):
    return design_ducts(PLAN, DuctRequest(spaces()[place], BEDS, duct_unit(SLIM), policy, reach_m=None))


def curves(design, choice=None):
    source = sound_source(UNITS, SLIM.indoor)
    out = []
    for branch in design.branches:
        ear = heads_of(PLAN, (branch.room,))[0][2]
        out.append(branch_curve(PLAN, design, branch, (source, ear), choice or SoundChoice()))
    return out


def test_ducted_beds_keep_the_night_limit():
    """WHO 1999: 30 dB(A). Lined plenum, flexible duct: every bed under it at any speed."""
    assert all(curve.high_dba < 30 for curve in curves(built()))


def test_lining_and_damper_place():
    """ASHRAE: a lined plenum is quieter; a damper at the register is never quieter than one at the plenum."""
    design = built("generous", "attic")
    for plain, bare, register in zip(
        curves(design), curves(design, SoundChoice(lined=False)), curves(design, SoundChoice(damper="register")),
        strict=True,
    ):  # fmt: skip
        assert plain.high_dba < bare.high_dba
        assert register.high_dba >= plain.high_dba
    rises = [damper_rise_db(branch, SoundChoice(damper="register")) for branch in design.branches]
    assert max(rises) >= max(damper_rise_db(branch) for branch in design.branches)


def test_loss_parts_are_all_losses():
    design = built()
    for branch in design.branches:
        parts = branch_loss_db(design, branch)
        assert set(parts) == {"plenum", "split", "rigid duct", "elbows", "flexible duct", "end reflection"}
        assert all(np.all(part >= 0) for part in parts.values())


def test_return_is_quieter_through_a_shut_door():
    design = built()
    inlet = sound_source(UNITS, SLIM.indoor, Port.INLET)
    shut = return_through_door_db(PLAN, design, inlet, BED_1)
    opened = return_through_door_db(PLAN, design, inlet, BED_1, shut=False)
    assert np.all(level_dba(shut) < level_dba(opened))
    assert return_through_door_db(PLAN, design, inlet, LIVING) is None


def test_registers_draught_less_than_a_head():
    """Practice: registers 5-10 % where a head gives more, at the same bed and full output in cooling."""
    design = built()
    for branch in design.branches:
        ear = heads_of(PLAN, (branch.room,))[0][2]
        register = register_draught(PLAN, design, branch, output_range(SLIM), ear)
        siting = place_room_unit(PLAN, branch.room, HEAD)
        assert register.cool_frac[-1] <= 0.10
        assert register.cool_frac[-1] < siting.draught(siting.heads[0]).cool_frac[-1]


def test_line_of_an_outside_wall_head():
    siting = place_room_unit(PLAN, BED_1, HEAD)
    end = end_of_siting(PLAN, siting)
    routes = {spot.name: line_route(PLAN, end, spot) for spot in PLAN.outdoor_spots}
    near, far = routes["east side"], routes["west side"]
    assert near.feasible
    assert near.length_m < far.length_m
    assert near.cover_m > near.lift_m
    rise = 0.45 + siting.height_m - 0.4
    assert near.lift_m == pytest.approx(rise)


def test_spots_are_counted():
    ends = [end_of_siting(PLAN, place_room_unit(PLAN, room, HEAD)) for room in (LIVING, BED_1, BED_2, BED_3)]
    four = assign_spots(PLAN, tuple(OutdoorGroup((end,)) for end in ends))
    assert not four.feasible
    assert four.reasons[0] == "4 outdoor units, places for 3"
    wide = replace(PLAN, outdoor_spots=tuple(replace(spot, capacity=2) for spot in PLAN.outdoor_spots))
    two_each = assign_spots(wide, tuple(OutdoorGroup((end,)) for end in ends))
    assert two_each.feasible
    assert len(two_each.routes) == 4
    none = assign_spots(replace(PLAN, outdoor_spots=()), (OutdoorGroup((ends[0],)),))
    assert not none.feasible


def test_line_beyond_its_limit():
    spot = replace(PLAN.outdoor_spots[0], x_m=60.0)
    end = end_of_siting(PLAN, place_room_unit(PLAN, LIVING, HEAD))
    assert not line_route(PLAN, end, spot).feasible


def test_concealed_unit_line_and_drain():
    """Condensate uphill (two heads draining into an attic on record): without fall there is a pump."""
    attic = spaces()["attic"]
    end = end_of_space(PLAN, attic, (10.0, 4.0), needs_pump=drain_needs_pump(None, 4.0))
    assert end.needs_pump
    assert any("condensate pump" in note for note in line_route(PLAN, end, PLAN.outdoor_spots[0]).notes)
    assert not drain_needs_pump(0.0762, 6.0)
    assert drain_needs_pump(0.0762, 7.6)
    with pytest.raises(ValueError, match="run_m"):
        drain_needs_pump(0.1, -1.0)


def test_catalogue_kinds_are_not_mixed_up():
    with pytest.raises(ValueError, match="duct_unit"):
        room_unit(SLIM)
    with pytest.raises(ValueError, match="room_unit"):
        duct_unit(UNITS.pair(UnitKind.WALL, 9))
    assert HALL not in {branch.room for branch in built().branches}
