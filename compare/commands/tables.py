"""A comparison as text for a terminal, as JSON and as CSV. The same comparison gives the same bytes."""

from __future__ import annotations

import csv
import io
import json
import math
from collections.abc import Iterator

from compare.commands.argued import (
    envelope_lines,
    flip_lines,
    lost_lines,
    profile_lines,
    reason_lines,
    sure_lines,
    worry_lines,
)
from compare.commands.layout_lines import proof_sentence
from compare.commands.option_name import option_name
from compare.commands.page import Printed
from compare.pipeline import Comparison
from compare.scoring.criteria import SIX
from compare.scoring.ranking import Ranked
from compare.scoring.worries import answer_sentence, answers, worries
from compare.units import Kind, show
from compare.views.assumed import simple_forms
from compare.worries import asked_of

__all__ = ["comparison_csv", "comparison_json", "comparison_rows", "comparison_text", "option_name"]

DIGITS = 9
"""Significant digits of numbers in files: equal results on every machine."""


def comparison_text(found: Comparison, top: int = 0, *, tested: bool = False) -> str:
    """The recommendation, the table of options, the reasons, the assumptions; how sure and what would change it."""
    page = Printed.of(found, top)
    sure = (sure_lines(page), flip_lines(page), envelope_lines(page)) if tested and page.ranking.winner else ()
    parts = (
        _head(page),
        _table(page),
        lost_lines(page),
        reason_lines(page),
        *sure,
        profile_lines(page),
        worry_lines(page),
        _assumed(),
    )
    return "\n\n".join(text for text in ("\n".join(part) for part in parts) if text)


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
        yield f"{proof_sentence(page.found.proof)} (hplayouts layouts tells more.)"
    near = len(certainty.near) - 1
    if near > 0:
        yield f"Too close to call: {near} other kind{'s' if near > 1 else ''} of layout within 3 points of it."
    else:
        yield f"It leads the next kind of layout by {certainty.lead_points:.1f} points of 100."


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
    """The customer view, a row per option, and what families ask with its answers as data and in words."""
    view = json.loads(found.customer_view().model_dump_json())
    body = {"options": comparison_rows(found), "view": _clean(view), "answers": _clean(_answers(found))}
    return json.dumps(body, indent=1, sort_keys=True, allow_nan=False, ensure_ascii=False) + "\n"


def _answers(found: Comparison) -> list[dict[str, object]]:
    asked = asked_of(found, found.rank())
    if asked is None:
        return []
    names = "the recommended layout", "a unit in every room"
    return [
        {
            "worry": item.worry,
            "question": item.question,
            "applies": answer.applies,
            "form": answer.form,
            "numbers": {key: value for key, value, _ in answer.numbers},
            "room": answer.room,
            "facts": list(answer.why),
            "text": answer_sentence(answer, asked, names, found.case.house.units.value),
        }
        for item, answer in zip(worries(), answers(asked), strict=True)
    ]


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
