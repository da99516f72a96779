"""Tables of the house file that are not drawn: site, fabric, air, comfort, heat, panel, rates, priorities, bills."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date
from enum import StrEnum
from typing import Annotated, Any, Self

from pydantic import Field, ValidationInfo, ValidatorFunctionWrapHandler, field_validator, model_validator

from compare.house.plan import Use
from compare.house.rooms import Table
from compare.house.tables import age_presets, leakage_classes, uses
from compare.house.values import (
    LONGEST_PATH,
    Count,
    Hours,
    Name,
    Notes,
    Quantity,
    RoomList,
    Text,
    Word,
    default,
    reading_of,
    refusal,
)


class Age(StrEnum):
    """Span of years in which the house was built or rebuilt; picks its usual constructions."""

    BEFORE_1940 = "before 1940"
    TO_1979 = "1940-1979"
    TO_1999 = "1980-1999"
    TO_2014 = "2000-2014"
    NEWER = "2015 and later"


class Leakage(StrEnum):
    """How leaky the house is, in words."""

    TIGHT = "tight"
    GOOD = "good"
    AVERAGE = "average"
    LEAKY = "leaky"
    VERY_LEAKY = "very leaky"


class WallType(StrEnum):
    """Whether outside walls are light or heavy."""

    FRAME = "frame"
    MASONRY = "masonry"


class VentilationKind(StrEnum):
    """How fresh air is moved."""

    NONE = "none"
    EXHAUST = "exhaust"
    BALANCED = "balanced"


class Fuel(StrEnum):
    """What heats the house today."""

    GAS = "gas"
    OIL = "oil"
    PROPANE = "propane"
    ELECTRIC = "electric"
    WOOD = "wood"
    NONE = "none"


class HouseInfo(Table):
    """The house as a whole."""

    name: Name
    built: Annotated[int, Count(1600, 2100)]
    plan_north_deg: Annotated[float, Quantity("house.plan_north")] = Field(
        default_factory=default("house.plan_north"), alias="plan_north"
    )
    """True bearing of the plan's up direction, clockwise from north."""
    people: Annotated[int | None, Count(0, 30)] = None
    """Left out: the sleepers of the beds."""
    notes: Notes = ""


class Design(Table):
    """Design conditions typed by the designer; what is missing comes from the weather file or station table."""

    heating_99_c: Annotated[float | None, Quantity("design.heating_99")] = Field(default=None, alias="heating_99")
    cooling_1_c: Annotated[float | None, Quantity("design.cooling_1")] = Field(default=None, alias="cooling_1")
    cooling_wet_bulb_c: Annotated[float | None, Quantity("design.cooling_wet_bulb")] = Field(
        default=None, alias="cooling_wet_bulb"
    )
    daily_range_k: Annotated[float | None, Quantity("design.daily_range")] = Field(default=None, alias="daily_range")
    hdd18_k_d: Annotated[float | None, Quantity("design.hdd18")] = Field(default=None, alias="hdd18")
    cdd10_k_d: Annotated[float | None, Quantity("design.cdd10")] = Field(default=None, alias="cdd10")
    source: Notes = "typed in the house file"

    @model_validator(mode="after")
    def _in_order(self) -> Self:
        if self.heating_99_c is not None and self.cooling_1_c is not None and self.heating_99_c >= self.cooling_1_c:
            raise refusal("heating_99 must be colder than cooling_1")
        wet, dry = self.cooling_wet_bulb_c, self.cooling_1_c
        if wet is not None and dry is not None and wet > dry:
            raise refusal("cooling_wet_bulb cannot be above cooling_1")
        return self


class Site(Table):
    """Where the house stands."""

    place: Name
    latitude_deg: Annotated[float, Quantity("site.latitude")] = Field(alias="latitude")
    longitude_deg: Annotated[float, Quantity("site.longitude")] = Field(alias="longitude")
    elevation_m: Annotated[float, Quantity("site.elevation")] = Field(
        default_factory=default("site.elevation"), alias="elevation"
    )
    weather: Annotated[str | None, Text(LONGEST_PATH)] = None
    """Name of an embedded year, or a path to a weather file beside the house file."""
    shelter: Annotated[int, Count(1, 5)] = 3
    zip: Annotated[str | None, Text(10)] = None
    design: Design = Field(default_factory=Design)

    @field_validator("zip")
    @classmethod
    def _five_figures(cls, zip_code: str | None) -> str | None:
        if zip_code is not None and not (len(zip_code) == 5 and zip_code.isascii() and zip_code.isdigit()):
            raise refusal("write the five figures in quotes")
        return zip_code


def _from_preset(key: str) -> Callable[[Mapping[str, Any]], float]:
    """A field default taken from the preset of the table's age, which is read before it."""
    return lambda done: age_presets()[done.get("age", Age.TO_1979)].values[key]


