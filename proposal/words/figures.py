"""Numbers as people read them, in the units of the house, value and unit joined by a no-break space.

Rounded to what the data can bear: whole degrees Fahrenheit (tenths of a degree Celsius), whole dB(A), prices to $100
and bills to $10 where they are large. Differences are taken between the shown figures, so that a reader who subtracts
finds the same.
"""

from __future__ import annotations

from dataclasses import dataclass

from compare.units import Kind, System, from_si, show

NBSP = "\u00a0"
MINUS = "\u2212"
MONEY_STEPS = ((2000.0, 100.0), (100.0, 10.0))
ENERGY_STEPS = ((1000.0, 100.0), (100.0, 10.0))


def rounded(value: float, steps: tuple[tuple[float, float], ...]) -> float:
    """The value in steps that grow with its size: (from, step) pairs, largest first; below them whole numbers."""
    step = next((step for start, step in steps if abs(value) >= start), 1.0)
    return round(value / step) * step + 0.0


def joined(text: str) -> str:
    """Text with its spaces made no-break."""
    return text.replace(" ", NBSP)


@dataclass(frozen=True, slots=True)
class Figures:
    """How numbers are written for one house."""

    units: System
    of: str = "of"
    """The word in `32 of 100`."""

    def degrees(self, value_c: float) -> float:
        """A temperature as it is shown: whole °F, or tenths of °C."""
        places = 0 if self.units is System.US else 1
        return round(from_si(value_c, Kind.TEMPERATURE, self.units), places) + 0.0

    def temperature(self, value_c: float) -> str:
        """As in `69 °F` or `20.5 °C`."""
        places = 0 if self.units is System.US else 1
        return joined(show(value_c, Kind.TEMPERATURE, self.units, places)).replace("-", MINUS)

    def temperature_gap(self, one_c: float, other_c: float) -> str:
        """Difference of two temperatures between their shown figures, as in `3 °F`."""
        gap = abs(self.degrees(one_c) - self.degrees(other_c))
        return joined(f"{gap:.0f} °F" if self.units is System.US else f"{gap:.1f} °C")

    def usd(self, value_usd: float) -> str:
        """As in `$15,800`."""
        return f"${rounded(value_usd, MONEY_STEPS):,.0f}"

    def usd_gap(self, one_usd: float, other_usd: float) -> str:
        """Difference of two amounts between their shown figures."""
        return f"${abs(rounded(one_usd, MONEY_STEPS) - rounded(other_usd, MONEY_STEPS)):,.0f}"

    def kwh(self, value_kwh: float) -> str:
        """As in `4,300 kWh`."""
        return f"{rounded(value_kwh, ENERGY_STEPS):,.0f}{NBSP}kWh"

    def kwh_gap(self, one_kwh: float, other_kwh: float) -> str:
        """Difference of two energies between their shown figures."""
        gap = abs(rounded(one_kwh, ENERGY_STEPS) - rounded(other_kwh, ENERGY_STEPS))
        return f"{gap:,.0f}{NBSP}kWh"

    def level(self, value_dba: float) -> str:
        """As in `24 dB(A)`."""
        return f"{value_dba:.0f}{NBSP}dB(A)"

    def of_hundred(self, share: float) -> str:
        """A fraction as in `32 of 100`."""
        return f"{100.0 * share:.0f}{NBSP}{self.of}{NBSP}100"

    def percent(self, share: float) -> str:
        """A fraction as in `80 %`."""
        return f"{100.0 * share:.0f}{NBSP}%"

    def starts(self, value: float) -> str:
        """A number of starts, as in `2,100`."""
        return f"{rounded(value, ENERGY_STEPS):,.0f}"

    def points(self, value: float) -> str:
        """Points of the fit, whole."""
        return f"{value:.0f}"

    def power(self, value_w: float) -> str:
        """As in `9.7 kBtu/h` or `2.8 kW`."""
        if self.units is System.US:
            return f"{from_si(value_w, Kind.CAPACITY, System.US) / 1000.0:,.1f}{NBSP}kBtu/h"
        return f"{value_w / 1000.0:,.1f}{NBSP}kW"
