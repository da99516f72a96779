"""One house made ready: plan, weather, loads, network. Everything that its layouts share, worked out once."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np
import numpy.typing as npt

from compare.climate.design import typed_design
from compare.climate.embedded import stations
from compare.climate.place import PlaceRequest, PlaceWeather, for_place
from compare.climate.places import PlaceError, Town, nearest_town
from compare.climate.year import DesignConditions, Site, WeatherYear
from compare.house.geometry import plan_of
from compare.house.model import HouseFile
from compare.house.plan import Plan
from compare.loads.case import load_case_of
from compare.loads.cooling import prepared_rooms
from compare.loads.house_loads import design_loads
from compare.loads.result import HouseLoads
from compare.physics.assemble import NetworkOptions, network_of
from compare.physics.fabric.drivers import faces_of
from compare.physics.fabric.forcing import Gains as RoomGains
from compare.physics.fabric.room import drive_room
from compare.physics.fabric.spaces import ground_of_year, with_spaces
from compare.physics.fabric.weather import drivers_from_year
from compare.physics.gains import Gains, year_gains
from compare.physics.house_air import network_options_of
from compare.physics.network import Network

FloatArray = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class HouseCase:
    """A house ready for its layouts. R rooms in canonical order, H hours."""

    house: HouseFile
    plan: Plan
    weather: WeatherYear
    nudge: str
    """Which free weather file would be better; blank where the user's own is in use."""
    design: DesignConditions
    loads: HouseLoads
    network: Network
    """With the open-door law at its first differences; `compare.years.run` settles it for each option."""
    network_options: NetworkOptions
    gains: Gains
    """Gains of the year's ordinary day, (H, R)."""
    reduction_error_frac: float
    """Largest error of any room's two-branch fit."""

    @property
    def heat_load_w(self) -> FloatArray:
        """(R,) design heating loads."""
        return np.array([room.heat_w for room in self.loads.rooms])

    @property
    def cool_load_w(self) -> FloatArray:
        """(design hours, R) total design cooling loads."""
        assert self.loads.sensible_w is not None
        assert self.loads.latent_w is not None
        return self.loads.sensible_w + self.loads.latent_w


def prepare(house: HouseFile, folder: Path | None = None) -> HouseCase:
    """Make a house ready.

    Parameters
    ----------
    house
        A validated house file.
    folder
        Where a weather file named in it is looked for; the current folder when None.

    Raises
    ------
    HouseFileError
        When the plan does not hold together; every problem at once.
    WeatherFileError, PlaceError, AdjustmentRefusedError, ValueError
        When no weather or design condition can be had; each names the field and the cure.
    """
    plan = plan_of(house)
    place = weather_of(house, folder)
    design = design_of(house, place)
    ground = ground_of_year(place.year.dry_bulb_c)
    load_case = load_case_of(house, plan, design, ground)
    prepared = prepared_rooms(load_case)
    options = network_options_of(house, plan)
    drivers = with_spaces(plan, drivers_from_year(place.year, faces_of(plan.rooms)), ground)
    gains = year_gains(plan.rooms, place.year.hours, house.people)
    radiant, convective = gains.radiant_w, gains.convective_w
    fabrics = [
        drive_room(room, drivers, RoomGains(radiant[:, index], convective[:, index]))
        for index, room in enumerate(prepared)
    ]
    return HouseCase(
        house=house,
        plan=plan,
        weather=place.year,
        nudge=place.nudge,
        design=design,
        loads=design_loads(load_case, prepared),
        network=network_of(plan, fabrics, place.year, options),
        network_options=options,
        gains=gains,
        reduction_error_frac=max(fabric.reduction_error_frac for fabric in fabrics),
    )


def weather_of(house: HouseFile, folder: Path | None) -> PlaceWeather:
    """The house's weather: its own file, an embedded year by name, its ZIP code, or its typed climate numbers."""
    site = house.site
    if site.weather is not None:
        if site.weather in stations():
            return for_place(PlaceRequest(embedded=site.weather))
        path = (folder or Path()) / site.weather
        if not path.is_file():
            raise PlaceError(
                f"site.weather = {site.weather!r}: no such file beside the house file and no embedded year of that "
                f"name; the embedded years are {', '.join(stations())}"
            )
        return for_place(PlaceRequest(file=path, file_name=site.weather))
    if site.zip is not None:
        return for_place(PlaceRequest(zip_code=site.zip))
    return for_place(PlaceRequest(town=_town(house)))


def _town(house: HouseFile) -> Town:
    """The nearest station of the table, with the climate numbers that the file types in place of its own."""
    town, _ = nearest_town(house.site.latitude_deg, house.site.longitude_deg)
    typed = house.site.design
    return replace(
        town,
        hdd18_k_d=_first(typed.hdd18_k_d, town.hdd18_k_d),
        cdd10_k_d=_first(typed.cdd10_k_d, town.cdd10_k_d),
        heating_99_c=_first(typed.heating_99_c, town.heating_99_c),
        cooling_1_c=_first(typed.cooling_1_c, town.cooling_1_c),
    )


def _first(typed: float | None, known: float) -> float:
    return known if typed is None else typed


def design_of(house: HouseFile, place: PlaceWeather) -> DesignConditions:
    """Design conditions: typed values first, then those of the weather file's header or the station table.

    Raises
    ------
    ValueError
        When neither knows a design temperature.
    """
    typed, known = house.site.design, place.design
    if known is not None and typed.heating_99_c is None and typed.cooling_1_c is None:
        return known
    heating = typed.heating_99_c if known is None else _first(typed.heating_99_c, known.heating_99_c)
    cooling = typed.cooling_1_c if known is None else _first(typed.cooling_1_c, known.cooling_1_c)
    if heating is None or cooling is None:
        raise ValueError(
            "site.design: the weather file holds no design temperatures; type heating_99 and cooling_1 "
            "(the local code's values)"
        )
    wet_bulb = typed.cooling_wet_bulb_c if known is None else _first(typed.cooling_wet_bulb_c, known.cooling_wet_bulb_c)
    swing = typed.daily_range_k if known is None else _first(typed.daily_range_k, known.daily_range_k)
    site = Site(
        house.site.latitude_deg,
        house.site.longitude_deg,
        place.year.site.timezone_h,
        house.site.elevation_m,
        house.site.place,
    )
    return typed_design(
        site,
        heating,
        cooling,
        cooling_wet_bulb_c=None if wet_bulb is None else min(wet_bulb, cooling),
        daily_range_k=swing,
        year=place.year,
    )
