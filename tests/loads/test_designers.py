"""A designer's own table of room loads: what is read, what is refused and how, and how it takes our place."""

from __future__ import annotations

import numpy as np
import pytest

from compare.house.problems import HouseFileError
from compare.loads.designers import designers_of_text, in_place_of, read_designers
from compare.loads.house_loads import design_loads
from compare.loads.second_opinion import second_opinion
from compare.units import System
from tests.loads.cases import small_case

ROOMS = ("living", "hall", "bedroom", "guest")
CASE = small_case()
OURS = design_loads(CASE)
TABLE = """# from the office's own sheet
room,heating,cooling sensible,cooling latent
bedroom,2000,1500,200
living,9000 Btu/h,1.5 kW,500
hall,300,0,
guest,"1500","900","100"
"""


def test_reads_in_the_order_of_the_plan_and_in_both_units():
    # 9000 Btu/h = 2637.6 W, 2000 Btu/h = 586.1 W (International Table Btu, 1055.056 J).
    found = designers_of_text(TABLE, "loads.csv", ROOMS, System.US)
    assert [room.name for room in found] == list(ROOMS)
    assert found[0].heat_w == pytest.approx(2637.64, abs=0.01)
    assert found[0].cool_sensible_w == pytest.approx(1500.0)
    assert found[2].heat_w == pytest.approx(586.14, abs=0.01)
    assert found[1].cool_latent_w is None
    in_si = designers_of_text(TABLE, "loads.csv", ROOMS, System.SI)
    assert in_si[2].heat_w == pytest.approx(2000.0)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "empty; the first line is the heading"),
        ("room,heat\n", "columns are room, heating"),
        ("room,heating\nliving,3\n", "lacks cooling sensible"),
        ("room,heating,heating,cooling sensible\n", "names a column twice"),
        ("room,heating,cooling sensible\nliving,1\n", "loads.csv:2: 2 fields where the heading has 3"),
        ("room,heating,cooling sensible\nlivng,1,1\n", 'loads.csv:2: room = "livng"'),
        ("room,heating,cooling sensible\nlivng,1,1\n", 'did you mean "living"'),
        ("room,heating,cooling sensible\n\n# note\nhall,much,1\n", 'loads.csv:4: heating = "much": not a number'),
        ("room,heating,cooling sensible\nhall,-5,1\n", "between 0 and 100 kW"),
        ("room,heating,cooling sensible\nhall,5,\n", 'cooling sensible = ""'),
        ("room,heating,cooling sensible\nhall,5 cfm,1\n", '"cfm" is not a unit'),
        ("room,heating,cooling sensible\nhall,1,1\nhall,1,1\n", "loads.csv:3"),
        ("room,heating,cooling sensible\nhall,1,1\n", "no line for living, bedroom, guest"),
    ],
)
def test_faults_name_line_and_cure(text, words):
    with pytest.raises(HouseFileError) as caught:
        designers_of_text(text, "loads.csv", ROOMS, System.US)
    assert words in str(caught.value)


def test_every_fault_at_once():
    text = "room,heating,cooling sensible\nattic,1,1\nhall,x,y\n"
    with pytest.raises(HouseFileError) as caught:
        designers_of_text(text, "loads.csv", ROOMS, System.US)
    assert len(caught.value.problems) == 3


def test_files_that_cannot_be_read(tmp_path):
    with pytest.raises(HouseFileError, match="no such file"):
        read_designers(tmp_path / "none.csv", ROOMS, System.US)
    (tmp_path / "bad.csv").write_bytes("room,heating é".encode("latin-1"))
    with pytest.raises(HouseFileError, match="not in UTF-8"):
        read_designers(tmp_path / "bad.csv", ROOMS, System.US)
    (tmp_path / "large.csv").write_text("#" * 70_000)
    with pytest.raises(HouseFileError, match="larger than 64 KiB"):
        read_designers(tmp_path / "large.csv", ROOMS, System.US)
    (tmp_path / "good.csv").write_text("﻿" + TABLE, encoding="utf-8")
    assert len(read_designers(tmp_path / "good.csv", ROOMS, System.US)) == 4


def test_in_our_place_the_figures_are_theirs_and_the_hours_ours():
    # Definition: each room's peak is the designer's; the sum of heating is theirs; coincidence stays a coincidence.
    found = designers_of_text(TABLE, "loads.csv", ROOMS, System.SI)
    loads = in_place_of(OURS, found)
    assert [room.heat_w for room in loads.rooms] == [room.heat_w for room in found]
    assert loads.house.heat_w == pytest.approx(sum(room.heat_w for room in found))
    np.testing.assert_allclose(loads.sensible_w.max(axis=0), [room.cool_sensible_w for room in found], atol=1e-9)
    assert loads.house.cool_sensible_w <= sum(room.cool_sensible_w for room in found) + 1e-9
    assert loads.group([0]).cool_sensible_w == pytest.approx(found[0].cool_sensible_w)
    assert loads.rooms[1].cool_latent_w == OURS.rooms[1].cool_latent_w
    for index, room in enumerate(loads.rooms):
        hour = room.peak_hour_h
        assert loads.latent_w[hour, index] == pytest.approx(room.cool_latent_w)


def test_their_figures_equal_to_ours_change_nothing():
    # Identity: our own loads written as a table come back as our loads.
    rows = [f"{r.name},{r.heat_w:.9f},{r.cool_sensible_w:.9f},{r.cool_latent_w:.9f}" for r in OURS.rooms]
    text = "room,heating,cooling sensible,cooling latent\n" + "\n".join(rows)
    loads = in_place_of(OURS, designers_of_text(text, "loads.csv", ROOMS, System.SI))
    np.testing.assert_allclose(loads.sensible_w, OURS.sensible_w, rtol=1e-9)
    np.testing.assert_allclose(loads.latent_w, OURS.latent_w, rtol=1e-9)


def test_a_method_without_hours_stays_without():
    found = designers_of_text(TABLE, "loads.csv", ROOMS, System.SI)
    loads = in_place_of(second_opinion(CASE), found)
    assert loads.sensible_w is None
    assert loads.house.cool_sensible_w == pytest.approx(sum(room.cool_sensible_w for room in found))
    with pytest.raises(ValueError, match="3 rooms in the designer's table"):
        in_place_of(OURS, found[:3])
