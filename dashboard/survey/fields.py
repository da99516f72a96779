"""Fields of the page as data: what stands in each, its unit, its choices, what is taken when it is empty, its fault."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from compare.house.tables import age_presets, fields
from compare.units import Kind, System, from_si, label, show
from dashboard.survey.draft.edits import EditError, Raw, written
from dashboard.survey.draft.entry import FieldKind, Form, field_kind
from dashboard.survey.draft.names import same
from dashboard.survey.draft.shape import items, system_of
from dashboard.survey.draft.spans import Loc
from dashboard.survey.mend import Mend
from dashboard.survey.words import label_of

Spec = dict[str, Any]
Choices = Sequence[tuple[str, str]]
HABITS: Choices = (("shut", "shut"), ("0.3", "seldom open"), ("0.7", "mostly open"), ("open", "open"))
SIDES: Choices = (("N", "top"), ("E", "right"), ("S", "bottom"), ("W", "left"))
SLANTED: Choices = (("NE", "top right"), ("SE", "bottom right"), ("SW", "bottom left"), ("NW", "top left"))
STOP_WORDS: Choices = (
    ("1", "not at all"), ("2", "a little"), ("3", "some"), ("4", "a lot"), ("5", "most of all"),
)  # fmt: skip
SHELTER: Choices = (
    ("1", "wide open"),
    ("2", "few trees"),
    ("3", "some houses"),
    ("4", "many houses"),
    ("5", "deep shelter"),
)
_NAMES_OF = {"use": None, "kind": None}


@dataclass(frozen=True, slots=True)
class Page:
    """A draft with what is wrong in it, for making fields."""

    raw: Raw
    mends: tuple[Mend, ...]

    @property
    def system(self) -> System:
        """Units of the file."""
        return system_of(self.raw)

    def value(self, loc: Loc) -> object:
        """What stands at a place, None for nothing."""
        here: Any = self.raw
        for step in loc:
            if isinstance(here, dict):
                here = here.get(step)
            elif isinstance(here, list) and isinstance(step, int) and step < len(here):
                here = here[step]
            else:
                return None
        return here

    def fault(self, loc: Loc) -> str:
        """What is wrong at a place."""
        return " ".join(dict.fromkeys(mend.words for mend in self.mends if mend.loc == loc))

    def faults_of_item(self, loc: Loc, shown: Sequence[Loc]) -> str:
        """What is wrong with an item of a list that no field of it shows."""
        own = [mend.words for mend in self.mends if mend.loc[: len(loc)] == loc and mend.loc not in shown]
        return " ".join(dict.fromkeys(own))


def path(loc: Loc) -> str:
    """A place as one word for the browser."""
    return ".".join(str(step) for step in loc)


def mark_of(table: str, item: object) -> str:
    """What tells an item from others of its list when positions shift."""
    if not isinstance(item, dict):
        return table
    keys = ("name", "between", "room", "wall", "side", "lower", "upper", "from")
    return "|".join(_mark(item[key]) for key in keys if key in item)[:300]


def _mark(value: object) -> str:
    try:
        return written(value)
    except EditError:
        return str(value)


def text_of(value: object) -> str:
    """A value as it stands in a field."""
    if value is None or isinstance(value, dict):
        return ""
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, float):
        return written(value)
    if isinstance(value, list):
        return ", ".join(text_of(item) for item in value)
    return str(value)


def unit_of(kind: FieldKind, system: System) -> str:
    """The unit of a bare number in a field."""
    if kind.form is not Form.QUANTITY:
        return ""
    unit = fields()[kind.quantity].kind
    return "share, 0 to 1" if unit is Kind.SHARE else label(unit, system)


def _usual(kind: FieldKind, page: Page, loc: Loc) -> str:
    """What is taken while a field is empty."""
    if kind.form is not Form.QUANTITY:
        return ""
    spec = fields()[kind.quantity]
    value = spec.default
    if loc[0] == "fabric" and value is None:
        preset = age_presets().get(str(page.value(("fabric", "age"))))
        value = preset.values.get(str(loc[-1])) if preset else None
    if value is None:
        return ""
    return f"{value:g}" if spec.kind is Kind.SHARE else _exact(value, spec.kind, page.system)


def _exact(value_si: float, kind: Kind, system: System) -> str:
    """A usual value with as many decimals as it needs, two at most."""
    for decimals in (0, 1):
        if abs(from_si(value_si, kind, system) * 10**decimals % 1.0 - 0.5) > 0.5 - 1e-6:
            return show(value_si, kind, system, decimals)
    return show(value_si, kind, system, 2)


@dataclass(frozen=True, slots=True)
class Way:
    """How a field is shown where its type alone does not say: its label, choices, kind and width."""

    label: str = ""
    choices: Choices = ()
    kind: str = ""
    ghost: str = ""
    wide: bool = False


_PLAIN = Way()


def field(page: Page, loc: Loc, way: Way = _PLAIN) -> Spec:
    """A field for a place of the file."""
    kind, value = field_kind(loc), page.value(loc)
    table = str(loc[0])
    keys = [step for step in loc if isinstance(step, str)]
    item = page.value(loc[:2]) if len(loc) > 2 and isinstance(loc[1], int) else None
    shown = text_of(value)
    choices = list(way.choices) or [(word, word) for word in kind.words if kind.form is Form.WORD]
    if kind.form is Form.YES_NO and not way.kind:
        choices = [("true", "yes"), ("false", "no")]
    what = way.kind or (
        "date" if kind.form is Form.DATE else "stops" if kind.form is Form.YES_NO else "choice" if choices else "text"
    )
    if choices and shown and shown not in {key for key, _ in choices}:
        choices.append((shown, _told(shown, kind)))
    return {
        "id": path(loc),
        "label": way.label or label_of(table, keys[-1]),
        "kind": what,
        "value": shown,
        "unit": unit_of(kind, page.system) if what == "text" else "",
        "choices": [list(choice) for choice in choices],
        "ghost": way.ghost or _usual(kind, page, loc),
        "fault": page.fault(loc),
        "wide": way.wide,
        "empty": not kind.required,
        "figures": kind.form in {Form.QUANTITY, Form.COUNT},
        "mark": mark_of(table, item) if item is not None else "",
    }


def _told(shown: str, kind: FieldKind) -> str:
    """A value beside the usual ones, as a share of the time where it is one."""
    try:
        share = float(shown)
    except ValueError:
        return shown
    return f"{100.0 * share:.0f} % of the time" if kind.quantity in {"door.day", "door.night"} else shown


def row(page: Page, table: str, position: int, title: str, specs: list[Spec], *, removable: bool = True) -> Spec:
    """One thing of a list with its fields."""
    loc = (table, position)
    shown = [_loc(spec["id"]) for spec in specs]
    return {
        "ref": path(loc),
        "title": title,
        "fields": specs,
        "remove": removable,
        "mark": mark_of(table, page.value(loc)),
        "fault": page.faults_of_item(loc, shown),
    }


def _loc(text: str) -> Loc:
    return tuple(int(step) if step.isdecimal() else step for step in text.split("."))


def room_names(page: Page) -> list[str]:
    """Names of rooms that have one."""
    return [name for _, item in items(page.raw, "room") if (name := same(item.get("name")))]


def level_names(page: Page) -> list[str]:
    """Names of storeys."""
    return [name for _, item in items(page.raw, "level") if (name := same(item.get("name")))]


def named(names: Sequence[str]) -> list[tuple[str, str]]:
    """Names as choices."""
    return [(name, name) for name in names]
