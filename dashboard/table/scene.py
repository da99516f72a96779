"""One answer as one browser shows it: the view, the words in its units, the theme, and what is on the plan."""

from __future__ import annotations

from dataclasses import dataclass

from compare.views.customer import CustomerView, OptionCard
from dashboard.session import Form, Page
from dashboard.tokens import PAGE
from proposal.drawing.look import Look
from proposal.words import Figures, Told, is_close, option_name, words_of


@dataclass(frozen=True, slots=True)
class Shown:
    """A view and the page that shows it."""

    view: CustomerView
    page: Page

    @property
    def told(self) -> Told:
        """The view with words and figures in the units of this page."""
        return Told(self.view, words_of(), Figures(self.page.units))

    @property
    def winner(self) -> OptionCard | None:
        """The recommended option; None where every layout is left out."""
        return next((option for option in self.view.options if option.id == self.view.answer.winner), None)

    @property
    def on_plan(self) -> OptionCard:
        """The option on the plan: the chosen one while the view has it, else the recommended one, else the first."""
        chosen = next((option for option in self.view.options if option.id == self.page.shown), None)
        return chosen or self.winner or self.view.options[0]

    def is_winner(self, option: OptionCard) -> bool:
        """Whether an option is the first of all."""
        return option.id == self.view.answer.winner

    def name(self, option: OptionCard, *, short: bool = False) -> str:
        """Name of an option."""
        return option_name(self.view, option, words_of(), short=short)

    def recommended(self, option: OptionCard) -> bool:
        """Whether the option may be in plum: the first of all, unless it is too close to call."""
        return self.is_winner(option) and not is_close(self.view)

    def look(self, width_px: float, *, compact: bool = False) -> Look:
        """Look of a picture on this page, without caption and legend: the page writes those."""
        return Look(
            theme=PAGE,
            units=self.page.units,
            width_px=width_px,
            compact=compact,
            caption=False,
            legend=False,
        )

    @property
    def several_levels(self) -> bool:
        """Whether the house has storeys that need a wider plan."""
        return len(self.view.plan.levels) > 1

    @property
    def landscape(self) -> bool:
        """Whether the page lies across."""
        return self.page.form is Form.LANDSCAPE
