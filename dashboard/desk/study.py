"""Everything the desk shows of one comparison, each part worked out once and kept. No cost and no margin in it."""

from __future__ import annotations

import logging
from collections.abc import Callable
from dataclasses import dataclass, replace
from enum import StrEnum
from functools import cached_property
from pathlib import Path
from threading import Lock, Thread
from typing import Any, Protocol

from compare.commands.air import designer_view_of
from compare.commands.tables import option_name
from compare.loads.case import load_case_of
from compare.loads.groups import RoomGroup, served_group
from compare.loads.report import LoadsReport, loads_report
from compare.options.tags import zone_tags
from compare.physics.fabric.spaces import ground_of_year
from compare.pipeline import Comparison
from compare.scoring.certainty import Certainty
from compare.scoring.ranking import Ranking
from compare.search.flips import Flip
from compare.turning_points import flips_of
from compare.units import System
from compare.views.customer import CustomerView
from compare.views.designer import DesignerView
from compare.years.bench import Result
from dashboard.desk.every import Hunt, Progress, Quick, every_layout, quick_layouts, with_full_run
from dashboard.desk.kept import Kept
from dashboard.session import Status
from proposal.words import option_name as short_name
from proposal.words import words_of

MOST_DESIGNS = 48
MOST_FULL = 400
"""Layouts of the enumeration that are run in full on request and kept."""
MOST_PAGES = 48
"""Layouts whose design and whose page are kept (our judgement: about 1 MB each)."""
_log = logging.getLogger("hplayouts.desk")


class Stage(StrEnum):
    """How far the test of a recommendation by draws is."""

    IDLE = "idle"
    DRAWING = "drawing"
    TURNING = "turning"
    DONE = "done"
    FAILED = "failed"


@dataclass(frozen=True, slots=True)
class Trial:
    """State of the test and what it found so far."""

    state: Stage = Stage.IDLE
    certainty: Certainty | None = None
    flips: tuple[Flip, ...] = ()


class Study:
    """One comparison at the desk."""

    def __init__(self, found: Comparison, tell: Callable[[], None] | None = None) -> None:
        self.origin = self.found = found
        self._tell = tell
        self._hunt = Progress()
        self._full: Kept[bool] = Kept(MOST_FULL)
        self._designs: Kept[DesignerView] = Kept(MOST_DESIGNS)
        self.pages: Kept[Any] = Kept(MOST_PAGES)
        """Whole answers of the page."""
        self._tested = Trial()
        self._lock, self._growing = Lock(), Lock()

    @property
    def units(self) -> System:
        """Units of the house file."""
        return self.found.case.house.units

    @property
    def tested(self) -> Trial:
        """The test so far."""
        with self._lock:
            return self._tested

    @cached_property
    def ranking(self) -> Ranking:
        """The order under the priorities of the house file."""
        return self.found.rank()

    @cached_property
    def customer(self) -> CustomerView:
        """What the table shows of it."""
        return self.found.customer_view()

    @cached_property
    def loads(self) -> LoadsReport:
        """Loads by every method."""
        case = self.found.case
        load_case = load_case_of(case.house, case.plan, case.design, ground_of_year(case.weather.dry_bulb_c))
        return loads_report(case.house, load_case, case.weather)

    @cached_property
    def full_names(self) -> dict[str, str]:
        """What each layout is, with its rooms, by id."""
        rooms = [room.name for room in self.found.case.plan.rooms]
        return {option.key: option_name(option, rooms) for option in self.found.options}

    @cached_property
    def names(self) -> dict[str, str]:
        """Short name of a layout where the table page gives it one, else the full name."""
        view = self.customer
        return self.full_names | {option.id: short_name(view, option, words_of()) for option in view.options}

    @property
    def first(self) -> str:
        """The layout that opens: the winner, else the first of all."""
        winner = self.ranking.winner
        return winner.option.option_id if winner else self.ranking.ranked[0].option.option_id

    def checked(self, option_id: object) -> str:
        """An id as it came from a browser; one that was only run on measures is now run in full.

        Raises
        ------
        ValueError
            For a layout that this comparison does not have.
        """
        if option_id is None:
            return self.first
        if not isinstance(option_id, str) or (option_id not in self.found.by_id and option_id not in self.quick):
            raise ValueError("no such layout")
        if option_id not in self.found.by_id:
            self._full.get(option_id, lambda: self._run_in_full(option_id))
        return option_id

    @cached_property
    def quick(self) -> dict[str, Quick]:
        """Layouts that were run on measures alone, by id, the best first."""
        return quick_layouts(self.found)

    @property
    def hunt(self) -> Progress:
        """How far the run of every layout is."""
        with self._lock:
            return self._hunt

    def search(self) -> None:
        """Run every layout that the house can have, in the background; once."""
        with self._lock:
            if self._hunt.state not in {Hunt.IDLE, Hunt.FAILED}:
                return
            self._hunt = Progress(Hunt.RUNNING)
        Thread(target=self._search, name="every layout", daemon=True).start()

    def _search(self) -> None:
        try:
            with self._growing:
                self._grow(every_layout(self.found, self._hunted))
            self._hunted(Progress(Hunt.DONE))
        except Exception:
            _log.exception("the run of every layout failed")
            self._hunted(Progress(Hunt.FAILED))

    def _hunted(self, told: Progress) -> None:
        with self._lock:
            self._hunt = told

    def _run_in_full(self, option_id: str) -> bool:
        with self._growing:
            if option_id not in self.found.by_id:
                self._grow(with_full_run(self.found, self.quick[option_id].option))
        return True

    def _grow(self, found: Comparison) -> None:
        """Take over a comparison of more layouts: what was told of the others may change with it."""
        self.found = found
        for name in ("ranking", "customer", "full_names", "names", "quick"):
            self.__dict__.pop(name, None)
        self.pages.clear()

    def result(self, option_id: str) -> Result:
        """Runs, evidence and scores of a layout."""
        return self.found.by_id[option_id]

    def zones(self, option_id: str) -> tuple[RoomGroup, ...]:
        """Rooms that each unit of a layout serves, under the unit's tag."""
        zones = self.result(option_id).option.zones
        plan = self.found.case.plan
        return tuple(served_group(plan, zone.rooms, tag) for zone, tag in zip(zones, zone_tags(zones), strict=True))

    def design(self, option_id: str, units: System | None = None) -> DesignerView:
        """The air side of a layout, told in some units (those of the house when None); the latest ones are kept."""
        system = units or self.units
        return self._designs.get((option_id, system), lambda: designer_view_of(self.told_in(system), option_id))

    def told_in(self, units: System) -> Comparison:
        """The same comparison of a house file that speaks in other units."""
        if units is self.units:
            return self.found
        case = self.found.case
        return replace(self.found, case=replace(case, house=case.house.model_copy(update={"units": units})))

    def test(self) -> None:
        """Draw the shown layouts and look for what would turn the answer, in the background; once."""
        with self._lock:
            if self._tested.state not in {Stage.IDLE, Stage.FAILED} or self.ranking.winner is None:
                return
            self._tested = Trial(Stage.DRAWING)
        Thread(target=self._run, name="certainty", daemon=True).start()

    def _run(self) -> None:
        try:
            sure = self.found.certainty()
            self._put(Trial(Stage.TURNING, sure))
            self._put(Trial(Stage.DONE, sure, flips_of(self.found)))
        except Exception:
            _log.exception("the test by draws failed")
            self._put(Trial(Stage.FAILED))

    def _put(self, tested: Trial) -> None:
        with self._lock:
            self._tested = tested
        if self._tell is not None and tested.certainty is not None:
            self._tell()


