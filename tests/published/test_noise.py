"""Sound: rows of standards, handbooks and public documents, each with its source and tolerance."""

import math

import numpy as np
import pytest

from compare.air.noise import bands, criteria, fan, hours, outdoors, outlet, path, room
from compare.air.tables import rows
from compare.air.units_us import CFM_M3_S, FT2_M2, FT3_M3, FT_M, IN_M, IN_WC_PA

BOX_M3 = 2400 * FT3_M3
BEDROOM_M3 = 1152 * FT3_M3


# Source: 2009 acoustics application guide p. 76 (first row); bedroom rows computed from the same formula. 0.1 dB.
@pytest.mark.parametrize(
    ("volume_m3", "distance_ft", "loss_db"),
    [
        (BOX_M3, 10, [7.3, 8.2, 9.1, 10.0, 10.9, 11.8, 12.7, 13.6]),
        (BOX_M3, 7, [5.8, 6.6, 7.5, 8.4, 9.4, 10.3, 11.2, 12.1]),
        (BEDROOM_M3, 5, [2.7, 3.6, 4.5, 5.4, 6.3, 7.2, 8.1, 9.0]),
        (BEDROOM_M3, 8, [4.7, 5.6, 6.5, 7.4, 8.3, 9.2, 10.1, 11.0]),
    ],
)
def test_room_effect(volume_m3, distance_ft, loss_db):
    assert room.schultz_loss_db(volume_m3, distance_ft * FT_M) == pytest.approx(loss_db, abs=0.1)


def test_room_effect_metric_form():
    """The SI form with constant 12 (from memory) lies within 0.15 dB."""
    freq = bands.bands_hz()
    metric = 5 * np.log10(BOX_M3) + 3 * np.log10(freq) + 10 * np.log10(10 * FT_M) - 12
    assert room.schultz_loss_db(BOX_M3, 10 * FT_M) == pytest.approx(metric, abs=0.15)


def test_ceiling_array():
    """Same guide pp. 95-96: H 10 ft, 12 x 24 ft, two outlets; printed values are cut, not rounded: 0 to +0.11 dB."""
    loss = room.ceiling_array_loss_db(10 * FT_M, 288 * FT2_M2, 2)
    assert loss == pytest.approx([3.3, 4.2, 5.1, 6.0, 6.9, 7.8, 8.7, 9.6], abs=0.11)


# Source: direct and reverberant formula (engineeringtoolbox.com d_72); figures computed from it. 0.05 dB.
@pytest.mark.parametrize(
    ("absorption", "constant_m2", "wall_db", "edge_db"),
    [(0.10, 6.95, -2.11, -1.83), (0.15, 11.03, -3.95, -3.54), (0.20, 15.63, -5.29, -4.74), (0.25, 20.84, -6.35, -5.66)],
)
def test_direct_and_reverberant(absorption, constant_m2, wall_db, edge_db):
    r_m2 = room.room_constant_m2(62.5, absorption)
    assert r_m2 == pytest.approx(constant_m2, abs=0.02)
    assert room.direct_reverberant_db(2.0, r_m2, 2) == pytest.approx(wall_db, abs=0.05)
    assert room.direct_reverberant_db(2.0, r_m2, 4) == pytest.approx(edge_db, abs=0.05)


def test_a_weighting():
    """IEC 61672: table to 0.1 dB of its own analytic form."""
    table = [-26.2, -16.1, -8.6, -3.2, 0.0, 1.2, 1.0, -1.1]
    assert bands.a_weights_db() == pytest.approx(table, abs=1e-9)
    assert bands.a_weight_formula_db(bands.bands_hz()) == pytest.approx(table, abs=0.15)


def test_nc_of_a_worked_spectrum():
    """Teaching page (student.infinitycodestudio.com/?p=1705): NC 46 set by 500 Hz. Tolerance 1."""
    rating = criteria.nc_rating(np.array([61, 56, 54, 50, 44, 43, 39, 34.0]))
    assert rating.nc == pytest.approx(46, abs=1)
    assert rating.band_hz == 500


@pytest.mark.parametrize("nc", [15, 20, 25, 30, 35, 40, 45, 50, 55, 60, 65])
@pytest.mark.parametrize("table", ["classic", "s12.2"])
def test_nc_curve_rates_as_itself(nc, table):
    """Classic curves and ANSI/ASA S12.2-2019 (both second-hand)."""
    numbers, curves = criteria.nc_curves(table)
    assert criteria.nc_rating(curves[list(numbers).index(nc)], table).nc == pytest.approx(nc, abs=1e-9)


