"""The designer's view of the ranch: what the air side must show, and that no cost or margin is in it."""

from __future__ import annotations

import json

import pytest

from compare.commands.air import designer_view_of
from compare.commands.air_text import air_text
from compare.pipeline import Comparison
from compare.units import Kind, System, show
from compare.views.designer import DesignerView
from compare.zones.sketch import Family
from tests.houses import compared

IN_WC_PA = 249.08891


@pytest.fixture(scope="module")
def found() -> Comparison:
    return compared("ranch")


@pytest.fixture(scope="module")
def view(found: Comparison) -> DesignerView:
    hall = next(o.key for o in found.options if len(o.zones) == 2 and o.zones[1].ducts is not None and _in_hall(o))
    return designer_view_of(found, hall)


def _in_hall(option: object) -> bool:
    ducts = option.zones[1].ducts  # type: ignore[attr-defined]
    return ducts is not None and ducts.space.kind.value == "ceiling drop"


def test_a_damper_at_the_register_is_louder_by_a_stated_number(view: DesignerView) -> None:
    """With the unit left at full static: some decibels at every bed; never quieter at the recommended setting."""
    beds = [row for zone in view.zones for row in zone.branches if row.bed_dba is not None]
    assert beds
    for row in beds:
        assert row.register_damper_db is not None
        assert row.full_static_db is not None
        assert 0.0 <= row.register_damper_db <= row.full_static_db
    assert min(row.full_static_db or 0.0 for row in beds) > 2.0
    loud = max(row.full_static_db or 0.0 for row in beds)
    assert f"+{loud:.1f} dB" in air_text(view)


def test_wider_sizing_takes_less_static_and_costs_no_less(view: DesignerView) -> None:
    for zone in view.zones:
        by = {row.policy: row for row in zone.sizings}
        assert by["tight"].static_pa > by["normal"].static_pa > by["generous"].static_pa
        assert by["generous"].filter_face_m_s <= 150 * 0.00508 * 1.01  # generous return: common practice
        assert by["generous"].price_usd >= by["tight"].price_usd


def test_normal_sizing_gives_a_smaller_branch_somewhere_than_generous(found: Comparison) -> None:
    """The ranch served by ducts alone; small units get their branches enlarged to keep the static, so not every one."""
    option = next(option for option in found.options if option.family is Family.DUCTED_ALL)
    (zone,) = designer_view_of(found, option.key).zones
    by = {row.policy: row for row in zone.sizings}
    pairs = list(zip(by["normal"].diameters_m, by["generous"].diameters_m, strict=True))
    assert any(normal < generous for normal, generous in pairs)
    assert all(normal <= generous for normal, generous in pairs)


def test_the_same_rooms_are_worked_out_in_every_space(view: DesignerView) -> None:
    for zone in view.zones:
        spaces = {row.space: row for row in zone.spaces}
        assert len(spaces) == 3
        assert sum(row.chosen for row in zone.spaces) == 1
        inside = spaces["hall ceiling drop"]
        assert all(row.heat_delivered_frac < inside.heat_delivered_frac for row in zone.spaces if row is not inside)
        assert all(row.price_usd > 0.0 for row in zone.spaces)


def test_static_and_flows_close(view: DesignerView) -> None:
    for zone in view.zones:
        assert sum(part.pressure_pa for part in zone.static) == pytest.approx(zone.static_pa)
        longest = next(part.pressure_pa for part in zone.static if part.part == "longest branch")
        assert sum(part.pressure_pa for part in zone.branch_parts) == pytest.approx(longest)
        assert zone.flow_residual_frac < 1e-9
        assert zone.pressure_residual_pa < 0.1
        for row in zone.solved:
            assert row.set_m3_s == pytest.approx(row.design_m3_s, rel=1e-9)


