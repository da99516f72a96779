"""Units at the edge: traps, wrong words, round trips, and factors against pint's own general registry."""

from __future__ import annotations

import math
import subprocess
import sys
from typing import Any

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from compare.kinds import KINDS
from compare.units import (
    Kind,
    System,
    UnitError,
    _kept,
    _line_by_pint,
    examples,
    from_si,
    label,
    parse,
    show,
    show_feet_inches,
    to_si,
)

US, SI = System.US, System.SI

READ = [
    # text or number, kind, system, SI value
    ("12 ft 6 in", Kind.LENGTH, US, 3.81),
    ("12ft6in", Kind.LENGTH, SI, 3.81),
    ("12' 6 1/2\"", Kind.LENGTH, US, 3.8227),
    ("-1 ft 6 in", Kind.LENGTH, US, -0.4572),
    ("32 1/2 in", Kind.LENGTH, US, 0.8255),
    ("1/2 in.", Kind.SMALL_LENGTH, SI, 0.0127),
    ("3.8 m", Kind.LENGTH, US, 3.8),
    (12.5, Kind.LENGTH, US, 3.81),
    (12.5, Kind.LENGTH, SI, 12.5),
    ("380 cm", Kind.LENGTH, US, 3.8),
    (0.5, Kind.SMALL_LENGTH, US, 0.0127),
    (13, Kind.SMALL_LENGTH, SI, 0.013),
    ("25 F", Kind.TEMPERATURE, SI, -25.0 / 9.0 * 1.4),
    (32, Kind.TEMPERATURE, US, 0.0),
    ("-40 °F", Kind.TEMPERATURE, SI, -40.0),
    ("21 degC", Kind.TEMPERATURE, US, 21.0),
    (18, Kind.DIFFERENCE, US, 10.0),
    ("5 K", Kind.DIFFERENCE, US, 5.0),
    ("9000 Btu/h", Kind.CAPACITY, SI, 2637.63963155),
    ("12 kBtu/h", Kind.CAPACITY, SI, 3516.852842),
    ("2.5 kW", Kind.CAPACITY, US, 2500.0),
    ("0.095", Kind.U_VALUE, US, 0.53943501740),
    ("0.3 W/(m²·K)", Kind.U_VALUE, US, 0.3),
    ("350 CFM", Kind.FLOW, SI, 0.16518160512),
    ("70 %", Kind.SHARE, US, 0.7),
    (0.7, Kind.SHARE, SI, 0.7),
    ("0.1 in. w.c.", Kind.PRESSURE, US, 24.908891),
    ("1e2 m", Kind.LENGTH, SI, 100.0),
    ("+.5 m", Kind.LENGTH, SI, 0.5),
]


@pytest.mark.parametrize(("value", "kind", "system", "value_si"), READ)
def test_reads_what_people_write(value: float | str, kind: Kind, system: System, value_si: float) -> None:
    assert to_si(value, kind, system) == pytest.approx(value_si, rel=1e-10, abs=1e-12)


# Factors of an independent, general-purpose unit library: pint's default registry (its words differ from ours).
GENERAL = {
    (Kind.LENGTH, "ft"): ("foot", "metre"),
    (Kind.LENGTH, "in"): ("inch", "metre"),
    (Kind.AREA, "ft2"): ("foot ** 2", "metre ** 2"),
    (Kind.VOLUME, "ft3"): ("foot ** 3", "metre ** 3"),
    (Kind.DIFFERENCE, "F"): ("delta_degF", "delta_degC"),
    (Kind.U_VALUE, "Btu/h.ft2.F"): ("Btu_it / hour / foot ** 2 / delta_degF", "watt / metre ** 2 / kelvin"),
    (Kind.EDGE_LOSS, "Btu/h.ft.F"): ("Btu_it / hour / foot / delta_degF", "watt / metre / kelvin"),
    (Kind.CONDUCTANCE, "Btu/h.F"): ("Btu_it / hour / delta_degF", "watt / kelvin"),
    (Kind.FLUX, "Btu/h.ft2"): ("Btu_it / hour / foot ** 2", "watt / metre ** 2"),
    (Kind.FLOW, "cfm"): ("cubic_foot / minute", "metre ** 3 / second"),
    (Kind.SPEED, "fpm"): ("foot / minute", "metre / second"),
    (Kind.CAPACITY, "Btu/h"): ("Btu_it / hour", "watt"),
    (Kind.PRESSURE, "in. w.c."): ("inH2O", "pascal"),
    (Kind.MASS, "lb"): ("pound", "kilogram"),
    (Kind.MASS, "g"): ("gram", "kilogram"),
    (Kind.FLOW, "m3/h"): ("metre ** 3 / hour", "metre ** 3 / second"),
}


