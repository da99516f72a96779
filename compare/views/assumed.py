"""Simple forms that the program uses, stated in every output (table `simple_forms.csv`)."""

from __future__ import annotations

import csv
from functools import cache
from importlib import resources

from compare.views.customer import AssumptionLine


@cache
def simple_forms() -> tuple[AssumptionLine, ...]:
    """Each simple form as an assumption."""
    text = resources.files("compare.data.views").joinpath("simple_forms.csv").read_text(encoding="utf-8")
    return tuple(
        AssumptionLine(subject=row["subject"], value=row["value"], reason=row["reason"])
        for row in csv.DictReader(text.splitlines())
    )