class DeskSource(Protocol):
    """Where the desk gets its comparison from."""

    def file(self) -> tuple[Path, int] | None:
        """The house file and its time when it was compared; None where nothing can be issued."""

    def status(self) -> Status:
        """How far the work is."""

    def study(self) -> Study | None:
        """The comparison of the house as its file is now read; None before there is one."""

    def open(self) -> None:
        """Read the house file and compare its layouts anew."""


class Asked(Protocol):
    """The part of a table's source that the desk reads."""

    def file(self) -> tuple[Path, int] | None:
        """The house file and its time when it was read; None before that."""

    def status(self) -> Status:
        """How far the work is."""

    def comparison(self) -> Comparison | None:
        """The first comparison of the house; None before there is one."""

    def open(self) -> None:
        """Begin anew."""

    def forget(self) -> None:
        """Drop the answers that were kept, because the same comparison now tells more."""


class HouseDesk:
    """The desk of the house that is open at the table; `warm` makes the first pages of a new study ready, behind it."""

    def __init__(self, source: Asked, warm: Callable[[Study], None] | None = None) -> None:
        self._source, self._warm = source, warm
        self._study: Study | None = None
        self._lock = Lock()

    def status(self) -> Status:
        """How far the work is."""
        return self._source.status()

    def file(self) -> tuple[Path, int] | None:
        """The house file and its time when it was compared."""
        return self._source.file()

    def study(self) -> Study | None:
        """The study of the present comparison."""
        found = self._source.comparison()
        with self._lock:
            if found is None:
                self._study = None
            elif self._study is None or self._study.origin is not found:
                self._study = Study(found, self._source.forget)
                if self._warm is not None:
                    Thread(target=self._warm, args=(self._study,), name="warm", daemon=True).start()
            return self._study

    def open(self) -> None:
        """Begin anew."""
        self._source.open()

    def sleep(self) -> None:
        """Give up the study; it is made again from the next comparison."""
        with self._lock:
            self._study = None
