"""CustomerView: all that the kitchen-table page and the proposal may show. No cost, no margin, no supplier price.

Numbers are SI with their unit in the name; the faces format them in the house's unit system. Prices are installed
prices from the compiled price list.
"""

from __future__ import annotations

from pydantic import Field

from compare.views.plan_view import OptionDrawing, PlanView, ViewModel


class Number(ViewModel):
    """One figure of a reason: an SI value, the kind of quantity for display, and what it is of."""

    role: str
    value: float
    kind: str
    """A kind of `compare.units`, or `usd`, `dba`, `share`, `count`, `points`, `kwh`."""


class ReasonLine(ViewModel):
    """A fact that decides between two options, or a weak point; words are made by the face."""

    code: str
    """Stable word for the template, such as `price`, `energy`, `noise_bed`, `cold_room`, `starts`."""
    criterion: str
    better: str
    """Option id on whose side the fact is."""
    worse: str
    numbers: tuple[Number, ...]
    rooms: tuple[str, ...] = ()
    points: float = 0.0
    """Weighted points of the total that the criterion gives the better side."""


class FaultLine(ViewModel):
    """Why an option is left out or what must be read out with it."""

    code: str
    fatal: bool
    text: str
    numbers: tuple[Number, ...] = ()
    rooms: tuple[str, ...] = ()


class RoomOutcome(ViewModel):
    """One room in one option. Temperatures of the coldest 1 % of mornings at 6 and of the hottest 1 % afternoons."""

    room: int
    source: str
    morning_c: float
    morning_target_c: float | None
    """None where the room has no target at that hour."""
    evening_c: float
    """Mean at 7 p.m. of the same cold days."""
    evening_target_c: float | None
    hot_c: float
    hot_limit_c: float | None
    """Cooling set point, None where nobody asks for cooling."""
    bed_dba: float | None
    seat_dba: float | None


class UnitBand(ViewModel):
    """Need against output of one outdoor unit, heating or cooling: hours of load over its output band."""

    label: str
    tags: tuple[str, ...]
    rooms: tuple[str, ...]
    mode: str
    """`heating` or `cooling`."""
    edges_w: tuple[float, ...]
    hours: tuple[float, ...]
    """Running hours a year by load class, one fewer than the edges."""
    design_load_w: float
    smallest_w: float
    largest_w: float
    """Output band at the design temperature."""
    on_off_share: float
    """Share of its running hours below its smallest output."""
    starts_per_year: float


class OptionFacts(ViewModel):
    """The figures of the cards."""

    coldest_bedroom: str | None
    coldest_bedroom_c: float | None
    pillow_dba: float | None
    pillow_room: str | None
    price_low_usd: float
    price_usd: float
    price_high_usd: float
    bill_usd: float
    """Energy of a usual year, an old fuel with it."""
    bill_low_usd: float
    bill_high_usd: float
    """The bill less and more its error: what two bills must differ by before anything is said of them."""
    electricity_kwh: float
    equal_service_kwh: float
    equal_service_cop: float
    old_fuel_kwh: float
    resistance_share: float
    starts_per_year: float
    below_minimum_share: float
    outdoor_dba: float | None
    outdoor_units: int
    visible_units: int


class OptionCard(ViewModel):
    """One option."""

    id: str
    family: str
    heads: int
    hidden: int
    heaters: int
    old_heat: bool
    shared_outdoor: bool
    places: tuple[str, ...]
    """Names of the places of concealed units."""
    head_rooms: tuple[str, ...]
    ducted_rooms: tuple[str, ...]
    heater_rooms: tuple[str, ...]
    status: str
    """`offered` or `left out`."""
    total: float
    criteria: dict[str, float]
    """Score 0-100 by criterion."""
    facts: OptionFacts
    rooms: tuple[RoomOutcome, ...]
    bands: tuple[UnitBand, ...]
    drawing: OptionDrawing
    faults: tuple[FaultLine, ...]
    weak_point: ReasonLine | None
    better_than_winner: tuple[ReasonLine, ...]
    """Where this option beats the recommended one."""
    worse_than_winner: tuple[ReasonLine, ...]
    band: tuple[float, float] | None = None
    """Total that one draw in ten falls below and one in ten exceeds; None before any draw."""


class NotPossible(ViewModel):
    """A layout that cannot be built here, with the reason."""

    family: str
    text: str
    cure: str


class Answer(ViewModel):
    """The recommendation, and how sure it is."""

    winner: str
    runner_up: str | None
    lead_points: float
    verdict: str
    """`clear`, `likely` or `too close to call`."""
    equals: tuple[str, ...]
    """Ids of options within 3 points of the winner, the winner included, by price."""
    tries_won: int | None = None
    tries: int | None = None
    first_otherwise: dict[str, float] = Field(default_factory=dict)
    """Share of tries by the option that is first in them, the winner's own left out."""


class AssumptionLine(ViewModel):
    """A value that the house file left out, or a simple form that the program uses."""

    subject: str
    value: str
    reason: str


class FlipLine(ViewModel):
    """One change that puts another kind of layout first."""

    kind: str
    """`weight`, `price`, `credit`, `curve`, `insulation`, `leakage`, `doors`, `envelope` or `rate`."""
    subject: str
    """Criterion, family, measure or part of the house that is changed."""
    numbers: tuple[Number, ...]
    """Roles `before` and `after`."""
    winner: str
    """Option that is first then; it may have no card."""
    family: str


class RoomDoors(ViewModel):
    """A bedroom at 6 on the coldest mornings with all bedroom doors shut at night, and with them open."""

    room: int
    shut_c: float
    open_c: float


class DoorsOutcome(ViewModel):
    """The bedrooms of one option with their doors either way."""

    option: str
    rooms: tuple[RoomDoors, ...]


class HouseCard(ViewModel):
    """Who and where."""

    name: str
    place: str
    units: str
    """`US` or `SI`."""
    people: float
    built: int | None
    demo: bool
    estimate: bool
    """True while a generic catalogue or a placeholder price row is in use."""
    heating_99_c: float
    cooling_1_c: float
    heating_set_c: float
    cooling_set_c: float
    weather: str
    """The sentence that says where the weather year comes from."""
    weather_error: str
    electricity_usd_kwh: float


class CustomerView(ViewModel):
    """All a customer may see of one comparison."""

    house: HouseCard
    plan: PlanView
    options: tuple[OptionCard, ...]
    """Offered options by rank, then those left out."""
    cards: tuple[str, ...]
    """Ids always shown: the best of each family and the overall best."""
    not_possible: tuple[NotPossible, ...]
    answer: Answer
    weights: dict[str, float]
    priorities: dict[str, int]
    profile_winners: dict[str, str]
    heat_load_w: float
    cool_load_w: float
    assumptions: tuple[AssumptionLine, ...]
    flips: tuple[FlipLine, ...] = ()
    """What would change the answer; empty before it is looked for."""
    flips_tried: tuple[str, ...] = ()
    """Kinds of change that were looked for without a simulation; empty before."""
    doors: tuple[DoorsOutcome, ...] = ()
    """Bedroom doors either way, for the options that a paper is about; empty before they are looked for."""

    def option(self, option_id: str) -> OptionCard:
        """The option with that id.

        Raises
        ------
        KeyError
            If no option has it.
        """
        for option in self.options:
            if option.id == option_id:
                return option
        raise KeyError(option_id)
