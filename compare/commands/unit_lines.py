"""Lines of the `units` command, from reports and bills."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

from compare.equipment.circuit import PANEL_NOTE
from compare.equipment.performance import Mode
from compare.equipment.refrigerant import Verdict
from compare.equipment.selection import Cover
from compare.units import Kind, System, show
from compare.years.backup import ALARM, FREEZING, FREEZING_RISK_C, UNMET_K, Backup
from compare.years.bench import Result
from compare.years.bill import UnitBill, year_bill
from compare.years.case import HouseCase
from compare.years.gather import OptionRun
from compare.years.humidity import DAMP_FRAC
from compare.years.unit_report import HeadReport, NeedAndOutput, UnitReport, unit_reports
from compare.years.ways import MILD_COOL_C, MILD_HEAT_C, BothWays, Calling, Way

FLAG_STARTS_PER_H = 4.0
"""Four to six full starts an hour are called short cycling in one guide (owners' and trade pages)."""
MOST_REJECTED = 3


def _power(value_w: float, units: System) -> str:
    return show(value_w, Kind.CAPACITY, units, 0)


def _share(value: float) -> str:
    return "-" if math.isnan(value) else "endless" if math.isinf(value) else f"{value:.0%}"


def option_lines(case: HouseCase, result: Result, run: OptionRun) -> Iterator[str]:
    """Every outdoor unit of an option with its heads, then what was found against it."""
    units = case.house.units
    for report in unit_reports(case, run):
        yield from _unit(report, units)
    yield _damp(case, result)
    for finding in result.option.findings:
        yield f"  {'left out' if finding.fatal else 'note'}: {finding.text}"
    yield f"  {PANEL_NOTE}"


def _damp(case: HouseCase, result: Result) -> str:
    share = result.score.measures.damp_frac
    if not math.isnan(share):
        return f"  damp: {share:.0%} of the hours of the cooling season lie above {DAMP_FRAC:.0%} relative humidity"
    why = "no day is warm" if case.weather.latent_ok else "adjusted weather year, whose moisture is not the place's"
    return f"  damp hours: not available ({why})"


def _unit(report: UnitReport, units: System) -> Iterator[str]:
    model = f" ({report.model})" if report.model else ""
    yield f"  {report.tag} {report.label}{model}: circuit {report.circuit_a:g} A, {report.volts} V"
    for head in report.heads:
        yield from _head(head, units)
    for need in report.needs:
        yield from _need(need, units)
    yield from _cycling(report, units)
    rating, cold = report.ratings, "yes" if report.cold_climate else "no"
    yield (
        f"    ratings implied by the catalogue's points (a check, not a rating): SEER2 {rating.seer2:.1f}, "
        f"HSPF2 {rating.hspf2:.1f} (region {rating.region}); meets the cold-climate criteria: {cold}"
    )
    charge = report.charge
    yield f"    refrigerant {charge.verdict.value}: {charge.reason}"
    if charge.verdict is not Verdict.CLEAR:
        yield f"      {charge.clause}; {charge.confirm}"
    yield from (f"    lines: {problem}" for problem in report.lines)
    if report.conflict_h:
        yield f"    {report.conflict_h:.0f} h a year one zone wants heat and another cold: the smaller wish is not met"
    if report.short_h:
        yield f"    {report.short_h:.0f} h a year more is asked for than it can give"


def _head(head: HeadReport, units: System) -> Iterator[str]:
    model = f" ({head.model})" if head.model else ""
    held = " / ".join(show(value, Kind.TEMPERATURE, units) for value in (head.heat_set_c, head.cool_set_c))
    yield (
        f"    {head.tag} {head.label}{model} for {', '.join(head.rooms)}: covers {_covers(head.cover)}; "
        f"holds {held} by its {head.sensor}"
    )
    chosen = head.selection
    for rejected in sorted(chosen.rejected, key=lambda r: abs(r.pair.size_kbtuh - chosen.pair.size_kbtuh))[
        :MOST_REJECTED
    ]:
        yield f"      not {rejected.pair.size_kbtuh:g}: {rejected.reason}"
    if chosen.next_down is not None and chosen.next_down_cover is not None:
        yield f"      next size down {chosen.next_down.size_kbtuh:g} covers {_covers(chosen.next_down_cover)}"
    yield from (f"      {note}" for note in chosen.notes)


def _covers(cover: Cover) -> str:
    return f"{_share(cover.heat_frac)} of heating, {_share(cover.cool_frac)} of cooling"


def _need(need: NeedAndOutput, units: System) -> Iterator[str]:
    mild = show(MILD_HEAT_C if need.mode is Mode.HEAT else MILD_COOL_C, Kind.TEMPERATURE, units)
    asked = " / ".join(_power(value, units) for value in (need.need_low_w, need.need_middle_w, need.need_high_w))
    at_mild = f"{_power(need.mild_min_w, units)} to {_power(need.mild_max_w, units)}"
    at_design = f"{_power(need.design_min_w, units)} to {_power(need.design_max_w, units)}"
    yield (
        f"    {need.mode.value:<4} {need.running_h} h; asked {asked} (10th, 50th, 95th of 100 hours); "
        f"gives {at_mild} at {mild}, {at_design} at design; {need.below_min_frac:.0%} of hours below its minimum"
    )


def _cycling(report: UnitReport, units: System) -> Iterator[str]:
    cycling, duty = report.cycling, report.duty
    yield (
        f"    starts a year {cycling.starts:,.0f} by the rooms, {cycling.thermostat_starts:,.0f} by the thermostat "
        f"law; an hour on a mild day {cycling.mild_starts_per_hour:.1f}"
    )
    month = f", in month {duty.mildest_month}, its mildest, {duty.mildest_month_frac:.0%}" if duty.mildest_month else ""
    mild = show(MILD_HEAT_C, Kind.TEMPERATURE, units)
    yield f"    runs {_share(duty.at_47f_frac)} of the time at {mild}{month}"
    if cycling.most_starts_per_hour >= FLAG_STARTS_PER_H:
        yield f"    warning: up to {cycling.most_starts_per_hour:.1f} starts an hour; 4 to 6 is short cycling"


def backup_lines(case: HouseCase, backup: Backup) -> Iterator[str]:
    """What is missing by room, and what it costs to add it."""
    units = case.house.units
    under = show(UNMET_K, Kind.DIFFERENCE, units)
    cost = f"${backup.resistance_usd:,.0f} a year as resistance"
    if backup.old_heat_usd is not None:
        cost += f", ${backup.old_heat_usd:,.0f} by the old heat"
    cut_out = show(backup.cut_out_c, Kind.TEMPERATURE, units)
    yield (
        f"    backup {backup.backup_kwh:,.0f} kWh of heat in up to {backup.backup_h} h, {cost}; dearest month "
        f"${backup.resistance_month_usd:,.0f}; heat pumps stop under {cut_out} ({backup.cut_out_h} h)"
    )
    for room in backup.rooms:
        if room.unmet_h or room.backup_kwh >= 1.0:
            coldest = show(room.coldest_c, Kind.TEMPERATURE, units)
            yield (
                f"      {case.plan.rooms[room.room].name}: {room.unmet_h} of its hours more than {under} under target, "
                f"coldest {coldest}; backup {room.backup_kwh:,.0f} kWh, up to {_power(room.peak_w, units)}"
            )
    if any(room.coldest_c < FREEZING_RISK_C for room in backup.rooms):
        yield f"    {FREEZING}"
    if backup.backup_kwh > 0.05 * max(backup.heat_pump_kwh, 1.0):
        yield f"    {ALARM}"


def energy_lines(case: HouseCase, run: OptionRun) -> Iterator[str]:
    """Electricity by unit and cause, bill and carbon."""
    bill = year_bill(case, run)
    yield (
        f"    {'kWh a year':<16}{'heating':>9}{'cooling':>9}{'fan':>7}{'defrost':>9}{'standby':>9}{'all':>8}"
        f"{'ducts*':>8}{'cycling*':>10}{'COP heat':>10}{'cool':>6}"
    )
    for unit in bill.units:
        yield _energy(unit)
    yield "      * contained in the others; defrost by the frost line of the rating procedure"
    burnt = f", {bill.old_fuel_units:,.0f} units of {bill.old_fuel} ${bill.old_fuel_usd:,.0f}"
    old = burnt if bill.old_fuel_kwh else ""
    yield (
        f"    in all {bill.electricity_kwh:,.0f} kWh ${bill.electricity_usd:,.0f} (room heaters {bill.heater_kwh:,.0f} "
        f"kWh){old}; {bill.carbon_kg:,.0f} kg of carbon dioxide; seasonal heating COP {bill.heat_cop:.2f}"
    )


def _energy(unit: UnitBill) -> str:
    standby = unit.standby_kwh + unit.base_pan_kwh
    return (
        f"    {unit.name:<16}{unit.heating_kwh:9.0f}{unit.cooling_kwh:9.0f}{unit.fan_kwh:7.0f}{unit.defrost_kwh:9.0f}"
        f"{standby:9.0f}{unit.electricity_kwh:8.0f}{unit.distribution_kwh:8.0f}{unit.cycling_loss_kwh:10.0f}"
        f"{unit.heat_cop:10.2f}{unit.cool_cop:6.2f}"
    )


def ways_lines(name: str, ways: BothWays, case: HouseCase) -> Iterator[str]:
    """A layout with an outdoor unit each and with sharing."""
    units = case.house.units
    yield f"  {name}"
    for words, way in (("apart", ways.apart), ("shared", ways.together)):
        if way is not None:
            yield from _way(words, way, units)
    yield from (f"    {why}" for why in ways.why_not)


def _way(words: str, way: Way, units: System) -> Iterator[str]:
    circuits = ", ".join(f"{amps:g} A" for amps in way.circuits_a)
    line, cover = (show(value, Kind.LENGTH, units) for value in (way.line_m, way.cover_m))
    yield (
        f"    {words:<7} {'; '.join(way.outdoor)}: ${way.price_mid_usd:,.0f} (${way.price_low_usd:,.0f} to "
        f"${way.price_high_usd:,.0f}); pads {way.pads}; circuits {circuits} ({way.breaker_spaces} spaces); "
        f"lines {line}, cover {cover}; {way.electricity_kwh:,.0f} kWh, {way.starts:,.0f} starts a year"
    )
    mild = " / ".join(show(value, Kind.TEMPERATURE, units) for value in (MILD_HEAT_C, MILD_COOL_C))
    yield f"            least output at {mild}: {_calling(way.calling, units)}"
    if way.conflict_h:
        unmet = f"{way.conflict_kwh:.0f} kWh not met"
        yield f"            {way.conflict_h:.0f} h a year one wants heat and another cold ({unmet})"
    for failure in way.failures:
        still = ", ".join(failure.still_runs) or "nothing"
        yield f"            if {failure.outdoor} fails, still running: {still}"
    yield from (f"            left out: {text}" for text in way.rejected_for)


def _calling(calling: Iterable[Calling], units: System) -> str:
    return "; ".join(
        f"{' + '.join(one.zones)} {_power(one.heat_min_w, units)} / {_power(one.cool_min_w, units)}" for one in calling
    )
