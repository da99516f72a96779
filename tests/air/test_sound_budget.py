"""The sound of a branch part by part: it adds up, and the damper's place follows the handbook's table."""

import numpy as np
import pytest

from compare.air.ducts.design import design_ducts
from compare.air.ducts.result import DuctRequest
from compare.air.ducts.sound import SoundChoice, zone_curve
from compare.air.ducts.sound_budget import Sources, position_penalty_db, sound_budget
from compare.air.from_catalogue import duct_unit, sound_source
from compare.air.noise.outlet import outlet_power_db
from compare.air.siting import heads_of
from compare.air.tables import fitting
from compare.equipment.catalogue import catalogue
from compare.equipment.sound import Port
from compare.equipment.unit import UnitKind

from .ranch import ranch_plan, spaces
from .test_duct_design import ALL, BEDS

PLAN = ranch_plan()
UNITS = catalogue()
SLIM, MID = UNITS.pair(UnitKind.DUCTED_LOW, 9), UNITS.pair(UnitKind.DUCTED_MID, 24)


def sources(pair):
    return Sources(*(sound_source(UNITS, pair.indoor, port) for port in (Port.DISCHARGE, Port.INLET)))


def ducts(pair, loads, policy="generous"):
    return design_ducts(PLAN, DuctRequest(spaces()["hall"], loads, duct_unit(pair), policy, reach_m=None))


def cases(pair, loads):
    got = ducts(pair, loads)
    return [(got, branch, ear) for branch in got.branches for _, _, ear in heads_of(PLAN, (branch.room,))]


@pytest.mark.parametrize("fraction", [0.0, 0.5, 1.0])
def test_the_parts_lead_to_the_level_at_the_ear(fraction):
    """The budget's end is the level that the year uses; its parts add up to it band by band."""
    heard = sources(SLIM)
    for got, branch, ear in cases(SLIM, BEDS):
        budget = sound_budget(PLAN, got, branch, (heard, ear, fraction))
        curve = zone_curve(PLAN, got, branch, (heard.discharge, heard.inlet), ear)
        assert budget.level_dba == pytest.approx(float(curve.on_dba(fraction)), abs=1e-9)
        assert np.sum([step.change_db for step in budget.steps], axis=0) == pytest.approx(list(budget.level_db))
        assert [step.part for step in budget.steps][:2] == ["unit", "plenum"]


def test_losses_only_take_and_sources_only_add():
    heard = sources(SLIM)
    got, branch, ear = cases(SLIM, BEDS)[0]
    for step in sound_budget(PLAN, got, branch, (heard, ear, 1.0)).steps[1:]:
        adds = step.part in {"register", "damper", "return through the door"}
        assert all(change >= -1e-9 if adds else change <= 1e-9 for change in step.change_db[:7])


def table_10_neck_db(ratio):
    """Damper in the neck by pressure ratio (ASHRAE Handbook HVAC Applications 2019 ch. 49 Table 10)."""
    return float(np.interp(ratio, [1.0, 1.5, 2, 2.5, 3, 4, 6], [0, 5, 9, 12, 15, 18, 24]))


def table_10_upstream_db(ratio):
    """Damper five feet upstream, same table."""
    return float(np.interp(ratio, [1.0, 1.5, 2, 2.5, 3, 4, 6], [0, 0, 0, 0, 2, 3, 5]))


def test_a_damper_at_the_register_is_louder_at_the_bed_by_the_table():
    """Every bed: the difference is that of the outlet's own noise raised by Table 10, summed with the fan by energy.

    At the recommended static the ranch's dampers have little to take; with the unit left at its highest static they
    throttle the rest, and each bed hears it by more than 2 dB.
    """
    heard = sources(MID)
    stated, full = [], []
    for got, branch, ear in cases(MID, ALL):
        ratio = branch.damper_pa / branch.parts.register_pa
        stated.append(position_penalty_db(PLAN, got, branch, (heard, ear, 1.0)))
        if ": bed" in ear.label:
            full.append(position_penalty_db(PLAN, got, branch, (heard, ear, 1.0), full_static=True))
        here = sound_budget(PLAN, got, branch, (heard, ear, 1.0))
        there = sound_budget(PLAN, got, branch, (heard, ear, 1.0), SoundChoice(damper="register"))
        before = next(step for step in here.steps if step.part == "end reflection")
        index = here.steps.index(before)
        fan = np.sum([step.change_db for step in here.steps[: index + 1]], axis=0) + 10 * np.log10(branch.runs)
        flow = np.array([branch.run_flow_m3_s])
        own = outlet_power_db(branch.shape.face.area_m2, flow, fitting("register_face"))[0]
        own = own + 10 * np.log10(branch.runs)
        for budget, rise in ((here, table_10_upstream_db(ratio)), (there, table_10_neck_db(ratio))):
            both = 10 * np.log10(10 ** (fan / 10) + 10 ** ((own + rise) / 10))
            after = np.sum(
                [s.change_db for s in budget.steps[: [s.part for s in budget.steps].index("damper") + 1]], axis=0
            )
            assert after == pytest.approx(both, abs=0.01)
    assert min(stated) >= 0.0
    assert min(full) > 2.0


def test_a_bare_plenum_is_louder_than_a_lined_one():
    heard = sources(SLIM)
    got, branch, ear = cases(SLIM, BEDS)[0]
    lined, bare = (sound_budget(PLAN, got, branch, (heard, ear, 1.0), SoundChoice(lined=on)) for on in (True, False))
    assert bare.level_dba > lined.level_dba
