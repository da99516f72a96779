"""Curves, weights and judgements as rows and as text: what anyone may check before trusting a score."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from compare.scoring.criteria import SIX, Kind, measure_infos
from compare.scoring.curves import Anchor, Curve
from compare.scoring.facts import facts
from compare.scoring.judgements import Rulebook, rulebook
from compare.scoring.phrases import show
from compare.scoring.tables import read_rows
from compare.scoring.weights import priorities, profiles

LOG_MARKS = (80.0, 50.0, 0.0)
"""Points at which a logarithmic curve is also printed."""


@dataclass(frozen=True, slots=True)
class CurveRow:
    """One anchor of one curve."""

    measure: str
    name: str
    criterion: str
    definition: str
    value: str
    """With its unit, as the table gives it."""
    points: float
    source: str
    reason: str


def _value(anchor: Anchor) -> str:
    unit = anchor.unit.removesuffix(" diff")
    return f"{anchor.x:g}" if unit == "ratio" else f"{anchor.x:g} {unit}"


def _log_rows(curve: Curve) -> list[tuple[str, float, str, str]]:
    return [(f"{curve.value_at(p):.2f}", p, "from the two anchors", "") for p in LOG_MARKS]


def curves_table(book: Rulebook | None = None) -> tuple[CurveRow, ...]:
    """Every anchor of every curve with its source, in the order of the measures."""
    book = book or rulebook()
    rows: list[CurveRow] = []
    for info in measure_infos().values():
        curve = book.curves.get(info.measure)
        if curve is None:
            continue
        marks = [(_value(a), a.points, a.source, a.reason) for a in curve.anchors]
        marks += _log_rows(curve) if curve.form == "log2" else []
        rows += [CurveRow(info.measure, info.name, info.criterion.value, info.definition, *mark) for mark in marks]
    return tuple(rows)


def columns(rows: Iterable[Sequence[str]], indent: str = "  ") -> list[str]:
    """Rows as lines with aligned columns; the last column runs free."""
    table = [list(row) for row in rows]
    widths = [max(len(row[k]) for row in table) for k in range(len(table[0]))] if table else []
    lines = []
    for row in table:
        cells = [cell.ljust(width) for cell, width in zip(row[:-1], widths, strict=False)] + [row[-1]]
        lines.append((indent + "  ".join(cells)).rstrip())
    return lines


def _curve_lines(book: Rulebook) -> list[str]:
    lines = [
        "Score curves: straight between the anchors, flat outside; the price curve is straight over its logarithm."
    ]
    rows = curves_table(book)
    for info in measure_infos().values():
        own = [row for row in rows if row.measure == info.measure]
        scored = "" if info.scored else " (shown, not scored)"
        lines += ["", f"{info.measure} {info.name}, for {info.criterion}{scored}", f"  {info.definition}."]
        lines += columns((r.value, f"{r.points:g} points", ". ".join(filter(None, (r.source, r.reason)))) for r in own)
    return lines


def _weight_lines() -> list[str]:
    head = ("profile", *(str(criterion) for criterion in SIX), "for a family that says")
    body = [(p.weights.name, *(f"{value:g}" for value in p.points), p.says) for p in profiles()]
    stops = [
        (row.words, ", ".join(row.criteria), row.form, " / ".join(f"{stop:g}" for stop in row.stops))
        for row in priorities()
    ]
    return [
        "",
        f"Weights, of 100 ({profiles()[0].source})",
        *columns((head, *body)),
        "",
        "Priorities in words: five stops from the Balanced weights, then scaled to 100",
        *columns(stops),
    ]


def _number_lines() -> list[str]:
    rows = [
        (
            row["name"].replace("_", " "),
            f"{row['value']} {row['unit'].removesuffix(' diff')}",
            row["source"],
            row["reason"],
        )
        for row in read_rows("defaults.csv")
    ]
    return [
        "",
        "Other numbers",
        *columns((name, value, ". ".join(filter(None, texts))) for name, value, *texts in rows),
    ]


def _limit_lines(book: Rulebook) -> list[str]:
    n = book.numbers
    parts = (
        ("energy", show(n.limit_energy_frac, Kind.SHARE)),
        ("noise", show(n.limit_noise_dba, Kind.LEVEL)),
        ("price", f"{show(n.limit_price_frac, Kind.SHARE)} and {show(n.limit_price_least_usd, Kind.MONEY)}"),
        ("temperature", show(n.limit_temperature_k, Kind.DIFFERENCE)),
        ("starts", f"a factor of {n.limit_starts:g}"),
        ("hours below minimum", f"{100.0 * n.limit_hours_below_frac:g} points"),
    )
    return [
        "",
        f"No reason inside its error ({len(facts())} kinds of fact): it must differ by more than",
        *columns(parts),
    ]


def curves_text(book: Rulebook | None = None) -> str:
    """All of it as text, for the terminal."""
    book = book or rulebook()
    return "\n".join([*_curve_lines(book), *_weight_lines(), *_limit_lines(book), *_number_lines(), ""])