class Fabric(Table):
    """Constructions: an age preset, and values that override it."""

    age: Annotated[Age, Word(Age)] = Field(default=None, validate_default=True)
    wall_u_w_m2k: Annotated[float, Quantity("fabric.wall_u")] = Field(
        default_factory=_from_preset("wall_u"), alias="wall_u"
    )
    ceiling_u_w_m2k: Annotated[float, Quantity("fabric.ceiling_u")] = Field(
        default_factory=_from_preset("ceiling_u"), alias="ceiling_u"
    )
    roof_u_w_m2k: Annotated[float, Quantity("fabric.roof_u")] = Field(
        default_factory=_from_preset("roof_u"), alias="roof_u"
    )
    floor_u_w_m2k: Annotated[float, Quantity("fabric.floor_u")] = Field(
        default_factory=_from_preset("floor_u"), alias="floor_u"
    )
    slab_edge_w_mk: Annotated[float, Quantity("fabric.slab_edge")] = Field(
        default_factory=_from_preset("slab_edge"), alias="slab_edge"
    )
    window_u_w_m2k: Annotated[float, Quantity("fabric.window_u")] = Field(
        default_factory=_from_preset("window_u"), alias="window_u"
    )
    window_shgc_frac: Annotated[float, Quantity("fabric.window_shgc")] = Field(
        default_factory=_from_preset("window_shgc"), alias="window_shgc"
    )
    door_u_w_m2k: Annotated[float, Quantity("fabric.door_u")] = Field(
        default_factory=_from_preset("door_u"), alias="door_u"
    )
    partition_u_w_m2k: Annotated[float, Quantity("fabric.partition_u")] = Field(
        default_factory=default("fabric.partition_u"), alias="partition_u"
    )
    inside_floor_u_w_m2k: Annotated[float, Quantity("fabric.inside_floor_u")] = Field(
        default_factory=default("fabric.inside_floor_u"), alias="inside_floor_u"
    )
    wall_type: Annotated[WallType, Word(WallType)] = WallType.FRAME
    roof_absorptance_frac: Annotated[float, Quantity("fabric.roof_absorptance")] = Field(
        default_factory=default("fabric.roof_absorptance"), alias="roof_absorptance"
    )
    wall_absorptance_frac: Annotated[float, Quantity("fabric.wall_absorptance")] = Field(
        default_factory=default("fabric.wall_absorptance"), alias="wall_absorptance"
    )

    @field_validator("age", mode="wrap")
    @classmethod
    def _by_year_built(cls, value: object, read: ValidatorFunctionWrapHandler, info: ValidationInfo) -> Age:
        return Age(reading_of(info).age if value is None else read(value))


class Air(Table):
    """Air leakage and ventilation."""

    leakage: Annotated[Leakage, Word(Leakage)] = Field(default=None, validate_default=True, alias="class")
    ach50_1_h: Annotated[float, Quantity("air.ach50")] = Field(
        default_factory=lambda done: leakage_classes()[done.get("leakage", "average")].ach50_1_h, alias="ach50"
    )
    """Air changes an hour at 50 Pa; left out: typical of the leakage class."""
    ventilation_m3_s: Annotated[float, Quantity("air.ventilation")] = Field(
        default_factory=default("air.ventilation"), alias="ventilation"
    )
    ventilation_kind: Annotated[VentilationKind, Word(VentilationKind)] = VentilationKind.NONE
    heat_recovery_frac: Annotated[float, Quantity("air.heat_recovery")] = Field(
        default_factory=default("air.heat_recovery"), alias="heat_recovery"
    )

    @field_validator("leakage", mode="wrap")
    @classmethod
    def _by_age(cls, value: object, read: ValidatorFunctionWrapHandler, info: ValidationInfo) -> Leakage:
        return Leakage(age_presets()[reading_of(info).age].leakage if value is None else read(value))

    @model_validator(mode="after")
    def _kind_named(self) -> Self:
        if self.ventilation_m3_s > 0.0 and self.ventilation_kind is VentilationKind.NONE:
            raise refusal('ventilation above 0 needs ventilation_kind = "exhaust" or "balanced"')
        if self.heat_recovery_frac > 0.0 and self.ventilation_kind is not VentilationKind.BALANCED:
            raise refusal('heat_recovery above 0 needs ventilation_kind = "balanced"')
        return self


class Setback(Table):
    """Hours in which the thermostats stand lower in winter or higher in summer."""

    hours: Annotated[frozenset[int], Hours()]
    heating_c: Annotated[float | None, Quantity("setback.heating")] = Field(default=None, alias="heating")
    """Left out: heating is not set back."""
    cooling_c: Annotated[float | None, Quantity("setback.cooling")] = Field(default=None, alias="cooling")
    """Left out: cooling is not set up."""

    @model_validator(mode="after")
    def _says_something(self) -> Self:
        if self.heating_c is None and self.cooling_c is None:
            raise refusal("needs heating, cooling or both")
        if not 0 < len(self.hours) < 24:
            raise refusal("hours must leave some of the day at the ordinary set points")
        return self


