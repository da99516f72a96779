"""Kinds of quantity and the words a person may write for their units: a table, and nothing that converts.

Each kind has one SI unit used inside the program, one US unit that a bare number means in a US file, and the list
of words that are accepted. `compare.units` does the converting.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from types import MappingProxyType


class System(StrEnum):
    """What a bare number means."""

    US = "US"
    SI = "SI"


class Kind(StrEnum):
    """What a number measures."""

    LENGTH = "length"
    SMALL_LENGTH = "small length"
    AREA = "area"
    VOLUME = "volume"
    TEMPERATURE = "temperature"
    DIFFERENCE = "temperature difference"
    DEGREE_DAYS = "degree-days"
    U_VALUE = "U-value"
    EDGE_LOSS = "edge loss"
    CONDUCTANCE = "conductance"
    FLUX = "heat per area"
    FLOW = "airflow"
    SPEED = "air speed"
    CAPACITY = "heating or cooling capacity"
    POWER = "electric power"
    ENERGY = "energy"
    PRESSURE = "pressure"
    MASS = "mass"
    ENERGY_PRICE = "price of electricity"
    MONEY = "money"
    ANGLE = "angle"
    SHARE = "share"
    AIR_CHANGES = "air changes"
    CARBON = "carbon per energy"
    NUMBER = "number"


DEFINITIONS = """
metre = [length] = m
second = [time] = s
kilogram = [mass] = kg
kelvin = [temperature]; offset: 0 = K
dollar = [currency] = USD
inch = 0.0254 * metre
foot = 0.3048 * metre
centimetre = 0.01 * metre
millimetre = 0.001 * metre
minute = 60 * second
hour = 3600 * second
day = 24 * hour
litre = 0.001 * metre ** 3
gram = 0.001 * kilogram
pound = 0.45359237 * kilogram
degree_C = kelvin; offset: 273.15
degree_F = 5 / 9 * kelvin; offset: 255.3722222222222
kelvin_step = [step]
rankine_step = 5 / 9 * kelvin_step
newton = kilogram * metre / second ** 2
pascal = newton / metre ** 2
joule = newton * metre
watt = joule / second
kilowatt = 1000 * watt
kilowatt_hour = kilowatt * hour
btu = 1055.05585262 * joule
btu_h = btu / hour
inch_water = 249.08891 * pascal
degree = [angle]
whole = []
percent = 0.01 * whole
"""
"""Every unit the program knows. Btu: international table (ISO 31-4). Inch of water: at 39 degF (4 degC)."""


@dataclass(frozen=True, slots=True)
class Unit:
    """One unit of a kind: the words that name it, how pint writes it, how it is shown and to how many decimals."""

    words: tuple[str, ...]
    expression: str
    label: str
    decimals: int = 0
    any_case: bool = True
    """False for SI symbols, in which m and M differ."""


def _si(words: tuple[str, ...], expression: str, label: str, decimals: int) -> Unit:
    return Unit(words, expression, label, decimals, any_case=False)


@dataclass(frozen=True, slots=True)
class KindUnits:
    """The SI unit held inside, the unit a bare number has in each system, and further words that are accepted."""

    inside: str
    us: Unit
    si: Unit
    others: tuple[Unit, ...] = ()

    def bare(self, system: System) -> Unit:
        """The unit of a bare number."""
        return self.us if system is System.US else self.si

    def every(self) -> tuple[Unit, ...]:
        """All units whose words are accepted."""
        return (self.us, self.si, *self.others)


FOOT = Unit(("ft", "foot", "feet", "'"), "foot", "ft", 1)
INCH = Unit(("in", "in.", "inch", "inches", '"'), "inch", "in.", 1)
METRE = _si(("m", "metre", "metres", "meter", "meters"), "metre", "m", 2)
CENTIMETRE = _si(("cm",), "centimetre", "cm", 1)
MILLIMETRE = _si(("mm",), "millimetre", "mm", 0)
WATT = _si(("W", "watt", "watts"), "watt", "W", 0)
KILOWATT = _si(("kW",), "kilowatt", "kW", 1)
KELVIN_STEP = _si(("K", "C", "degC"), "kelvin_step", "K", 1)
RANKINE_STEP = Unit(("f", "degf"), "rankine_step", "°F", 0)
KWH = _si(("kWh",), "kilowatt_hour", "kWh", 0)
PERCENT = Unit(("%", "percent"), "percent", "%", 0)
DOLLAR = Unit(("usd", "$", "dollar", "dollars"), "dollar", "USD", 0)
USD_KWH = Unit(("usd/kwh", "$/kwh"), "dollar / kilowatt_hour", "USD/kWh", 3)


def _same(inside: str, unit: Unit, *others: Unit) -> KindUnits:
    """A kind that both systems write alike."""
    return KindUnits(inside, unit, unit, others)


KINDS: MappingProxyType[Kind, KindUnits] = MappingProxyType(
    {
        Kind.LENGTH: KindUnits("metre", FOOT, METRE, (INCH, CENTIMETRE, MILLIMETRE)),
        Kind.SMALL_LENGTH: KindUnits("metre", INCH, MILLIMETRE, (FOOT, METRE, CENTIMETRE)),
        Kind.AREA: KindUnits(
            "metre ** 2",
            Unit(("ft2", "ft^2", "sqft", "squarefeet", "squarefoot"), "foot ** 2", "ft²", 0),
            _si(("m2", "m^2"), "metre ** 2", "m²", 1),
        ),
        Kind.VOLUME: KindUnits(
            "metre ** 3",
            Unit(("ft3", "ft^3", "cubicfeet"), "foot ** 3", "ft³", 0),
            _si(("m3", "m^3"), "metre ** 3", "m³", 0),
        ),
        Kind.TEMPERATURE: KindUnits(
            "degree_C",
            Unit(("f", "degf"), "degree_F", "°F", 0),
            Unit(("c", "degc"), "degree_C", "°C", 1),
        ),
        Kind.DIFFERENCE: KindUnits("kelvin_step", RANKINE_STEP, KELVIN_STEP),
        Kind.DEGREE_DAYS: _same(
            "kelvin_step * day",
            _si(("K.d", "Kd", "C.d"), "kelvin_step * day", "K·d", 0),
            Unit(("f.d", "fd"), "rankine_step * day", "°F·d", 0),
        ),
        Kind.U_VALUE: KindUnits(
            "watt / metre ** 2 / kelvin_step",
            Unit(("btu/h.ft2.f", "btu/hft2f"), "btu_h / foot ** 2 / rankine_step", "Btu/h·ft²·°F", 3),
            _si(("W/m2K", "W/m2.K"), "watt / metre ** 2 / kelvin_step", "W/m²K", 2),
        ),
        Kind.EDGE_LOSS: KindUnits(
            "watt / metre / kelvin_step",
            Unit(("btu/h.ft.f", "btu/hftf"), "btu_h / foot / rankine_step", "Btu/h·ft·°F", 2),
            _si(("W/mK", "W/m.K"), "watt / metre / kelvin_step", "W/mK", 2),
        ),
        Kind.CONDUCTANCE: KindUnits(
            "watt / kelvin_step",
            Unit(("btu/h.f", "btu/hf"), "btu_h / rankine_step", "Btu/h·°F", 0),
            _si(("W/K",), "watt / kelvin_step", "W/K", 1),
        ),
        Kind.FLUX: KindUnits(
            "watt / metre ** 2",
            Unit(("btu/h.ft2", "btu/hft2"), "btu_h / foot ** 2", "Btu/h·ft²", 1),
            _si(("W/m2",), "watt / metre ** 2", "W/m²", 1),
        ),
        Kind.FLOW: KindUnits(
            "metre ** 3 / second",
            Unit(("cfm", "ft3/min", "cubicfeetperminute"), "foot ** 3 / minute", "ft³/min", 0),
            _si(("L/s", "l/s"), "litre / second", "L/s", 0),
            (
                _si(("m3/s",), "metre ** 3 / second", "m³/s", 3),
                _si(("m3/h",), "metre ** 3 / hour", "m³/h", 0),
            ),
        ),
        Kind.SPEED: KindUnits(
            "metre / second",
            Unit(("fpm", "ft/min"), "foot / minute", "ft/min", 0),
            _si(("m/s",), "metre / second", "m/s", 2),
        ),
        Kind.CAPACITY: KindUnits(
            "watt",
            Unit(("btu/h", "btuh", "btu/hr"), "btu_h", "Btu/h", 0),
            WATT,
            (Unit(("kbtu/h", "kbtuh"), "1000 * btu_h", "kBtu/h", 1), KILOWATT),
        ),
        Kind.POWER: _same("watt", WATT, KILOWATT),
        Kind.ENERGY: _same("kilowatt_hour", KWH),
        Kind.PRESSURE: KindUnits(
            "pascal",
            Unit(("inh2o", "inwc", "in.w.c.", "inchesofwater"), "inch_water", "in. w.c.", 2),
            _si(("Pa", "pascal"), "pascal", "Pa", 0),
        ),
        Kind.MASS: KindUnits(
            "kilogram",
            Unit(("lb", "lbs", "pound", "pounds"), "pound", "lb", 1),
            _si(("kg",), "kilogram", "kg", 2),
            (_si(("g",), "gram", "g", 0),),
        ),
        Kind.ENERGY_PRICE: _same("dollar / kilowatt_hour", USD_KWH),
        Kind.MONEY: _same("dollar", DOLLAR),
        Kind.ANGLE: _same("degree", Unit(("deg", "degree", "degrees"), "degree", "°", 0)),
        Kind.SHARE: _same("whole", Unit((), "whole", "", 2), PERCENT),
        Kind.AIR_CHANGES: _same("1 / hour", Unit(("1/h", "/h", "ach"), "1 / hour", "1/h", 2)),
        Kind.CARBON: _same("kilogram / kilowatt_hour", Unit(("kg/kwh",), "kilogram / kilowatt_hour", "kg/kWh", 2)),
        Kind.NUMBER: _same("whole", Unit((), "whole", "", 2)),
    }
)
