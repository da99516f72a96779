"""Office figures as text for a terminal."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal

from compare.office.figures import JobFigures, kinds_sheet
from compare.office.view import OfficeOption, OfficeView

LEAST_SHOWN_FRAC = Decimal("0.01")
HEAD = (
    f"{'place':>5}{'fit':>6}{'price':>10}{'cost':>10}{'margin':>8}{'$/crew day':>11}{'callback':>9}{'left':>9}"
    f"{'of price':>9}{'15 years':>10}{'comfort':>8}{'cold':>5}  layout"
)

JOBS_HEAD = (
    f"{'job':<20}{'proposal':<14}{'status':<11}{'age':>4}{'price':>10}{'margin':>8}{'left':>9}{'hours':>8}  house"
)


def view_text(view: OfficeView) -> str:
    """Every option in a line, with what brings its risk; then rebates and size rules."""
    return "\n".join(_view(view))


def _view(view: OfficeView) -> Iterator[str]:
    yield f"{view.house} - {view.place}, {view.on.isoformat()}. OFFICE ONLY."
    if view.placeholder_costs:
        yield f"{view.placeholder_costs} rows of the cost book are generic placeholders: put in the company's own."
    yield HEAD
    for option in view.options:
        yield _row(option)
        named = [risk for risk in option.risks if risk.subjects and risk.probability_frac >= LEAST_SHOWN_FRAC]
        causes = [f"{risk.risk} {risk.probability_frac:.0%} ({', '.join(risk.subjects)})" for risk in named]
        if causes:
            yield f"{'':>11}{'; '.join(causes)}"
    yield f"A discount that takes the margin under {view.floor_frac:.0%} needs approval."
    yield from _rebates(view)


def _row(option: OfficeOption) -> str:
    margin, comfort = option.margin, option.comfort
    place = f"{option.place}" if option.place else "out"
    return (
        f"{place:>5}{option.total:6.1f}{option.price_usd:10,.0f}{margin.direct_usd:10,.0f}{margin.margin_frac:8.1%}"
        f"{margin.profit_per_crew_day_usd:11,.0f}{margin.expected_callback_usd:9,.0f}{margin.risk_adjusted_usd:9,.0f}"
        f"{margin.risk_adjusted_frac:9.1%}{option.lifetime.total_usd:10,.0f}{comfort.comfort_score:8.0f}"
        f"{len(comfort.cold_rooms):5d}  {option.name}"
    )


def _rebates(view: OfficeView) -> Iterator[str]:
    best = view.options[0] if view.options else None
    for rebate in best.rebates if best else ():
        state = "; ".join(rebate.missing) or f"${rebate.amount_usd:,.0f} on the first layout"
        yield f"{rebate.programme}: {state}. {rebate.condition} (looked up {rebate.checked_on.isoformat()})"
    yield from (rule.text for rule in view.size_rules)


def figures_text(found: Sequence[JobFigures]) -> str:
    """A line per proposal, then what was foretold against what came."""
    lines = [JOBS_HEAD]
    for one in found:
        lines.append(_job(one))
        if one.error:
            lines.append(f"{'':>20}{one.error}")
    for row in kinds_sheet(found).rows:
        kind, count, ratio, _, foretold, actual = row[:6]
        hours = "no hours booked" if ratio is None else f"hours {ratio} of planned"
        lines.append(f"{kind}: {count} installed, {hours}, callbacks {actual} a job, foretold {foretold}")
    return "\n".join(lines)


def _job(one: JobFigures) -> str:
    cells = one.cells()
    margin, left, ratio = cells["margin_frac"], cells["risk_adjusted_usd"], cells["hours_ratio"]
    late = "!" if one.overdue else ""
    return (
        f"{one.job[:19]:<20}{one.proposal:<14}{one.status:<11}{one.age_days:>3}{late or ' '}{one.price_usd:>10,.0f}"
        f"{_or_blank(margin, '.1%'):>8}{_or_blank(left, ',.0f'):>9}{_or_blank(ratio, '.2f'):>8}  {one.house}"
    )


def _or_blank(value: object, form: str) -> str:
    return "" if value is None else format(value, form)
