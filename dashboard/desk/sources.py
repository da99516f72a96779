"""What was assumed and where figures come from, and what can be taken away as a file."""

from __future__ import annotations

from urllib.parse import quote

from dash import html
from dash.development.base_component import Component

from compare.views.assumed import simple_forms
from dashboard.desk.files import FILES, papers_of
from dashboard.desk.gate import DESK
from dashboard.desk.parts import folded, section, table
from dashboard.desk.study import Study
from dashboard.role import within


def assumptions_part(study: Study) -> Component:
    """Values that the house file leaves out, simple forms, weather and price sources."""
    case, report = study.found.case, study.loads
    left = [(one.path, one.value_text, one.reason) for one in report.assumptions]
    forms = [(line.subject, line.value, line.reason) for line in simple_forms()]
    rows = [
        ("Weather year", case.weather.provenance, case.weather.error_band),
        ("Design temperatures", report.design_source, ""),
        ("Unit catalogue", study.found.sources.units.label, "generic, not measured; a company's own table replaces it"),
        (
            "Price list",
            study.found.sources.prices.name,
            "placeholder prices where a row says so; a company's own list replaces them",
        ),
        (
            "Room response",
            f"largest error of the two-branch fit {case.reduction_error_frac:.2%}",
            "against the full room",
        ),
    ]
    return section(
        "assumed",
        "Assumptions and sources",
        f"{len(left)} values that the house file leaves out, {len(forms)} simple forms.",
        table(("What", "From", "Note"), rows),
        folded(f"Left out of the house file: {len(left)} values", table(("Where", "Taken", "Why"), left)),
        folded(f"Simple forms: {len(forms)}", table(("What", "Taken", "Why"), forms)),
    )


def file_url(option_id: str, name: str) -> str:
    """Address of a file of a layout."""
    return within(f"{DESK}/files/{quote(option_id, safe='')}/{name}")


def downloads_part(study: Study, option_id: str) -> Component:
    """Links to every file."""
    items = [
        html.Li(html.A(words, href=file_url(option_id, name), download=name, className="button"))
        for name, words in FILES.items()
        if name in papers_of(study, option_id)
    ]
    return section(
        "files", "Files of this layout", "No costs and no margins in any of them.", html.Ul(items, className="files")
    )
