"""How long it takes to enter a house, counted in taps and keys: `python -m tests.speed.survey_entry`.

Keystroke-level model of Card, Moran and Newell, *The keystroke-level model for user performance time with interactive
systems*, Communications of the ACM 23(7), 1980: a key 0.28 s (average typist), pointing 1.1 s, moving the hand between
devices 0.4 s, mental preparation 1.35 s. On a tablet a key is a tap on glass: we take the paper's 0.50 s (random
letters); a tap is one pointing, a drag two. Every tap also waits for an answer of half a second (our judgement, worse
than measured). Measuring with the tape is not in it: these are the minutes that the page costs.

The steps are really done on the server, and the house that comes out is read and compared with the one meant.
"""

from __future__ import annotations

import shutil
import tempfile
from collections import Counter
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from compare.house.geometry import plan_of
from compare.house.plan import Plan
from compare.house.reading import read_house
from dashboard.store import new_name
from dashboard.survey.heard import Event
from dashboard.survey.work import Look, Survey

SECONDS = {"key": 0.50, "point": 1.1, "mental": 1.35, "answer": 0.5}


@dataclass
class Surveyor:
    """Somebody with a tablet, counted."""

    survey: Survey
    name: str = field(default_factory=new_name)
    events: int = 0
    counts: Counter[str] = field(default_factory=Counter)

    def count(self, *, taps: int = 0, drags: int = 0, typed: str = "", thinks: int = 1) -> None:
        """Add a step: thinking, taps, drags, keys; a tap on a field before typing is counted as a tap."""
        self.counts += Counter(mental=thinks, point=taps + 2 * drags, key=len(typed), answer=1, taps=taps, drags=drags)

    def say(self, what: str, **parts: Any) -> Look:
        """What the page says to the server for it."""
        self.events += 1
        opened = self.survey.opened(self.survey.look(self.name))
        event = Event(self.events, what, opened.draft.version if opened else -1, parts)
        look = self.survey.hear(self.name, (event,))
        if look.wrong:
            raise RuntimeError(f"{what} {parts}: {look.note}")
        return look

    def tool(self, tool: str) -> None:
        """Choose what a tap on the plan does."""
        self.count(taps=1)
        self.say("tool", tool=tool)

    def tap(self, tool: str, x_u: float, y_u: float) -> Look:
        """Tap the plan."""
        self.count(taps=1)
        return self.say("tap", tool=tool, at=[x_u, y_u])

    def type_in(self, loc: str, text: str, thinks: int = 1) -> None:
        """Tap a field, type, leave it."""
        self.count(taps=1, typed=text, thinks=thinks)
        self.say("set", loc=loc, value=text)

    def pick(self, loc: str, value: str) -> None:
        """Choose from a list: open it, choose."""
        self.count(taps=2)
        self.say("set", loc=loc, value=value)

    def press(self, loc: str, value: str) -> None:
        """Tap one of several words."""
        self.count(taps=1)
        self.say("set", loc=loc, value=value)

    @property
    def seconds(self) -> float:
        """By the model."""
        return sum(self.counts[name] * each for name, each in SECONDS.items())

    def begin(self, kind: str, name: str, zip_code: str, built: str) -> None:
        """Fill in the first screen."""
        self.count(taps=2)
        for text in (name, zip_code, built):
            self.count(taps=1, typed=text)
        self.count(taps=1)
        self.say("start", type=kind, name=name, zip=zip_code, built=built, area="", units="US")

    def last(self, table: str) -> int:
        """Position of the thing that was added last."""
        opened = self.survey.opened(self.survey.look(self.name))
        assert opened is not None
        return len(opened.draft.raw[table]) - 1


ROOMS = (
    ("living", "Open living", "22", "26", "", "E"),
    ("bedroom", "Bedroom 2", "12", "11", "Open living", "E"),
    ("bedroom", "Bedroom 3", "12", "11", "Bedroom 2", "E"),
    ("hall", "", "24", "3.5", "Bedroom 2", "N"),
    ("laundry", "", "5", "11.5", "Hall", "N"),
    ("bath", "", "7", "11.5", "Laundry", "E"),
    ("bedroom", "Bedroom 1", "12", "11.5", "Bath", "E"),
)
"""Use, name, width, depth, beside which room and on which side: the ranch of the demo house, as somebody types it."""
WINDOWS = (
    (8, 0, "12", "4"),
    (0, 10, "5", "4"),
    (8, 26, "6", "4"),
    (40, 26, "3.75", "4"),
    (46, 22, "3", "4"),
    (30, 26, "2", "3"),
    (28, 0, "3.75", "4"),
    (40, 0, "3.75", "4"),
    (46, 6, "2.5", "4"),
)
DOORS = ((40, 14.5), (30.5, 14.5), (24.5, 14.5), (28, 11), (40, 11), (15, 0), (15, 26))