def test_nc_30_row():
    """Classic NC-30; the two tables differ by at most 1 dB in this row."""
    numbers, curves = criteria.nc_curves()
    at_30 = curves[list(numbers).index(30)]
    assert at_30 == pytest.approx([57, 48, 41, 35, 31, 29, 28, 27], abs=0)
    assert np.max(np.abs(at_30 - criteria.nc_curves("s12.2")[1][3])) <= 1


def test_limits():
    """WHO Guidelines for Community Noise 1999 (qualityplanning.org.nz node 832)."""
    assert criteria.limit_dba("bedroom_night") == 30
    assert criteria.limit_dba("bedroom_night_max") == 45
    assert criteria.limit_dba("living") == 35
    assert criteria.limit_dba("bedroom_window_outside") == 45


# Source: an outdoor-unit manual (trade page), Lw 64 dB, printed to whole decibels. 0.6 dB.
@pytest.mark.parametrize(
    ("walls", "levels"),
    [
        (0, [56, 50, 46, 44, 42, 40, 38, 36, 34, 32]),
        (1, [59, 53, 49, 47, 45, 43, 41, 39, 37, 36]),
        (2, [62, 56, 52, 50, 48, 46, 44, 42, 40, 39]),
    ],
)
def test_outdoor_distance(walls, levels):
    got = [64 - outdoors.spread_loss_db(r, walls) for r in (1, 2, 3, 4, 5, 6, 8, 10, 12, 15)]
    assert got == pytest.approx(levels, abs=0.6)


# Source: outdoor-unit data (trade page), 2-ton heating, AHRI 275-style: +3 dB per surface. 0.2 dB on the step.
@pytest.mark.parametrize(("distance_ft", "open_dba", "one_dba", "two_dba"), [(3, 60, 63, 66), (5, 55, 58, 61)])
def test_reflecting_surfaces(distance_ft, open_dba, one_dba, two_dba):
    losses = [outdoors.spread_loss_db(distance_ft * FT_M, walls) for walls in (0, 1, 2)]
    assert losses[0] - losses[1] == pytest.approx(one_dba - open_dba, abs=0.2)
    assert losses[1] - losses[2] == pytest.approx(two_dba - one_dba, abs=0.2)
    assert open_dba + losses[0] == pytest.approx(67, abs=0.6)  # the power worked back from every row


def test_fan_law():
    """2009 guide p. 80: 15,000 cfm at 3 in. gives 51.5 dB before Kw (exact 51.3). 0.3 dB."""
    octave = fan.handbook_power_db(15000 * CFM_M3_S, 3 * IN_WC_PA, "backward")
    kw = np.array([45, 45, 43, 39, 34, 28, 24, 19.0]) + np.array([0, 0, 3, 0, 0, 0, 0, 0])
    assert octave - kw == pytest.approx(np.full(8, 51.5), abs=0.3)


def test_forward_curved_fan():
    """Long, Architectural Acoustics T13.5-13.7: 800 cfm, 0.5 in., computed row, blade rise at 500 Hz apart."""
    octave = fan.handbook_power_db(800 * CFM_M3_S, 0.5 * IN_WC_PA, "forward")
    octave[3] -= 2
    assert octave == pytest.approx([76, 76, 66, 59, 59, 54, 49, 44], abs=0.6)


# Source: ASHRAE Handbook HVAC Applications 2019 ch. 49 Table 10 (second-hand). Exact.
@pytest.mark.parametrize(
    ("place", "added_db"),
    [
        ("neck", [5, 9, 12, 15, 18, 24]),
        ("plenum_inlet", [2, 3, 4, 5, 6, 9]),
        ("upstream", [0, 0, 0, 2, 3, 5]),
    ],
)
def test_damper_place(place, added_db):
    assert [outlet.damper_added_db(place, ratio) for ratio in (1.5, 2, 2.5, 3, 4, 6)] == added_db


def test_neck_velocity():
    """Same handbook Table 9 (second-hand): RC 25 supply 1.8, return 2.2 m/s."""
    first = rows("neck_velocity")[0]
    assert (float(first["supply_m_s"]), float(first["return_m_s"])) == (1.8, 2.2)


