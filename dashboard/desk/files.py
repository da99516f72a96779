"""Files of a layout made on request: tables as CSV and XLSX, sheets and proposal as PDF, drawings as SVG."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping

import numpy as np

from compare.commands.tables import comparison_csv
from compare.jobs.customer_sheets import options_sheet, rooms_sheet
from compare.jobs.sheets import Cell, Sheet, csv_text, xlsx_bytes
from compare.jobs.view_sheets import view_sheets
from dashboard.desk.study import Study

CSV, XLSX, PDF, SVG = (
    "text/csv",
    "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
    "application/pdf",
    "image/svg+xml",
)
FILES: Mapping[str, str] = {
    "crew.pdf": "Crew sheet, PDF",
    "commissioning.pdf": "Commissioning, PDF",
    "walk-customer.pdf": "Walk-through for the customer, PDF",
    "walk-colleagues.pdf": "Walk-through for colleagues, PDF",
    "basis.pdf": "Basis of the design, PDF",
    "proposal.pdf": "Proposal, PDF",
    "layouts.csv": "All layouts, CSV",
    "loads.csv": "Loads by part, CSV",
    "hours.csv": "Every hour of the year, CSV",
    "design.xlsx": "Design and layouts, XLSX",
    "plan.svg": "Designer's plan, SVG",
}
"""Names of the files and what they are."""
SHOWN_ONLY = frozenset(
    {"crew.pdf", "commissioning.pdf", "walk-customer.pdf", "walk-colleagues.pdf", "basis.pdf", "proposal.pdf"}
)
"""Papers that exist for layouts which the table shows."""
_SAFE = re.compile(r"[^A-Za-z0-9]+")


def papers_of(study: Study, option_id: str) -> frozenset[str]:
    """Files that a layout has."""
    shown = option_id in {option.id for option in study.customer.options}
    return frozenset(FILES) if shown else frozenset(FILES) - SHOWN_ONLY


def _sheet_pdf(study: Study, option_id: str, stem: str) -> bytes:
    from proposal.pdf import pdf_of
    from proposal.sheets.make import given_of, sheets_of

    return pdf_of(sheets_of(given_of(study.found, option_id))[stem])


def _proposal(study: Study, option_id: str) -> bytes:
    from proposal.extras import paper_of
    from proposal.pdf import pdf_of

    return pdf_of(paper_of(study.found, study.found.customer_view(), option_id))


def loads_sheet(study: Study) -> Sheet:
    """Every load by room, opinion and part, in watts."""
    rows: list[dict[str, Cell]] = [
        {"room": room.name, "by": opinion.name, "mode": mode, "part": part, "W": float(value)}
        for opinion in study.loads.opinions
        for room in opinion.loads.rooms
        for mode, parts in (("heating", room.heat_parts_w), ("sensible cooling", room.cool_parts_w))
        for part, value in parts.items()
    ]
    return Sheet.of("loads", rows, ("room", "by", "mode", "part", "W"))


def hours_csv(study: Study, option_id: str) -> str:
    """Outdoor air, air of every room [C] and output of every supply [W], one row per hour."""
    run, case = study.found.hours(option_id), study.found.case
    names = [f"{room.name}, C" for room in case.plan.rooms]
    supplies = [f"supply {number + 1}, W" for number in range(run.trace.supply_w.shape[1])]
    head = csv_text(Sheet("hours", ("hour", "outdoors, C", *names, *supplies), ()))
    body = np.column_stack(
        [np.arange(case.weather.hours), case.weather.dry_bulb_c, run.trace.room_c, run.trace.supply_w]
    )
    return head + "".join(f"{int(row[0])},{','.join(f'{value:.2f}' for value in row[1:])}\n" for row in body)


def _workbook(study: Study, option_id: str) -> bytes:
    sheets = [options_sheet(study.customer), rooms_sheet(study.customer), loads_sheet(study)]
    return xlsx_bytes([*sheets, *view_sheets(study.design(option_id), "design")])


def _plan(study: Study, option_id: str) -> bytes:
    from proposal.drawing.desk import desk_plan

    return desk_plan(study.design(option_id)).svg.encode()


Maker = Callable[[Study, str], bytes]
MAKERS: Mapping[str, tuple[str, Maker]] = {
    "proposal.pdf": (PDF, _proposal),
    "layouts.csv": (CSV, lambda study, _id: comparison_csv(study.found).encode()),
    "loads.csv": (CSV, lambda study, _id: csv_text(loads_sheet(study)).encode()),
    "hours.csv": (CSV, lambda study, option_id: hours_csv(study, option_id).encode()),
    "design.xlsx": (XLSX, _workbook),
    "plan.svg": (SVG, _plan),
}


def made(study: Study, option_id: str, name: str) -> tuple[str, bytes]:
    """Kind and content of a file.

    Raises
    ------
    ValueError
        For a file that a layout does not have.
    """
    if name not in papers_of(study, option_id):
        raise ValueError("no such file")
    if name in MAKERS:
        kind, maker = MAKERS[name]
        return kind, maker(study, option_id)
    return PDF, _sheet_pdf(study, option_id, name.removesuffix(".pdf"))


def saved_name(study: Study, name: str) -> str:
    """Name under which a browser saves a file: the house's in plain letters, then the file's."""
    stem = _SAFE.sub("-", study.found.case.house.house.name).strip("-").lower()[:40]
    return f"{stem}-{name}" if stem else name
