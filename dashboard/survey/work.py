"""The survey on the server: open drafts, the tablets that look at them, and what each event does.

Drafts are shared by all tablets and kept on disk after each step; what a tablet looks at (chosen room, tool, storey) is
its own. Nothing of a draft lives in the browser.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from pathlib import Path
from threading import RLock

from compare.house.problems import HouseFileError
from compare.units import System
from dashboard.store import Sessions
from dashboard.survey.acts import GONE, act
from dashboard.survey.begin import blank, of_type, zip_edits
from dashboard.survey.draft.edits import EditError, Set
from dashboard.survey.draft.history import Draft, NotReadableError, draft_of
from dashboard.survey.draft.names import names
from dashboard.survey.draft.shape import items, shapes_of
from dashboard.survey.heard import TOOLS, Event, NotHeardError
from dashboard.survey.live import Live, Loads, Unknown
from dashboard.survey.mend import Judged, judged
from dashboard.survey.shelf import ChangedError, Shelf, ShelfError

MOST_OPEN = 40
KINDS = {"space": "ceiling drop", "room": "bedroom"}
Compare = Callable[[Path], str]
"""Begins the comparison of a house file and gives the address where it is seen; raises `ValueError` in plain words."""


@dataclass
class Open:
    """A draft that is open: the file it began from, and who changed it last."""

    file: str
    draft: Draft
    base: str
    """Digest of the file when it was opened or last saved; empty for a house that has no file yet."""
    saved: bytes
    """What the file held then."""
    changed: list[tuple[int, str]] = field(default_factory=list)
    """Versions by the tablet that made them, the latest ones."""
    kept: str = ""
    """Why the draft could not be kept on disk, if so."""
    lock: RLock = field(default_factory=RLock)

    @property
    def dirty(self) -> bool:
        """Whether there is anything to save."""
        return not self.base or self.draft.data != self.saved

    def stale(self, seen: int, tablet: str) -> bool:
        """Whether somebody else changed the draft after what a tablet saw."""
        return any(version > seen and who != tablet for version, who in self.changed)


@dataclass(frozen=True, slots=True)
class Look:
    """What one tablet looks at."""

    file: str = ""
    tool: str = "choose"
    level: str = ""
    chosen: str = ""
    together: bool = True
    width_px: float = 744.0
    kinds: tuple[tuple[str, str], ...] = tuple(KINDS.items())
    heard: int = 0
    note: str = ""
    wrong: bool = False
    """Whether the note says that something could not be done."""
    conflict: bool = False
    """Whether the last save met another version of the file."""
    comparing: str = ""
    """Address of the comparison that was begun with the draft as it is."""

    def kind(self, tool: str) -> str:
        """What a drawing tool makes."""
        return dict(self.kinds).get(tool, "")


@dataclass(frozen=True, slots=True)
class Seen:
    """All that a page of an open draft shows."""

    look: Look
    open: Open
    draft: Draft
    judged: Judged
    live: Live | Unknown

    @property
    def waiting(self) -> bool:
        """Whether cooling is still being worked out."""
        return isinstance(self.live, Live) and self.live.cool_w is None


class Survey:
    """All drafts of a folder."""

    def __init__(self, folder: Path, compare: Compare | None = None, loads: Loads | None = None) -> None:
        self.shelf = Shelf(folder)
        self.compare = compare
        self._loads = loads or Loads()
        self._open: dict[str, Open] = {}
        self._looks: Sessions[Look] = Sessions()
        self._judged: dict[str, tuple[str, Judged]] = {}
        self._lock = RLock()

    def look(self, tablet: object) -> Look:
        """What a tablet looks at; raises `ValueError` for a name that this program does not give out."""
        return self._looks.get(tablet, Look)

    def hear(self, tablet: str, events: tuple[Event, ...]) -> Look:
        """Do what a tablet says, each event once and in its order.

        Raises
        ------
        NotHeardError
            When it says what no page of ours says; nothing of that event is done.
        """
        with self._lock:
            look = self.look(tablet)
            for event in events:
                if event.number <= look.heard:
                    continue
                look = replace(look, heard=event.number)
                self._looks.put(tablet, look)  # what cannot be heard is not asked again
                look = self._one(replace(look, wrong=False), event, tablet)
                self._looks.put(tablet, look)
            return look

    def _one(self, look: Look, event: Event, tablet: str) -> Look:
        try:
            if not look.file and event.here and event.what not in {"open", "start", "leave"}:
                look = self._again(look, event)
                self._looks.put(tablet, look)
                if event.what not in _ALSO_AFTER:
                    raise EditError("The program was started again. The draft is kept; do that once more.")
            if event.what in _LOOKS:
                return _LOOKS[event.what](look, event)
            if event.what in {"open", "start", "leave", "discard"}:
                return self._begin(look, event)
            return self._edit(look, event, tablet)
        except (EditError, ShelfError, NotReadableError) as error:
            conflict = isinstance(error, ChangedError)
            return replace(look, note=str(error), wrong=True, conflict=conflict)
        except HouseFileError as error:
            return replace(look, note=" ".join(problem.message for problem in error.problems)[:300], wrong=True)

    # beginning

    def _begin(self, look: Look, event: Event) -> Look:
        if event.what == "leave":
            return Look(width_px=look.width_px, heard=look.heard)
        if event.what == "discard":
            return self._discard(look)
        file = event.text("file", 80) if event.what == "open" else self._started(event)
        opened = self._opened(file)
        level = next(iter(names(opened.draft.raw, "level")), "ground")
        note = "This is the draft that was not saved yet." if event.what == "open" and opened.dirty else ""
        tool = "choose" if shapes_of(opened.draft.raw) else "room"
        return replace(
            look, file=opened.file, level=level, chosen="", tool=tool, note=note, conflict=False, comparing=""
        )

    def _again(self, look: Look, event: Event) -> Look:
        """The house that a browser shows, for a program that was started since and knows nothing of it."""
        opened = self._opened(event.here)
        level = next(iter(names(opened.draft.raw, "level")), "ground")
        return replace(look, file=opened.file, level=level)

    def _opened(self, file: str) -> Open:
        """The open draft of a file: as it is, from its kept text, or fresh from the file."""
        if file in self._open:
            return self._open[file]
        path = self.shelf.path(file)
        there = path.exists()
        data = self.shelf.read(file) if there else b""
        kept = self.shelf.kept(file)
        if kept is None and not there:
            raise ShelfError(f"{file} is not there any more.")
        base = kept.base if kept else self.shelf.now(file)
        draft = draft_of(kept.data if kept else data, file)
        if kept and there and draft.data == data:
            base = self.shelf.now(file)
        saved = data if base and base == self.shelf.now(file) else b""
        while len(self._open) >= MOST_OPEN:
            del self._open[next(iter(self._open))]
        self._open[file] = Open(file, draft, base, saved)
        return self._open[file]

    def _started(self, event: Event) -> str:
        """A new house of a type or without rooms; its draft is kept at once."""
        name = event.text("name", 60).strip()
        system = System.SI if event.text("units", 4) == "SI" else System.US
        kind = event.text("type", 40)
        text = (
            blank(name or "New house", system)
            if kind == "blank"
            else of_type(kind, event.text("area", 20), system, name)
        )
        draft = draft_of(text.encode(), "new.toml")
        if code := event.text("zip", 12).strip():
            draft = replace(draft.after(zip_edits(draft.raw, code)), past=(), version=0)
        if built := event.text("built", 6).strip():
            if not (built.isascii() and built.isdigit()):
                raise EditError("Type the year as four figures.")
            draft = replace(draft.after([Set(("house", "built"), int(built))]), past=(), version=0)
        file = self.shelf.free_file(name or str(draft.raw["house"]["name"]))
        self._open[file] = Open(file, draft, "", b"")
        self._keep(self._open[file])
        return file

    def _discard(self, look: Look) -> Look:
        """Give a draft up: the file as it is, or no house at all where it has no file."""
        opened = self._open.pop(look.file, None)
        self.shelf.drop(look.file)
        if opened is None or not self.shelf.path(look.file).exists():
            return Look(width_px=look.width_px, heard=look.heard, note="The draft is given up.")
        self._opened(look.file)
        return replace(look, note="This is the file as it is now.", conflict=False, chosen="")

    def _keep(self, opened: Open) -> None:
        try:
            if opened.dirty:
                self.shelf.keep(opened.file, opened.draft.data, opened.base)
            else:
                self.shelf.drop(opened.file)
            opened.kept = ""
        except ShelfError as error:
            opened.kept = str(error)

    # editing

    def _edit(self, look: Look, event: Event, tablet: str) -> Look:
        if not look.file:
            raise EditError("Open a house first.")
        opened = self._opened(look.file)
        if event.what == "save":
            return self._save(look, event, opened)
        if event.what == "compare":
            return self._compare(look, opened)
        if event.what == "again":
            return look
        if opened.stale(event.seen, tablet):
            raise EditError("Another tablet changed this house just now. Look again, and do it once more.")
        if event.what in {"undo", "redo"}:
            draft = opened.draft.undone() if event.what == "undo" else opened.draft.redone()
            note = {"undo": "One step back.", "redo": "Done again."}[event.what] if draft is not opened.draft else ""
            return self._took(look, opened, draft, tablet, note)
        try:
            done = act(
                opened.draft.raw,
                event,
                look.level,
                together=look.together,
                kind=look.kind(event.text("tool", 20) or look.tool),
            )
        except (KeyError, IndexError, StopIteration):
            raise EditError(GONE) from None
        except (TypeError, AttributeError):
            raise EditError("This part of the file is written in a form that cannot be changed here.") from None
        draft = opened.draft.after(done.edits)
        if done.chosen is not None:
            look = replace(look, chosen=done.chosen)
        return self._took(look, opened, draft, tablet, done.note)

    def _took(self, look: Look, opened: Open, draft: Draft, tablet: str, note: str) -> Look:
        if draft is not opened.draft:
            look = replace(look, comparing="")
            opened.draft = draft
            opened.changed = [*opened.changed[-50:], (draft.version, tablet)]
            self._keep(opened)
        chosen = look.chosen if _there(draft, look.chosen) else ""
        level = (
            look.level if look.level in names(draft.raw, "level") else next(iter(names(draft.raw, "level")), look.level)
        )
        return replace(look, note=note, chosen=chosen, level=level, conflict=False)

    def _save(self, look: Look, event: Event, opened: Open) -> Look:
        wish = event.text("name", 64).strip()
        if wish:
            file = wish if wish.endswith(".toml") else f"{wish}.toml"
            return self._save_as(look, opened, file)
        if not opened.dirty:
            return replace(look, note=f"{opened.file} is saved already.", conflict=False)
        opened.base = self.shelf.write(opened.file, opened.draft.data, opened.base)
        opened.saved = opened.draft.data
        self._keep(opened)
        return replace(look, note=f"Saved as {opened.file} at {time.strftime('%H:%M')}.", conflict=False)

    def _save_as(self, look: Look, opened: Open, file: str) -> Look:
        digest = self.shelf.write(file, opened.draft.data, "")
        self.shelf.drop(opened.file)
        self._open.pop(opened.file, None)
        self._open[file] = replace(opened, file=file, base=digest, saved=opened.draft.data, lock=RLock())
        return replace(look, file=file, note=f"Saved as {file}.", conflict=False)

    def _compare(self, look: Look, opened: Open) -> Look:
        if self.compare is None:
            raise EditError("This page was opened without a comparison.")
        if opened.dirty:
            raise EditError("Save the house first.")
        found = self.judged(opened)
        if found.mends:
            raise EditError("Mend what is listed first.")
        try:
            address = self.compare(self.shelf.path(opened.file))
        except ValueError as error:
            raise EditError(str(error)) from None
        return replace(look, comparing=address, note="The comparison has begun. It takes a minute or two.")

    # showing

    def judged(self, opened: Open) -> Judged:
        """An open draft as the program reads it; each text once."""
        text = opened.draft.text
        kept = self._judged.get(opened.file)
        if kept is None or kept[0] != text:
            kept = (text, judged(text, opened.draft.raw, opened.file, self.shelf.folder))
            self._judged = {**{key: self._judged[key] for key in list(self._judged)[-MOST_OPEN:]}, opened.file: kept}
        return kept[1]

    def opened(self, look: Look) -> Open | None:
        """The draft that a tablet works on; None before one is open."""
        with self._lock:
            try:
                return self._opened(look.file) if look.file else None
            except (ShelfError, NotReadableError, HouseFileError):
                return None

    def seen(self, look: Look) -> Seen | None:
        """What a tablet sees of its house; None before one is open."""
        opened = self.opened(look)
        if opened is None:
            return None
        with self._lock:
            draft, found = opened.draft, self.judged(opened)
        return Seen(look, opened, draft, found, self._loads.of(found, draft.text, self.shelf.folder))


def _there(draft: Draft, ref: str) -> bool:
    table, _, position = ref.partition(".")
    return bool(ref) and position.isdecimal() and int(position) in dict(items(draft.raw, table))


def _choose(look: Look, event: Event) -> Look:
    if not event.text("ref", 40):
        return replace(look, chosen="", note="")
    table, position = event.ref()
    return replace(look, chosen=f"{table}.{position}", tool="choose", note="")


def _tool(look: Look, event: Event) -> Look:
    tool = event.text("tool", 20)
    if tool not in TOOLS:
        raise NotHeardError("no such tool")
    return replace(look, tool=tool, chosen="" if tool != "choose" else look.chosen, note="")


def _level(look: Look, event: Event) -> Look:
    return replace(look, level=event.text("level", 60), chosen="", note="")


def _kind(look: Look, event: Event) -> Look:
    kinds = dict(look.kinds)
    tool = event.text("tool", 20)
    if tool not in kinds:
        raise NotHeardError("no such tool")
    kinds[tool] = event.text("kind", 30)
    return replace(look, kinds=tuple(kinds.items()), note="")


def _width(look: Look, event: Event) -> Look:
    return replace(look, width_px=min(max(event.number_at("width"), 240.0), 1400.0))


_ALSO_AFTER = frozenset({"set", "save", "again", "choose", "tool", "width", "level", "kind", "together", "compare"})
"""What means the same after the program was started again; a tap on the plan may have been on another storey."""
_LOOKS: dict[str, Callable[[Look, Event], Look]] = {
    "choose": _choose,
    "tool": _tool,
    "level": _level,
    "kind": _kind,
    "width": _width,
    "together": lambda look, event: replace(look, together=event.flag("on"), note=""),
}
