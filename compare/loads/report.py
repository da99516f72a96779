"""Every opinion on the loads of a house side by side: rooms, groups of rooms, parts, assumptions and warnings."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from typing import Any

from compare.climate.year import WeatherYear
from compare.house.defaults import Assumption, assumptions
from compare.house.model import HouseFile
from compare.house.plan import Plan
from compare.loads.case import LoadCase
from compare.loads.cautions import warnings_of
from compare.loads.designers import DesignersRoom, in_place_of
from compare.loads.groups import RoomGroup, usual_groups
from compare.loads.house_loads import design_loads
from compare.loads.result import PARTS, GroupLoad, HouseLoads
from compare.loads.second_opinion import second_opinion
from compare.loads.third_opinion import ThirdOpinion, third_opinion
from compare.physics.fabric.room import PreparedRoom

OURS, FACTORS, OWN = "program", "load factors", "designer"


@dataclass(frozen=True, slots=True)
class ReportExtras:
    """What a report may be given besides the house."""

    designers: tuple[DesignersRoom, ...] | None = None
    """The designer's own table (`compare.loads.designers.read_designers`)."""
    use_designers: bool = False
    """Whether the designer's figures stand in the place of ours in later steps."""
    served: tuple[RoomGroup, ...] = ()
    """Served zones to look at besides the usual groups (`compare.loads.groups.served_group`)."""
    calendar_year: int | None = None
    """The one calendar year of the weather file; None for a typical year."""
    prepared: Sequence[PreparedRoom] | None = None


@dataclass(frozen=True, slots=True, eq=False)
class Opinion:
    """One method's loads. `name` is program, load factors or designer."""

    name: str
    loads: HouseLoads


@dataclass(frozen=True, slots=True)
class GroupRow:
    """One group by one opinion: heating, coincident cooling, and how far its rooms' peaks fall apart."""

    group: RoomGroup
    opinion: str
    load: GroupLoad
    sum_of_peaks_w: float
    """Sum of the rooms' own total cooling peaks."""

    @property
    def coincidence_frac(self) -> float:
        """Coincident peak over the sum of the rooms' peaks; NaN without cooling."""
        return self.load.cool_total_w / self.sum_of_peaks_w if self.sum_of_peaks_w > 0.0 else math.nan


@dataclass(frozen=True, slots=True, eq=False)
class LoadsReport:
    """The loads of a house by every method, ready to be printed or written as data."""

    house: str
    heating_c: float
    cooling_c: float
    indoor_c: tuple[float, float]
    design_source: str
    weather: str
    plan: Plan
    opinions: tuple[Opinion, ...]
    in_use: str
    """Name of the opinion that later steps take."""
    groups: tuple[RoomGroup, ...]
    third: ThirdOpinion | None
    assumptions: tuple[Assumption, ...]
    warnings: tuple[str, ...] = field(default=())

    @property
    def loads(self) -> HouseLoads:
        """The loads in use."""
        return self.opinion(self.in_use).loads

    def opinion(self, name: str) -> Opinion:
        """An opinion by its name; `KeyError` names those there are."""
        for found in self.opinions:
            if found.name == name:
                return found
        raise KeyError(f"no opinion {name!r}; there are {', '.join(found.name for found in self.opinions)}")

    def rows(self) -> Iterator[GroupRow]:
        """Every group by every opinion."""
        for group in self.groups:
            for opinion in self.opinions:
                peaks_w = sum(opinion.loads.rooms[room].cool_total_w for room in group.rooms)
                yield GroupRow(group, opinion.name, opinion.loads.group(group.rooms), peaks_w)

    def as_dict(self) -> dict[str, Any]:
        """The report as plain data (SI, watts), for JSON."""
        names = [room.name for room in self.plan.rooms]
        return {
            "house": self.house,
            "heating_99_c": self.heating_c,
            "cooling_1_c": self.cooling_c,
            "indoor_c": list(self.indoor_c),
            "design_source": self.design_source,
            "weather": self.weather,
            "in_use": self.in_use,
            "opinions": [_opinion_data(opinion) for opinion in self.opinions],
            "groups": [_row_data(row, names) for row in self.rows()],
            "bills": _third_data(self.third),
            "assumptions": [{"path": a.path, "value": a.value_text, "reason": a.reason} for a in self.assumptions],
            "warnings": list(self.warnings),
        }


