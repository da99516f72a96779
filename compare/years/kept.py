"""What stays of an option's year once its hours are gone: a few figures, and how to run the hours again."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from compare.equipment.year import UnitCycling, UnitEnergy, UnitLimits
from compare.options.option import Option
from compare.physics.network import YearTrace
from compare.scoring.evidence import CompressorEvidence
from compare.years.case import HouseCase
from compare.years.energy import delivered, plain_rests
from compare.years.gather import OptionRun, Shared
from compare.years.hills import Hill, hills_of
from compare.years.moments import RoomMoments, room_moments
from compare.years.origin import Doors
from compare.years.sound import HeardHours, indoor_listening, outdoor_listening


@dataclass(frozen=True, slots=True)
class UnitTotals:
    """One outdoor unit's year in totals."""

    energy: UnitEnergy
    cycling: UnitCycling
    limits: UnitLimits


@dataclass(frozen=True, slots=True, eq=False)
class KeptYear:
    """One option's year without its hours."""

    option: Option
    """As it was run; an option with the same units in other places may share its year."""
    doors: Doors
    units: tuple[UnitTotals, ...]
    moments: tuple[RoomMoments, ...]
    hills: tuple[Hill, ...]
    heads: tuple[HeardHours, ...]
    """Of each zone's indoor unit while a bed or seat that hears it is in use: one that is moved hears it anew."""
    outdoor: tuple[HeardHours, ...]
    """Of each outdoor unit by night."""

    def again(self) -> OptionRun:
        """Its hours, run again: the same to the last digit."""
        return run_of(self.doors.origin.case, self.option, self.doors.origin.again())


def run_of(case: HouseCase, option: Option, trace: YearTrace) -> OptionRun:
    """An option's year with what its units did, from its rooms and supplies."""
    return OptionRun(option, trace, delivered(case, option, trace, plain_rests(option)))


def kept_of(shared: Shared, found: OptionRun, doors: Doors, units: Sequence[CompressorEvidence]) -> KeptYear:
    """What stays of a year."""
    case, option, years = shared.case, found.option, found.run.units
    night = shared.season.in_hours(outdoor_listening(shared.numbers))
    return KeptYear(
        option=option,
        doors=doors,
        units=tuple(UnitTotals(year.energy, year.cycling, year.limits) for year in years),
        moments=room_moments(case.plan, shared.season, found.trace.room_c),
        hills=hills_of(case, option, units),
        heads=tuple(_heads(shared, found)),
        outdoor=tuple(hours.heard_in(night) for hours in found.outdoor_hours),
    )


def _heads(shared: Shared, found: OptionRun) -> Iterator[HeardHours]:
    for zone, hours in zip(found.option.zones, found.unit_hours, strict=True):
        listening = indoor_listening(shared.case.plan, shared.ears[zone.key], shared.numbers)
        yield hours.heard_in(shared.season.in_hours(listening))