# Source: 2009 guide p. 71 (2 in. rows); 1 in. rows computed from the ASHRAE regression. dB/ft, 0.01.
@pytest.mark.parametrize(
    ("dia_in", "liner_in", "per_ft"),
    [
        (6, 2, [0.56, 0.80, 1.37, 2.25, 2.17, 2.31, 2.04, 1.26]),
        (8, 2, [0.51, 0.75, 1.33, 2.23, 2.19, 2.17, 1.83, 1.18]),
        (12, 2, [0.42, 0.67, 1.25, 2.18, 2.18, 1.91, 1.48, 1.05]),
        (6, 1, [0.38, 0.59, 0.93, 1.53, 2.17, 2.31, 2.04, 1.26]),
        (12, 1, [0.23, 0.46, 0.81, 1.45, 2.18, 1.91, 1.48, 1.05]),
    ],
)
def test_lined_round(dia_in, liner_in, per_ft):
    assert path.lined_round_db(dia_in * IN_M, FT_M, liner_in) == pytest.approx(per_ft, abs=0.01)


# Source: ASHRAE regression for lined rectangular duct, computed rows. dB/ft, 0.01 (half of the last digit printed).
@pytest.mark.parametrize(
    ("size_in", "per_ft"),
    [
        ((8, 8), [0.44, 0.72, 1.19, 2.49, 6.15, 5.86, 3.41, 2.34]),
        ((12, 8), [0.31, 0.56, 1.02, 2.27, 5.42, 5.06, 3.14, 2.25]),
        ((12, 12), [0.20, 0.41, 0.85, 2.03, 4.64, 4.23, 2.84, 2.14]),
        ((20, 8), [0.22, 0.43, 0.88, 2.08, 4.80, 4.40, 2.90, 2.16]),
    ],
)
def test_lined_rectangular(size_in, per_ft):
    got = path.lined_rect_db(size_in[0] * IN_M, size_in[1] * IN_M, FT_M)
    assert got == pytest.approx(per_ft, abs=0.011)


def test_lined_duct_of_ahri_885():
    """AHRI 885 (second-hand): lined 12 x 12 in., 1 in., 10 ft, 125-2000 Hz: 2 6 16 40 40 dB. Tolerance 5 dB."""
    got = path.lined_rect_db(12 * IN_M, 12 * IN_M, 10 * FT_M)
    assert got[1:6] == pytest.approx([2, 6, 16, 40, 40], abs=5)


# Source: ASHRAE form for bare rectangular duct, computed rows. dB/ft, 0.001.
@pytest.mark.parametrize(
    ("size_in", "per_ft"),
    [((8, 8), [0.786, 0.439, 0.244, 0.084]), ((12, 8), [0.751, 0.420, 0.233, 0.072]),
     ((20, 8), [0.719, 0.402, 0.223, 0.063]), ((12, 12), [0.710, 0.397, 0.220, 0.061])],
)  # fmt: skip
def test_bare_rectangular(size_in, per_ft):
    got = path.unlined_rect_db(size_in[0] * IN_M, size_in[1] * IN_M, FT_M)
    assert got[:4] == pytest.approx(per_ft, abs=0.002)


# Source: Long, Architectural Acoustics 2nd ed. T14.4 (second-hand). Exact at the table's own rows.
@pytest.mark.parametrize(
    ("dia_in", "length_ft", "loss"),
    [
        (6, 3, [2, 3, 4, 8, 10, 10, 7]),
        (6, 6, [4, 6, 9, 17, 19, 20, 13]),
        (6, 9, [6, 9, 13, 25, 29, 30, 20]),
        (6, 12, [8, 12, 17, 33, 38, 40, 26]),
        (8, 6, [4, 6, 11, 17, 19, 19, 12]),
        (10, 6, [4, 5, 11, 16, 18, 17, 11]),
    ],
)
def test_flexible_duct(dia_in, length_ft, loss):
    assert path.flex_db(dia_in * IN_M, length_ft * FT_M)[:7] == pytest.approx(loss, abs=1e-9)


# Source: handbook table (Bies T8.14, second-hand), 63-1000 Hz, to whole decibels. 0.7 dB.
@pytest.mark.parametrize(
    ("dia_in", "loss"),
    [(6, [18, 12, 7, 3, 1]), (8, [15, 10, 5, 2, 1]), (10, [14, 8, 4, 1, 0]), (12, [12, 7, 3, 1, 0])],
)
def test_end_reflection(dia_in, loss):
    assert path.end_reflection_db(dia_in * IN_M)[:5] == pytest.approx(loss, abs=0.7)


