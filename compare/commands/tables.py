"""A comparison as text for a terminal, as JSON and as CSV. The same comparison gives the same bytes."""

from __future__ import annotations

import csv
import io
import json
import math
import string
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

from compare.commands.flip_lines import flip_sentences
from compare.options.option import Option
from compare.pipeline import Comparison
from compare.scoring.criteria import SIX
from compare.scoring.ranking import Ranked, Ranking
from compare.scoring.reasons import compare_two, reason_sentence
from compare.scoring.scores import OptionScore
from compare.search.proof import Proof
from compare.units import Kind, System, show
from compare.views.assumed import simple_forms
from compare.zones.sketch import Rest, ZoneKind

DIGITS = 9
"""Significant digits of numbers in files: equal results on every machine."""
MOST_REASONS = 5


def option_name(option: Option, rooms: list[str]) -> str:
    """What an option is, in one line."""
    heads = [rooms[zone.rooms[0]] for zone in option.zones if zone.sketch.kind is ZoneKind.ROOM_UNIT]
    parts = []
    if heads:
        parts.append(f"{'room unit' if len(heads) == 1 else f'{len(heads)} room units'} ({', '.join(heads)})")
    parts += [
        f"ducted unit, {zone.ducts.space.name} ({', '.join(rooms[room] for room in zone.rooms)})"
        for zone in option.zones
        if zone.ducts is not None
    ]
    for rest, word in ((Rest.HEATER, "heaters"), (Rest.OLD_HEAT, "old heat")):
        warmed = [rooms[room] for room, how in option.layout.rest if how is rest]
        if warmed:
            parts.append(f"{word} ({', '.join(warmed)})")
    shared = [group for group in option.outdoor.groups if group.shared]
    tail = f"; {option.outdoor.count} outdoor" + (", shared" if shared else "")
    return " + ".join(parts) + tail