class Comfort(Table):
    """Set points and the temperatures that rooms should not fall under in their hours."""

    heating_c: Annotated[float, Quantity("comfort.heating")] = Field(
        default_factory=default("comfort.heating"), alias="heating"
    )
    cooling_c: Annotated[float, Quantity("comfort.cooling")] = Field(
        default_factory=default("comfort.cooling"), alias="cooling"
    )
    sleep_c: Annotated[float, Quantity("comfort.sleep")] = Field(
        default_factory=default("comfort.sleep"), alias="sleep"
    )
    work_c: Annotated[float, Quantity("comfort.work")] = Field(default_factory=default("comfort.work"), alias="work")
    wash_c: Annotated[float, Quantity("comfort.wash")] = Field(default_factory=default("comfort.wash"), alias="wash")
    setback: Setback | None = None

    @model_validator(mode="after")
    def _in_order(self) -> Self:
        if self.cooling_c < self.heating_c + 1.0:
            raise refusal("cooling must be at least 2 °F (1 °C) above heating")
        return self

    @model_validator(mode="after")
    def _setback_saves(self) -> Self:
        back = self.setback
        if back is not None and back.heating_c is not None and back.heating_c > self.heating_c:
            raise refusal("setback.heating must not be above heating")
        if back is not None and back.cooling_c is not None and back.cooling_c < self.cooling_c:
            raise refusal("setback.cooling must not be below cooling")
        return self

    def target_c(self, use: Use) -> float:
        """Lowest temperature that is right for a use of room, in its hours."""
        return {"heating": self.heating_c, "sleep": self.sleep_c, "work": self.work_c, "wash": self.wash_c}[
            uses()[use].target
        ]


class ExistingHeat(Table):
    """The heat that is there today."""

    fuel: Annotated[Fuel, Word(Fuel)]
    efficiency_frac: Annotated[float, Quantity("existing_heat.efficiency")] = Field(
        default_factory=default("existing_heat.efficiency"), alias="efficiency"
    )
    price_usd: Annotated[float | None, Quantity("existing_heat.price")] = Field(default=None, alias="price")
    """USD for one unit of its fuel (therm, gallon, kWh, cord); left out: from `[rates]`."""
    rooms: Annotated[tuple[str, ...] | None, RoomList()] = None
    """Rooms that it reaches; None means all."""
    keep: bool = False


class Panel(Table):
    """The electrical panel."""

    service_a: Annotated[int, Count(30, 1200)] = Field(default=200, alias="service_amps")
    free_spaces: Annotated[int, Count(0, 84)] = 4


class Rates(Table):
    """What energy costs, and the carbon of a kilowatt-hour."""

    electricity_usd_kwh: Annotated[float, Quantity("rates.electricity")] = Field(
        default_factory=default("rates.electricity"), alias="electricity"
    )
    gas_usd_therm: Annotated[float, Quantity("rates.gas")] = Field(default_factory=default("rates.gas"), alias="gas")
    oil_usd_gal: Annotated[float, Quantity("rates.oil")] = Field(default_factory=default("rates.oil"), alias="oil")
    propane_usd_gal: Annotated[float, Quantity("rates.propane")] = Field(
        default_factory=default("rates.propane"), alias="propane"
    )
    wood_usd_cord: Annotated[float, Quantity("rates.wood")] = Field(default_factory=default("rates.wood"), alias="wood")
    carbon_kg_kwh: Annotated[float, Quantity("rates.carbon")] = Field(
        default_factory=default("rates.carbon"), alias="carbon"
    )

    def of(self, fuel: Fuel) -> float:
        """Price of one unit of a fuel: therm of gas, gallon of oil or propane, cord of wood, kWh of power."""
        return {
            Fuel.GAS: self.gas_usd_therm,
            Fuel.OIL: self.oil_usd_gal,
            Fuel.PROPANE: self.propane_usd_gal,
            Fuel.WOOD: self.wood_usd_cord,
            Fuel.ELECTRIC: self.electricity_usd_kwh,
            Fuel.NONE: 0.0,
        }[fuel]


class Priorities(Table):
    """How much each thing matters to the family, in five stops; 3 is the middle."""

    warm_and_even: Annotated[int, Count(1, 5)] = 3
    quiet: Annotated[int, Count(1, 5)] = 3
    lower_price: Annotated[int, Count(1, 5)] = 3
    lower_bills: Annotated[int, Count(1, 5)] = 3
    steady_running: Annotated[int, Count(1, 5)] = 3
    few_units_in_sight: Annotated[int, Count(1, 5)] = 1
    """1 leaves it out of the score."""


class Bill(Table):
    """One bill for fuel or power, as a check on the loads."""

    start: date = Field(alias="from")
    end: date = Field(alias="to")
    fuel: Annotated[Fuel, Word(Fuel)]
    amount: Annotated[float, Quantity("bill.amount")]
    """Units of the fuel: therm, gallon, kWh or cord."""
    cost_usd: Annotated[float | None, Quantity("bill.cost")] = Field(default=None, alias="cost")
    mean_c: Annotated[float | None, Quantity("bill.mean")] = Field(default=None, alias="mean")
    """Mean outdoor temperature of the period, as printed on many bills; left out: from the weather year."""

    @model_validator(mode="after")
    def _in_order(self) -> Self:
        if self.start >= self.end:
            raise refusal("from must lie before to")
        return self
