"""What every load method needs to know of a house and its place."""

from __future__ import annotations

from dataclasses import dataclass

from compare.climate.year import DesignConditions
from compare.house.model import HouseFile
from compare.house.plan import Plan
from compare.physics.fabric.parts import FabricOptions
from compare.physics.fabric.spaces import Ground
from compare.physics.fabric.stated import fabric_options_of
from compare.physics.house_air import air_of_house
from compare.physics.moist_air import standard_pressure_pa
from compare.physics.ventilation import HouseAir

HEATING_WIND_M_S = 6.7
"""Design wind at the weather station, heating (ASHRAE Handbook-Fundamentals 2021, residential loads chapter)."""
COOLING_WIND_M_S = 3.4
"""Design wind at the weather station, cooling (same source)."""


@dataclass(frozen=True, slots=True)
class LoadCase:
    """A house, its air, its design conditions and its set points (70 and 75 degF unless given)."""

    plan: Plan
    air: HouseAir
    design: DesignConditions
    ground: Ground
    """From the weather year of the place (`compare.physics.fabric.spaces.ground_of_year`)."""
    heating_c: float = 21.11
    cooling_c: float = 23.89
    indoor_humidity_frac: float = 0.5
    """Relative humidity kept indoors on the cooling design day."""
    months: tuple[int, ...] = ()
    """Months of the cooling design days; empty takes the usual hottest month."""
    fabric: FabricOptions | None = None
    """Choices of the full room model, stated layers among them; None means those for houses."""

    @property
    def pressure_pa(self) -> float:
        """Air pressure of the place."""
        return standard_pressure_pa(self.design.elevation_m)


def load_case_of(house: HouseFile, plan: Plan, design: DesignConditions, ground: Ground) -> LoadCase:
    """The case of a house file at its own set points."""
    comfort = house.comfort
    return LoadCase(
        plan,
        air_of_house(house, plan),
        design,
        ground,
        heating_c=comfort.heating_c,
        cooling_c=comfort.cooling_c,
        fabric=fabric_options_of(house),
    )