@dataclass(frozen=True)
class Printed:
    """A comparison on its way to the screen: each listed option has a letter that stands for it in every sentence."""

    found: Comparison
    ranking: Ranking
    listed: tuple[Ranked, ...]

    @classmethod
    def of(cls, found: Comparison, top: int) -> Printed:
        """The options that are always shown, and the first `top` places."""
        ranking = found.rank()
        shown = {item.option.option_id for item in found.shown(ranking)}
        listed = [item for item in ranking.ranked if item.option.option_id in shown or 0 < item.place <= top]
        return cls(found, ranking, tuple(listed))

    @property
    def units(self) -> System:
        """Unit system of the house file."""
        return self.found.case.house.units

    @cached_property
    def letters(self) -> dict[str, str]:
        """A letter per listed option: A, B ... Z, A1, B1 ..."""
        alphabet = string.ascii_uppercase
        return {
            item.option.option_id: alphabet[i % 26] + (str(i // 26) if i >= 26 else "")
            for i, item in enumerate(self.listed)
        }

    def name(self, option_id: str) -> str:
        """What an option is; of one that only exists in a what-if, its id."""
        rooms = [room.name for room in self.found.case.plan.rooms]
        result = self.found.by_id.get(option_id)
        return option_name(result.run.option, rooms) if result else f"layout {option_id}"

    def short(self, option_id: str) -> str:
        """Its letter where it is listed, else what it is."""
        return self.letters.get(option_id) or self.name(option_id)


def comparison_text(found: Comparison, top: int = 0, *, tested: bool = False) -> str:
    """The recommendation, the table of options, the reasons, the assumptions; how sure and what would change it."""
    page = Printed.of(found, top)
    sure = (_sure(page), _flips(page)) if tested and page.ranking.winner else ()
    parts = (_head(page), _table(page), _reasons(page), *sure, _profiles(page), _assumed())
    return "\n\n".join("\n".join(part) for part in parts)


def _head(page: Printed) -> Iterator[str]:
    case, units = page.found.case, page.units
    yield f"{case.house.house.name} - {case.house.site.place}"
    yield f"{case.weather.provenance} {case.weather.error_band}".strip()
    loads, design = case.loads.house, case.design
    heat = f"{show(loads.heat_w, Kind.CAPACITY, units)} heating at {show(design.heating_99_c, Kind.TEMPERATURE, units)}"
    cool = f"{show(loads.cool_total_w, Kind.CAPACITY, units)} cooling at "
    cool += show(design.cooling_1_c, Kind.TEMPERATURE, units)
    yield f"Design: {heat}, {cool}."
    winner, certainty = page.ranking.winner, page.ranking.certainty
    if winner is None or certainty is None:
        yield "No layout passes here; every one is listed with its reason."
        return
    yield f"Best: {page.name(winner.option.option_id)}."
    if page.found.proof is not None:
        yield _proof(page.found.proof)
    near = len(certainty.near) - 1
    if near > 0:
        yield f"Too close to call: {near} other kind{'s' if near > 1 else ''} of layout within 3 points of it."
    else:
        yield f"It leads the next kind of layout by {certainty.lead_points:.1f} points of 100."


def _proof(proof: Proof) -> str:
    if proof.proven:
        return f"Proven best of all {proof.enumerated:,} layouts of its kinds (hplayouts layouts tells more)."
    return f"Best of {proof.simulated:,} layouts simulated of {proof.enumerated:,} (hplayouts layouts tells more)."


def _table(page: Printed) -> Iterator[str]:
    yield (
        f"   {'place':>6}{'fit':>6}  {'match':>5}{'cycl':>5}{'noise':>6}{'comf':>5}{'cost':>5}{'enrg':>5}"
        f"{'price':>10}{'kWh/yr':>8}{'starts':>8}{'6 a.m.':>8}{'pillow':>8}  option"
    )
    for item in page.listed:
        yield _row(page, item)
        for fault in item.option.fatal[:2]:
            yield f"{'':>9}left out: {fault.text}"
    hidden = len(page.ranking.ranked) - len(page.listed)
    if hidden:
        yield f"{hidden} more options were worked out; --top N lists the best of them, --csv writes all."


def _row(page: Printed, item: Ranked) -> str:
    score = item.option
    measures = score.measures
    beds = [room for room in measures.rooms if room.regular_bedroom]
    morning = min((room.morning_c for room in beds), default=math.nan)
    pillow = max((room.bed_dba for room in beds if not math.isnan(room.bed_dba)), default=math.nan)
    starts = max((unit.starts_per_y for unit in measures.units), default=0.0)
    scores = "".join(f"{score.score(c):{width}.0f}" for c, width in zip(SIX, (5, 5, 6, 5, 5, 5), strict=True))
    place = f"{item.place}" if item.place else "out"
    morning_text = "" if math.isnan(morning) else show(morning, Kind.TEMPERATURE, page.units)
    pillow_text = "" if math.isnan(pillow) else f"{pillow:.0f} dBA"
    price = f"${score.price_usd:,.0f}"
    return (
        f"{page.letters[score.option_id]:<3}{place:>6}{item.total:6.1f}  {scores}{price:>10}"
        f"{measures.energy.electricity_kwh:8.0f}{starts:8.0f}{morning_text:>8}{pillow_text:>8}"
        f"  {page.name(score.option_id)}"
    )


def _reasons(page: Printed) -> Iterator[str]:
    winner = page.ranking.winner
    if winner is None:
        return
    yield "Why, and where it loses (only differences beyond the error of their data):"
    for item in page.listed:
        if item.option.option_id != winner.option.option_id:
            behind = f"{sum(item.lost):.1f} points behind" if item.place else "left out"
            yield f"{page.letters[winner.option.option_id]} against {page.letters[item.option.option_id]}, {behind}:"
            yield from _pair(page, winner.option, item.option)


def _pair(page: Printed, winner: OptionScore, other: OptionScore) -> Iterator[str]:
    pair = compare_two(winner, other, page.ranking.weights)
    for mark, reasons in (("+", pair.for_first), ("-", pair.for_second)):
        for reason in reasons[:MOST_REASONS]:
            names = page.letters[reason.better_id], page.letters[reason.worse_id]
            yield f"  {mark} {reason_sentence(reason, *names, page.units.value)}"


def _sure(page: Printed) -> Iterator[str]:
    sure = page.found.certainty(page.ranking.weights)
    if sure.draws == 0:
        return
    winner = page.letters[sure.near[0]]
    yield (
        f"How sure: {sure.verdict.value}. {winner} stays first in {sure.stays_frac:.0%} of {sure.draws} joint draws of "
        f"house, units, prices, credit and weights."
    )
    for option_id, share in sure.others[:MOST_REASONS]:
        yield f"  {page.short(option_id)} is first in {share:.0%}"
    yield "  Eight draws of ten: " + ", ".join(f"{page.short(k)} {low:.0f}-{high:.0f}" for k, low, high in sure.bands)


def _flips(page: Printed) -> Iterator[str]:
    winner = page.ranking.winner
    assert winner is not None
    yield "What would put another kind of layout first (the smallest change of each sort):"
    flips = page.found.flips(page.ranking.weights)
    for line in flip_sentences(flips, winner.option.family, page.short, page.units.value):
        yield f"  {line}"


def _profiles(page: Printed) -> Iterator[str]:
    yield "Best under other priorities:"
    for name, ids in page.ranking.profile_winners:
        if ids:
            equal = f" (and {len(ids) - 1} within 3 points)" if len(ids) > 1 else ""
            yield f"  {name:<22} {page.name(ids[0])}{equal}"


def _assumed() -> Iterator[str]:
    yield "Simple forms used:"
    for line in simple_forms():
        yield f"  {line.subject}: {line.value}. {line.reason}"
    yield "Unit catalogue generic, not measured, editable; prices are placeholders until a company's own list is given."
    yield "Refrigerant, electrical and structural work: by licensed people, to the local code."


def comparison_rows(found: Comparison) -> list[dict[str, object]]:
    """One flat row per option, best first."""
    page = Printed.of(found, 0)
    rows = []
    for item in page.ranking.ranked:
        score = item.option
        measures, energy = score.measures, score.measures.energy
        row: dict[str, object] = {
            "option": score.option_id,
            "family": score.family,
            "name": page.name(score.option_id),
            "place": item.place,
            "total": item.total,
        }
        row |= {f"score_{c.value.replace(' ', '_')}": score.score(c) for c in SIX}
        row |= {
            "price_low_usd": measures.price.low_usd,
            "price_usd": measures.price.mid_usd,
            "price_high_usd": measures.price.high_usd,
            "electricity_kwh": energy.electricity_kwh,
            "equal_service_kwh": energy.equal_service_kwh,
            "equal_service_cop": measures.cop,
            "bill_usd": energy.bill_usd,
            "carbon_kg": energy.carbon_kg,
            "outdoor_units": measures.outdoor_units,
            "visible_units": measures.visible_units,
            "worst_below_minimum_frac": max((unit.below_min_frac for unit in measures.units), default=0.0),
            "most_starts_per_y": max((unit.starts_per_y for unit in measures.units), default=0.0),
            "left_out": "; ".join(fault.text for fault in score.fatal),
        }
        rows.append({key: _clean(value) for key, value in row.items()})
    return rows


def comparison_csv(found: Comparison) -> str:
    """One row per option as CSV; a cell that a spreadsheet could take for a formula is quoted by an apostrophe."""
    rows = comparison_rows(found)
    out = io.StringIO()
    writer = csv.DictWriter(out, fieldnames=list(rows[0]) if rows else [], lineterminator="\n")
    writer.writeheader()
    writer.writerows({key: _harmless(value) for key, value in row.items()} for row in rows)
    return out.getvalue()


def comparison_json(found: Comparison) -> str:
    """The customer view and a row per option."""
    view = json.loads(found.customer_view().model_dump_json())
    body = {"options": comparison_rows(found), "view": _clean(view)}
    return json.dumps(body, indent=1, sort_keys=True, allow_nan=False, ensure_ascii=False) + "\n"


def _clean(value: object) -> object:
    """Floats to nine significant digits, so that files do not carry the last bit of a machine."""
    if isinstance(value, float):
        return float(f"{value:.{DIGITS}g}") if math.isfinite(value) else None
    if isinstance(value, dict):
        return {key: _clean(item) for key, item in value.items()}
    if isinstance(value, list):
        return [_clean(item) for item in value]
    return value


def _harmless(value: object) -> object:
    text = value if isinstance(value, str) else ""
    return f"'{text}" if text[:1] in {"=", "+", "-", "@", "\t", "\0"} else value