def test_factors_agree_with_a_general_library() -> None:
    general: pint.UnitRegistry[Any] = pint.UnitRegistry()
    for (kind, word), (unit, held) in GENERAL.items():
        expected = general.parse_expression(unit).to(held).magnitude
        # the 39 degF inch of water is given to six figures there
        assert to_si(f"1 {word}", kind, US) == pytest.approx(expected, rel=2e-6 if kind is Kind.PRESSURE else 1e-9), (
            word
        )


def test_kept_factors_are_those_of_pint() -> None:
    """Every unit has its row of `data/units.csv`, equal to the last digit to what pint makes of our definitions."""
    needed = {(unit.expression, of.inside) for of in KINDS.values() for unit in of.every()}
    needed = {pair for pair in needed if pair[0] != pair[1]}
    assert set(_kept()) == needed
    for pair in needed:
        assert _kept()[pair] == _line_by_pint(*pair), pair


def test_published_factors() -> None:
    """NIST SP 811 (2008), appendix B.8, to its seven figures."""
    assert to_si("1 Btu/h", Kind.CAPACITY, US) == pytest.approx(2.930711e-01, rel=2e-7)
    assert to_si(1, Kind.FLOW, US) == pytest.approx(4.719474e-04, rel=2e-7)
    assert to_si(1, Kind.U_VALUE, US) == pytest.approx(5.678263, rel=2e-7)
    assert to_si(1, Kind.PRESSURE, US) == pytest.approx(2.49089e02, rel=1e-5)
    assert to_si(1, Kind.AREA, US) == pytest.approx(9.290304e-02, rel=1e-12)


@given(st.sampled_from(list(Kind)), st.floats(-1e9, 1e9, allow_subnormal=False))
def test_round_trip_in_both_systems(kind: Kind, value: float) -> None:
    for system in System:
        back = from_si(to_si(value, kind, system), kind, system)
        assert back == pytest.approx(value, rel=1e-12, abs=1e-12)


@given(st.sampled_from(list(Kind)), st.floats(-1e6, 1e6, allow_subnormal=False))
def test_us_and_si_twins_are_one_number(kind: Kind, value: float) -> None:
    value_si = to_si(value, kind, US)
    assert to_si(from_si(value_si, kind, SI), kind, SI) == pytest.approx(value_si, rel=1e-12, abs=1e-12)


TRAPS = """
pinch cft ton tons tonne R pico centi milli kilo foott fet meetr mm2 cmm mms inn inchs ftt foots yd yard yards mi mile
miles nmi rod chain furlong hand fathom angstrom au ly parsec pm nm um µm fm km dm hm Mm Gm thou mil point pica pixel
cfm CFM cfh gpm gal l L litre liter s sec min h hr hour day d yr year Hz W kW Btu BTU btu J kWh therm N lb lbf kg g oz
K C F degC degF °C °F rad deg ° % ppm 1 ft2 ft² sqft m2 m² acre ft3 m3 ft^2 m^2 ft/s m/s fpm mph kt USD $ € £ A V ohm
bar Pa psi atm mbar inHg inwg inH2O torr mol cd lm lx dB dBA ach clo met person m.m m/m ft/ft m*m m** m**2 9**9 (m)
[m] {m} <m> m; m, m: m! m? m# m@ m& m= m+ m- m_ mm. cm. m. mètre メートル м ｍ ſt ﬁ k kk M MM G T P E Z Y a f p n u c da
hecto ft-lb foot-pound in-lb feet2 feetinches infeet ftin in.ft nan inf NaN None null true false eval import __class__
os.system lambda x y z q w r t i o j v b nmile smoot cubit span stone bushel barrel cord palm shaku sun ri li chi
pouce pied toise league link perch pole em en didot twip mho
"""
"""Words that a general registry, a keyboard or a careless hand may put after a length; none is one of ours."""


def test_two_hundred_wrong_words_are_refused_for_a_length() -> None:
    allowed = {"mm", "cm", "m", "in.", "mm.", "cm.", "(m)", "m."}
    wrong = sorted(set(TRAPS.split()) - allowed)
    assert len(wrong) >= 200
    accepted = []
    for word in wrong:
        try:
            accepted.append((word, parse(f"3 {word}", Kind.LENGTH, US)))
        except UnitError:
            continue
    assert accepted == []


