"""A house file that was read, and what can be tried with it at a table."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from compare.house.model import HouseFile
from compare.whatif import bedroom_doors_shut, doors_at_night, insulated_first
from dashboard.habits import Habits
from dashboard.session import Offer, Question, WhatIf, start_question

PHYSICAL = frozenset({WhatIf.DOORS_SHUT, WhatIf.INSULATE_FIRST})
"""What-ifs that change the house itself."""
OFFERS = {
    WhatIf.DOORS_SHUT: Offer(WhatIf.DOORS_SHUT, "Bedroom doors shut", "at night"),
    WhatIf.COOL_BEDROOMS: Offer(WhatIf.COOL_BEDROOMS, "Cool the bedrooms", "on hot days and nights"),
    WhatIf.INSULATE_FIRST: Offer(WhatIf.INSULATE_FIRST, "Insulate attic first", "and seal its air leaks"),
}


@dataclass(frozen=True, slots=True)
class House:
    """A house file that was read, and what can be tried with it."""

    file: HouseFile
    folder: Path
    changed_ns: int

    @property
    def offers(self) -> tuple[Offer, ...]:
        """Switches that mean something in this house."""
        found = [OFFERS[WhatIf.COOL_BEDROOMS]]
        if bedroom_doors_shut(self.file) is not None:
            found.insert(0, OFFERS[WhatIf.DOORS_SHUT])
        if insulated_first(self.file) != self.file:
            found.append(OFFERS[WhatIf.INSULATE_FIRST])
        return tuple(found)

    @property
    def habits(self) -> Habits:
        """Set points and price of electricity of the house file."""
        comfort = self.file.comfort
        return Habits(comfort.heating_c, comfort.cooling_c, self.file.rates.electricity_usd_kwh)

    @property
    def question(self) -> Question:
        """The question as the house file asks it."""
        on = {WhatIf.COOL_BEDROOMS}
        if bedroom_doors_shut(self.file):
            on.add(WhatIf.DOORS_SHUT)
        return start_question(self.file.priorities.model_dump(), frozenset(on), self.habits)

    def changed(self, on: frozenset[WhatIf]) -> HouseFile:
        """The house under the physical what-ifs."""
        file = self.file
        if (WhatIf.DOORS_SHUT in on) != (WhatIf.DOORS_SHUT in self.question.on):
            file = doors_at_night(file, shut=WhatIf.DOORS_SHUT in on)
        return insulated_first(file) if WhatIf.INSULATE_FIRST in on else file

    def check(self, question: Question) -> None:
        """Raise `ValueError` for a what-if that this house does not offer."""
        offered = {offer.what for offer in self.offers} | self.question.on | {WhatIf.FEW_IN_SIGHT}
        if not question.on <= offered:
            raise ValueError("this house does not offer that what-if")