# Same table, free ends. Its rows follow the older form (0.5 dB); the current one gives up to 1.3 dB more.
@pytest.mark.parametrize(("dia_in", "loss"), [(6, [20, 14, 9, 5, 2]), (8, [18, 12, 7, 3, 1])])
def test_end_reflection_free(dia_in, loss):
    assert path.end_reflection_older_db(dia_in * IN_M, flush=False)[:5] == pytest.approx(loss, abs=0.6)
    assert path.end_reflection_db(dia_in * IN_M, flush=False)[:5] == pytest.approx(loss, abs=1.4)


def test_end_reflection_older_form():
    """2009 guide p. 95: 12 in. flush with exponent 1.88. 0.1 dB."""
    got = path.end_reflection_older_db(12 * IN_M)[:5]
    assert got == pytest.approx([12.6, 7.6, 3.6, 1.3, 0.4], abs=0.1)


# Source: Wells' plenum formula; 8 in. outlet, 0.9 m, 6 m2 of lining, computed row. 0.1 dB.
@pytest.mark.parametrize(("absorption", "loss"), [(0.1, 12.1), (0.3, 16.0), (0.5, 17.4), (0.7, 18.2), (0.9, 18.7)])
def test_plenum(absorption, loss):
    area = math.pi * (8 * IN_M) ** 2 / 4
    assert path.plenum_db(area, 0.9, 6.0, absorption) == pytest.approx(loss, abs=0.1)


def test_split():
    """A quarter of the area is 6.0 dB (ASHRAE)."""
    assert path.split_db(0.25) == pytest.approx(np.full(8, 6.0), abs=0.03)


# Source: Reynolds; Long, Architectural Acoustics 2nd ed. eq. 13.27 (second-hand); computed octave rows. 0.2 dB.
@pytest.mark.parametrize(
    ("face_ft2", "cfm", "drop_in", "rect", "octave"),
    [
        (60 / 144, 100, 0.02, True, [6.8, 10.3, 11.6, 10.6, 7.4, 1.9, -5.9, -15.9]),
        (60 / 144, 150, 0.045, True, [17.4, 20.9, 22.2, 21.2, 18.0, 12.5, 4.7, -5.3]),
        (60 / 144, 200, 0.08, True, [19.0, 24.8, 28.4, 29.7, 28.7, 25.4, 19.9, 12.2]),
        (0.349, 200, 0.05, False, [18.2, 24.0, 27.5, 28.8, 27.8, 24.6, 19.1, 11.3]),
        (0.196, 100, 0.05, False, [15.6, 21.4, 25.0, 26.3, 25.3, 22.0, 16.5, 8.8]),
    ],
)
def test_outlet_noise(face_ft2, cfm, drop_in, rect, octave):
    face_m2 = face_ft2 * FT2_M2
    heads = (cfm / face_ft2 / 4005) ** 2
    got = outlet.outlet_power_db(face_m2, np.array([cfm * CFM_M3_S]), drop_in / heads, rect=rect)[0]
    assert got == pytest.approx(octave, abs=0.2)


def test_outlet_noise_doubling():
    """Same: +18.1 dB for twice the speed at equal loss coefficient. 0.1 dB on the sum of bands at equal shape."""
    slow, fast = outlet.outlet_power_db(0.0387, np.array([0.0472, 0.0944]), 5.6)
    peak = [np.max(levels) for levels in (slow, fast)]
    assert 60 * math.log10(2) == pytest.approx(18.1, abs=0.1)
    assert peak[1] - peak[0] == pytest.approx(18.1, abs=0.1)


def test_background_and_run_fraction():
    """LAeq of a unit that runs half the hour is 3 dB under its level, background added by energy (definition)."""
    curve = hours.LevelCurve((0.0, 1.0), (30.0, 40.0))
    got = hours.hourly_level_dba(curve, np.array([0.0]), np.array([0.5]), background_dba=-100)
    assert got[0] == pytest.approx(30 - 10 * math.log10(2), abs=1e-9)


def test_speed_law():
    """Handbook fan law (from memory): doubling the speed adds 15 dB."""
    assert fan.speed_change_db(2.0) == pytest.approx(15.05, abs=0.01)
