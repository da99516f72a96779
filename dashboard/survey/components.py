"""Components of the survey page; their other half is `assets/survey.js`."""

from __future__ import annotations

from dashboard.components import OwnComponent


class _Survey(OwnComponent):
    """Base of the page's own components."""

    _namespace = "hplayouts_survey"


class Hear(_Survey):
    """Gathers what is done inside it. `said`: events that no answer has taken yet, each with its number; `heard`: the
    number of the last one that was taken; `seen`: version of the draft that is shown; `file`: the open house;
    `waiting`: whether to ask again soon.
    """

    _type = "Hear"
    PROPERTIES = ("id", "children", "className", "said", "heard", "seen", "file", "waiting")


class PlanBoard(_Survey):
    """The plan to work on. `svg`: the picture; `frame`: where plan units lie on it; `tool`: what a pointer does."""

    _type = "PlanBoard"
    PROPERTIES = ("id", "svg", "frame", "tool", "unit", "step")


class Sheet(_Survey):
    """Sections of fields (`dashboard.survey.sections`). `folds`: whether sections can be folded away."""

    _type = "Sheet"
    PROPERTIES = ("id", "sections", "folds")


class Pick(_Survey):
    """A choice from a list that says an event: `say` with the chosen key under `under`."""

    _type = "Pick"
    PROPERTIES = ("id", "label", "say", "under", "value", "choices")