def from_nothing(folder: Path) -> tuple[Surveyor, Plan]:
    """The demo ranch typed and tapped from an empty plan."""
    one = Surveyor(Survey(folder))
    one.begin("blank", "Ranch typed", "23150", "1956")
    one.count(taps=1)
    for use, name, wide, deep, beside, side in ROOMS:
        one.count(taps=2)  # use
        for text in (name, wide, deep):
            one.count(taps=bool(text), typed=text)
        one.count(taps=2 * (side != "E"), thinks=0)
        one.count(taps=2 * bool(beside))
        one.count(taps=1, thinks=0)
        values = {"use": use, "name": name, "wide": wide, "deep": deep, "beside": beside, "side": side}
        one.say("add", form="room", values=values)
    one.tool("window")
    for x_u, y_u, wide, high in WINDOWS:
        one.tap("window", x_u, y_u)
        at = one.last("window")
        for key, text, usual in (("width", wide, "3"), ("height", high, "4")):
            if text != usual:
                one.type_in(f"window.{at}.{key}", text)
    one.tool("door")
    for x_u, y_u in DOORS:
        one.tap("door", x_u, y_u)
        one.count(thinks=1)  # asks how it stands at night
    one.tool("opening")
    one.tap("opening", 22, 12.75)
    one.type_in(f"opening.{one.last('opening')}.width", "42 in")
    one.tool("bed")
    for x_u, y_u, sleepers in ((35, 21, "2"), (23, 5, ""), (35, 5, "")):
        one.tap("bed", x_u, y_u)
        if sleepers:
            one.type_in(f"bed.{one.last('bed')}.sleepers", sleepers)
    one.tool("seat")
    one.tap("seat", 10, 8)
    one.tap("seat", 15, 20)
    one.press(f"seat.{one.last('seat')}.kind", "table")
    one.tool("space")
    one.count(drags=1)
    one.say("draw", tool="space", **{"from": [22, 11], "to": [46, 14.5]})
    one.type_in(f"unit_space.{one.last('unit_space')}.drain_fall", "3")
    one.tool("outdoor")
    one.tap("outdoor", 47, 12)
    one.tap("outdoor", 18, 27)
    _rest(one)
    return one, plan_of(read_house(folder / "ranch_typed.toml"))


def _rest(one: Surveyor) -> None:
    """What is asked in every house, and saving."""
    for loc, text in (
        ("air.ach50", "10"),
        ("house.people", "4"),
        ("rates.electricity", "0.165"),
        ("panel.free_spaces", "10"),
    ):
        one.type_in(loc, text)
    one.pick("existing_heat.fuel", "gas")
    for key, stop in (("warm_and_even", "4"), ("quiet", "4"), ("lower_price", "3")):
        one.pick(f"priorities.{key}", stop)
    one.count(taps=3)  # sections opened on the way
    one.count(taps=1)
    one.say("save")


def adapted(folder: Path) -> tuple[Surveyor, Plan]:
    """A type of house made into the one on the spot."""
    one = Surveyor(Survey(folder))
    one.begin("one_floor_three_bedrooms", "Ranch adapted", "23150", "1956")
    one.count(taps=1)
    one.say("choose", ref="room.0")
    for loc, text in (("room.0.size.0", "22"), ("room.3.size.1", "11.5"), ("room.6.size.0", "12")):
        one.count(taps=1)  # the room
        one.type_in(loc, text)
    one.count(drags=1)
    one.say("push", ref="room.2", side="N", to=14.5)
    for door in ("3", "4"):
        one.count(taps=1)
        one.press(f"door.{door}.night", "open")
    one.tool("window")
    one.tap("window", 30, 0)
    one.type_in(f"window.{one.last('window')}.width", "5")
    _rest(one)
    return one, plan_of(read_house(folder / "ranch_adapted.toml"))


def main() -> None:
    """Print the counts and the minutes."""
    for title, way in (("From an empty plan", from_nothing), ("A type of house adapted", adapted)):
        folder = Path(tempfile.mkdtemp())
        one, plan = way(folder)
        shutil.rmtree(folder)
        told = ", ".join(f"{one.counts[name]} {name}" for name in ("taps", "drags", "key", "mental", "answer"))
        print(f"{title}: {len(plan.rooms)} rooms; {told}; {one.seconds / 60.0:.1f} minutes")


if __name__ == "__main__":
    main()