def test_every_unit_name_of_a_general_library_is_refused_unless_it_is_ours() -> None:
    names = [name for name in dir(pint.UnitRegistry()) if name.isascii() and not name.startswith("_")]
    ours = {"ft", "foot", "feet", "in", "inch", "inches", "metre", "meter", "m", "cm", "mm"}
    taken = set()
    for name in names:
        try:
            parse(f"1 {name}", Kind.LENGTH, US)
            taken.add(name)
        except UnitError:
            continue
    assert taken <= ours
    assert len(names) > 500


def test_words_of_other_kinds_are_refused() -> None:
    """A word is accepted only where its kind has it: a flow is not a length, a temperature not a U-value."""
    for kind in Kind:
        own = {word for unit in KINDS[kind].every() for word in (*unit.words, unit.label)}
        own |= {word.lower() for word in own}
        for other in Kind:
            for unit in KINDS[other].every():
                for word in unit.words:
                    if word not in own and word.lower() not in own:
                        with pytest.raises(UnitError):
                            parse(f"1 {word}", kind, US)


@pytest.mark.parametrize(
    "text",
    [
        "9,000", "3,8 m", "1 000 m", "1_000", "١٢", "１２", "twelve", "", " ", "m", "--1", "1e999", "0x10", "1e", "nan",
        "inf", "-inf", "1/0 in", "12 ft 13 in", "12 ft 6 in 3", "9**9**9", "1\n2", "1\x002", "½ in", "3 ft 2 m", "∞",
        "1" * 70,
    ],
)  # fmt: skip
def test_what_is_not_a_quantity_is_refused(text: str) -> None:
    with pytest.raises(UnitError) as refused:
        parse(text, Kind.LENGTH, US)
    assert str(refused.value)


@pytest.mark.parametrize("value", [True, False, None, [], {}, math.nan, math.inf, -math.inf, 10**400, b"1"])
def test_other_values_are_refused(value: object) -> None:
    with pytest.raises(UnitError):
        to_si(value, Kind.LENGTH, US)  # type: ignore[arg-type]


@given(st.text(max_size=80), st.sampled_from(list(Kind)))
def test_any_text_is_read_or_refused(text: str, kind: Kind) -> None:
    try:
        value_si = to_si(text, kind, US)
    except UnitError as error:
        value_si = 0.0 if str(error) else math.nan
    assert math.isfinite(value_si)


def test_minus_zero_is_zero() -> None:
    assert math.copysign(1.0, to_si(-0.0, Kind.LENGTH, US)) == 1.0


def test_shows_as_people_write() -> None:
    assert show(to_si(350, Kind.FLOW, US), Kind.FLOW, US) == "350 ft³/min"
    assert show(20.0, Kind.TEMPERATURE, US) == "68 °F"
    assert show(20.0, Kind.TEMPERATURE, SI) == "20.0 °C"
    assert show(2637.64, Kind.CAPACITY, US) == "9,000 Btu/h"
    assert show(0.7, Kind.SHARE, US) == "70 %"
    assert show(-0.0001, Kind.LENGTH, US) == "0.0 ft"
    assert show(3.8100, Kind.LENGTH, SI) == "3.81 m"
    assert show(90.0, Kind.ANGLE, US) == "90°"
    assert show(3.81, Kind.LENGTH, US, 2) == "12.50 ft"
    assert show_feet_inches(3.81) == "12 ft 6 in."
    assert show_feet_inches(3.6576) == "12 ft"
    assert show_feet_inches(-0.1651) == "-6.5 in."
    assert show_feet_inches(0.0) == "0 in."


def test_labels_can_be_read_back() -> None:
    for kind in Kind:
        for system in System:
            if label(kind, system):
                assert to_si(f"5 {label(kind, system)}", kind, system) == pytest.approx(to_si(5, kind, system))
    assert examples(Kind.NUMBER) == ""


def test_pint_is_imported_only_when_needed() -> None:
    code = "import sys, compare.units as u; u.to_si(1, u.Kind.LENGTH, u.System.SI); print('pint' in sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "False"


def test_a_word_that_does_not_print_is_not_echoed() -> None:
    with pytest.raises(UnitError) as found:
        parse("3 \u0080ft", Kind.LENGTH, System.US)
    assert str(found.value).isprintable()