def test_the_return_stands_clear_and_the_filter_can_be_reached(view: DesignerView) -> None:
    for zone in view.zones:
        assert zone.way_back.room_name == "Hall"
        assert zone.way_back.from_supply_m > 0.3
        assert zone.way_back.reach
        for row in zone.transfers:
            assert row.pressure_pa <= row.limit_pa + 1e-9


def test_the_chosen_place_is_not_flagged_for_draught(view: DesignerView) -> None:
    rows = [row for row in view.checks if "draught" in row.check]
    assert rows
    assert all(row.met for row in rows)


def test_comfort_at_seats_is_that_of_the_library(view: DesignerView) -> None:
    """pythermalcomfort (ISO 7730) in the same air; 24 and 21 C are the set points. Never better than 5 %."""
    from pythermalcomfort.models import pmv_ppd_iso

    seats = [head for sheet in view.sitings for head in sheet.heads if ": bed" not in head.ear]
    assert seats
    for head in seats:
        assert head.cool_dissatisfied_frac is not None
        assert 0.05 <= head.cool_dissatisfied_frac < 0.5
    still = pmv_ppd_iso(tdb=23.9, tr=23.9, vr=0.05, rh=50, met=1.1, clo=0.5)
    assert min(head.cool_dissatisfied_frac or 1.0 for head in seats) >= 0.9 * float(still.ppd) / 100


def test_types_are_ranked_and_the_chosen_one_is_first(view: DesignerView) -> None:
    for sheet in view.sitings:
        assert len(sheet.kinds) == 3
        assert sheet.kinds[0].kind == sheet.kind


def test_a_failed_check_says_so(view: DesignerView) -> None:
    failed = [row for row in view.checks if not row.met]
    text = air_text(view)
    assert text.count("Not met: ") == len(failed)


def test_the_text_is_in_the_units_of_the_house(view: DesignerView) -> None:
    text = air_text(view)
    static = view.zones[0].static_pa
    assert f"{static / IN_WC_PA:.3f} in. w.c." in text
    other = air_text(view.model_copy(update={"units": System.SI.value}))
    assert show(static, Kind.PRESSURE, System.SI, 1) in other
    assert "in. w.c." not in other.split("Checks")[0]


def test_no_cost_and_no_margin_in_the_view(view: DesignerView) -> None:
    def keys(node: object) -> set[str]:
        if isinstance(node, dict):
            return set(node) | {key for value in node.values() for key in keys(value)}
        if isinstance(node, list):
            return {key for value in node for key in keys(value)}
        return set()

    names = keys(json.loads(view.model_dump_json()))
    assert not {name for name in names if any(word in name for word in ("cost", "margin", "wage", "overhead"))}


def test_an_unknown_option_is_named_with_the_cure(found: Comparison) -> None:
    with pytest.raises(ValueError, match="no such option; ids are"):
        designer_view_of(found, "nothing")


def test_without_an_id_the_best_option_is_taken(found: Comparison) -> None:
    winner = found.rank().winner
    assert winner is not None
    assert designer_view_of(found).option_id == winner.option.option_id


def test_rooms_that_a_transfer_fan_would_not_warm(found: Comparison) -> None:
    """100 cfm at 4 F carries about 430 Btu/h; a bedroom of the ranch needs four times that."""
    alone = designer_view_of(found, "h0")
    assert {line.split(":")[0] for line in alone.fan_rooms} == {"Bedroom 1", "Bedroom 2", "Bedroom 3"}
    assert all("not offered" in line for line in alone.fan_rooms)


def test_every_wall_with_work_on_it_is_drawn(view: DesignerView) -> None:
    marks = [item for wall in view.elevations for item in wall.items]
    assert {item.label for item in marks if item.kind == "outdoor unit"} == {one.tag for one in view.outdoor}
    for wall in view.elevations:
        for item in wall.items:
            assert item.low_m < item.high_m <= wall.eave_m + 1e-9
        for opening in wall.openings:
            assert 0.0 <= opening.from_m < opening.to_m <= wall.length_m + 1e-9