def loads_report(
    house: HouseFile, case: LoadCase, year: WeatherYear, extras: ReportExtras | None = None
) -> LoadsReport:
    """Work out every opinion on a house's loads and what there is to be said about them.

    Parameters
    ----------
    house, case, year
        The house file, its load case (`compare.loads.case.load_case_of`) and the weather of the place.
    extras
        The designer's own table, served zones, the calendar year of the weather; nothing when None.

    Raises
    ------
    ValueError
        When the designer's table has another number of rooms, or is to be used and was not given.
    """
    given = extras or ReportExtras()
    if given.use_designers and given.designers is None:
        raise ValueError("the designer's loads are to be used, but no table of them was given")
    ours = design_loads(case, given.prepared)
    opinions = [Opinion(OURS, ours), Opinion(FACTORS, second_opinion(case))]
    if given.designers is not None:
        opinions.append(Opinion(OWN, in_place_of(ours, given.designers)))
    third = third_opinion(house, case, year, given.calendar_year)
    whole = RoomGroup("whole house", "house", tuple(range(len(case.plan.rooms))))
    return LoadsReport(
        house=house.house.name,
        heating_c=case.design.heating_99_c,
        cooling_c=case.design.cooling_1_c,
        indoor_c=(case.heating_c, case.cooling_c),
        design_source=case.design.source,
        weather=year.provenance,
        plan=case.plan,
        opinions=tuple(opinions),
        in_use=OWN if given.use_designers else OURS,
        groups=(*given.served, *usual_groups(case.plan), whole),
        third=third,
        assumptions=assumptions(house),
        warnings=warnings_of(case.plan, {o.name: o.loads for o in opinions}, third, latent_ok=year.latent_ok),
    )


def _opinion_data(opinion: Opinion) -> dict[str, Any]:
    return {
        "name": opinion.name,
        "method": opinion.loads.method,
        "rooms": [
            {
                "room": room.name,
                "heating_w": room.heat_w,
                "heating_parts_w": {part: room.heat_parts_w[part] for part in PARTS if part in room.heat_parts_w},
                "cooling_sensible_w": room.cool_sensible_w,
                "cooling_latent_w": room.cool_latent_w,
                "cooling_parts_w": {part: room.cool_parts_w[part] for part in PARTS if part in room.cool_parts_w},
                "peak_hour": room.peak_hour_h,
            }
            for room in opinion.loads.rooms
        ],
    }


def _row_data(row: GroupRow, names: Sequence[str]) -> dict[str, Any]:
    together = row.coincidence_frac
    return {
        "group": row.group.name,
        "kind": row.group.kind,
        "rooms": [names[room] for room in row.group.rooms],
        "opinion": row.opinion,
        "heating_w": row.load.heat_w,
        "cooling_sensible_w": row.load.cool_sensible_w,
        "cooling_total_w": row.load.cool_total_w,
        "peak_hour": row.load.peak_hour_h,
        "coincident_share_of_peaks": None if math.isnan(together) else together,
    }


def _third_data(third: ThirdOpinion | None) -> dict[str, Any] | None:
    if third is None:
        return None
    figures = {
        "loss_w_k": third.loss_w_k,
        "low_w_k": third.low_w_k,
        "high_w_k": third.high_w_k,
        "calculated_w_k": third.calculated_w_k,
    }
    plain = {name: None if math.isnan(value) else value for name, value in figures.items()}
    return {"fuel": third.fuel, "sentence": third.sentence, "agrees": third.agrees, **plain}
