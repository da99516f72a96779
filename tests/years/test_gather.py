"""The evidence of an option: complete, finite, and true to its layout."""

from __future__ import annotations

import math

import numpy as np
import pytest

from compare.air.tables import constant
from compare.pipeline import compare_house
from compare.scoring.evidence import Source
from compare.years.gather import people_fracs
from compare.years.sound import heard_dba, unit_hours
from compare.zones.ears import ears_of
from compare.zones.sketch import Rest
from tests.houses import chain, compared, evidence_at, house

SCENARIOS = ("ranch", "accessory_unit", "open_bungalow")
HOURS = 8760
UNIT_SERIES = ("heat_w", "cool_w", "heat_min_w", "cool_min_w")


@pytest.mark.parametrize("name", SCENARIOS)
def test_every_series_covers_the_year_and_is_finite(name: str) -> None:
    found = compared(name)
    for result in found.results:
        evidence = evidence_at(found, result.option.key)
        assert len(evidence.rooms) == len(found.case.plan.rooms)
        series = [room.air_c for room in evidence.rooms]
        series += [s for room in evidence.rooms for s in (room.bed_dba, room.seat_dba) if s is not None]
        series += [
            getattr(c, f) for c in evidence.compressors for f in ("heat_w", "cool_w", "heat_min_w", "cool_min_w")
        ]
        for one in series:
            assert one.shape == (HOURS,)
            assert np.isfinite(one).all()


@pytest.mark.parametrize("name", SCENARIOS)
def test_levels_exist_where_there_is_a_bed_or_seat(name: str) -> None:
    found = compared(name)
    for result in found.results:
        for room in evidence_at(found, result.option.key).rooms:
            assert (room.bed_dba is not None) is bool(room.room.beds)
            assert (room.seat_dba is not None) is bool(room.room.seats)
            assert math.isnan(room.bed_draught_frac) is not bool(room.room.beds)


@pytest.mark.parametrize("name", SCENARIOS)
def test_sources_follow_the_layout(name: str) -> None:
    wanted = {Rest.HEATER: {Source.HEATER}, Rest.OLD_HEAT: {Source.OLD_HEAT}}
    found = compared(name)
    for result in found.results:
        layout = result.option.layout
        for index, room in enumerate(evidence_at(found, result.option.key).rooms):
            rest = dict(layout.rest).get(index)
            allowed = {Source.SERVED} if rest is None else wanted.get(rest, {Source.BORROWED, Source.NOTHING})
            assert room.source in allowed


@pytest.mark.parametrize("name", SCENARIOS)
def test_served_rooms_have_the_cover_of_their_unit(name: str) -> None:
    found = compared(name)
    for result in found.results:
        option, rooms = result.option, evidence_at(found, result.option.key).rooms
        for place, zone in enumerate(option.zones):
            for room in zone.rooms:
                assert rooms[room].heat_cover_frac == option.cover(place).heat_frac
        for room in rooms:
            if room.source is Source.NOTHING:
                assert math.isnan(room.heat_cover_frac)


def test_a_shut_bedroom_with_one_head_has_nothing_by_night_and_borrows_by_day() -> None:
    single = evidence_at(compared("ranch"), "h0")
    bedrooms = [room for room in single.rooms if room.room.sleepers]
    assert all(room.open_by_day and not room.open_by_night for room in bedrooms)


def test_compressors_carry_what_their_rooms_get() -> None:
    """Heat and sensible cooling as delivered; the compressor's own load also holds moisture, so cooling is no less."""
    found = compared("ranch")
    for result in found.results:
        groups = result.option.outdoor.groups
        supply = found.hours(result.option.key).trace.supply_w.astype(float)
        for group, unit in zip(groups, evidence_at(found, result.option.key).compressors, strict=True):
            if not group.shared:
                heat = np.maximum(supply[:, group.zones[0]], 0.0).sum()
                cold = np.maximum(-supply[:, group.zones[0]], 0.0).sum()
                assert unit.heat_w.sum() == pytest.approx(heat, rel=5e-3)
                assert unit.cool_w.sum() >= cold * (1.0 - 5e-3)


@pytest.mark.parametrize("name", SCENARIOS)
def test_time_at_home_is_shared_out_over_the_rooms(name: str) -> None:
    shares = people_fracs(compared(name).case)
    assert shares.sum() == pytest.approx(1.0)
    assert shares.min() >= 0.0


def test_nothing_is_quieter_than_the_background() -> None:
    found = compared("ranch")
    for result in found.results:
        for room in evidence_at(found, result.option.key).rooms:
            for level_dba in (room.bed_dba, room.seat_dba):
                assert level_dba is None or level_dba.min() >= constant("background_dba") - 1e-6


def test_a_seat_between_two_heads_hears_both() -> None:
    """Levels of two units at one place add by energy (acoustics textbooks), the background once."""
    seat = {"room": "Dining", "at": [8, 2], "kind": "table"}
    found = compare_house(house(chain(seat=[seat])))
    dining = next(i for i, room in enumerate(found.case.plan.rooms) if room.name == "Dining")
    result = found.by_id["h0-h4"]
    background = 10 ** (constant("background_dba") / 10)
    heard = []
    years = unit_hours(result.option, found.hours("h0-h4").run.units)
    for zone, running in zip(result.option.zones, years, strict=True):
        (ear,) = [one for one in ears_of(found.case.plan, zone, found.sources.units) if one.room == dining]
        heard.append(10 ** (heard_dba([(ear, running)]) / 10) - background)
    together = 10 * np.log10(heard[0] + heard[1] + background)
    assert np.allclose(evidence_at(found, result.option.key).rooms[dining].seat_dba, together, atol=1e-6)
    assert np.max(together - 10 * np.log10(np.maximum(*heard) + background)) > 0.5
