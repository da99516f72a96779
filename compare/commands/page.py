"""A comparison on its way to the screen: which options are listed, and the letter that stands for each."""

from __future__ import annotations

import string
from dataclasses import dataclass
from functools import cached_property

from compare.commands.option_name import option_name
from compare.pipeline import Comparison
from compare.scoring.ranking import Ranked, Ranking
from compare.units import System


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
        return option_name(result.option, rooms) if result else f"layout {option_id}"

    def short(self, option_id: str) -> str:
        """Its letter where it is listed, else what it is."""
        return self.letters.get(option_id) or self.name(option_id)
