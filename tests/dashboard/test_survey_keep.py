"""Nothing is lost and nothing else is touched: the folder, drafts on disk, saving, several tablets.

After OWASP ASVS 5.0.0: 5.3.2 (file names checked), 2.2.1 (input checked on the server).
"""

from __future__ import annotations

import os
import shutil
import signal
import subprocess
import sys
import textwrap
import tomllib
from pathlib import Path
from typing import Any

import pytest

from compare.house.reading import read_house
from dashboard.store import new_name
from dashboard.survey.heard import Event, NotHeardError, events_of
from dashboard.survey.shelf import HIDDEN, MOST_KEPT, ChangedError, Shelf, ShelfError, file_name_for
from dashboard.survey.work import Look, Survey

OUTSIDE = (
    "../ranch.toml",
    "/etc/passwd",
    "..\\x.toml",
    "a/b.toml",
    ".hidden.toml",
    "ranch.toml\x00",
    "ranch",
    "",
    "x" * 80 + ".toml",
    "ranch.toml/..",
    "...toml",
    "a..toml",
    "ranch.TOML",
    None,
    7,
    ["ranch.toml"],
)


@pytest.fixture
def folder(tmp_path: Path, scenarios: Path) -> Path:
    own = tmp_path / "houses"
    own.mkdir()
    for name in ("ranch", "cabin"):
        shutil.copy(scenarios / f"{name}.toml", own)
    return own


class Tablet:
    """A tablet that says one thing after another."""

    def __init__(self, survey: Survey) -> None:
        self.survey, self.name, self.count = survey, new_name(), 0

    def say(self, what: str, **parts: Any) -> Look:
        self.count += 1
        look = self.survey.look(self.name)
        opened = self.survey.opened(look)
        return self.survey.hear(self.name, (Event(self.count, what, opened.draft.version if opened else -1, parts),))

    @property
    def text(self) -> str:
        opened = self.survey.opened(self.survey.look(self.name))
        assert opened is not None
        return opened.draft.text


@pytest.mark.parametrize("name", OUTSIDE)
def test_names_that_lead_elsewhere_are_refused(folder: Path, name: Any) -> None:
    shelf = Shelf(folder)
    for use in (
        shelf.path,
        shelf.read,
        shelf.kept,
        lambda n: shelf.write(n, b"", ""),
        lambda n: shelf.keep(n, b"", ""),
    ):
        with pytest.raises(ShelfError):
            use(name)
    assert sorted(path.name for path in folder.parent.iterdir()) == ["houses"]


def test_links_are_not_followed(folder: Path, tmp_path: Path) -> None:
    secret = tmp_path / "secret.toml"
    secret.write_text("x = 1")
    (folder / "link.toml").symlink_to(secret)
    shelf = Shelf(folder)
    assert "link.toml" not in shelf.names()
    with pytest.raises(ShelfError):
        shelf.write("link.toml", b"y = 2", shelf_digest(secret))
    assert secret.read_text() == "x = 1"


def shelf_digest(path: Path) -> str:
    from dashboard.survey.draft.history import digest

    return digest(path.read_bytes())


@pytest.mark.parametrize("house", ["Ranch", "Smith's house / 12", "", "Ünï", "../../x", "a" * 90])
def test_every_house_name_gives_a_file_name_of_this_folder(folder: Path, house: str) -> None:
    shelf = Shelf(folder)
    assert shelf.path(file_name_for(house)).parent == folder
    assert shelf.free_file(house) not in shelf.names()


def test_saving_changes_the_file_and_keeps_the_old_one(folder: Path) -> None:
    old = (folder / "ranch.toml").read_bytes()
    tablet = Tablet(Survey(folder))
    tablet.say("open", file="ranch.toml")
    tablet.say("set", loc="room.0.use", value="kitchen")
    look = tablet.say("save")
    assert look.note.startswith("Saved as ranch.toml")
    assert read_house(folder / "ranch.toml").rooms[0].use.value == "kitchen"
    kept = list((folder / HIDDEN / "before").iterdir())
    assert [path.read_bytes() for path in kept] == [old]
    assert not (folder / HIDDEN / "drafts" / "ranch.toml").exists()
    assert sorted(path.name for path in folder.iterdir()) == [HIDDEN, "cabin.toml", "ranch.toml"]


def test_old_versions_are_bounded(folder: Path) -> None:
    shelf = Shelf(folder)
    base = shelf.now("ranch.toml")
    for step in range(MOST_KEPT + 4):
        base = shelf.write("ranch.toml", f"x = {step}\n".encode(), base)
    assert len(list((folder / HIDDEN / "before").iterdir())) == MOST_KEPT


def test_a_file_changed_by_somebody_else_is_not_overwritten(folder: Path) -> None:
    tablet = Tablet(Survey(folder))
    tablet.say("open", file="ranch.toml")
    tablet.say("set", loc="house.people", value="3")
    theirs = (folder / "ranch.toml").read_text() + "\n# by hand\n"
    (folder / "ranch.toml").write_text(theirs)
    look = tablet.say("save")
    assert look.conflict
    assert "changed by somebody else" in look.note
    assert (folder / "ranch.toml").read_text() == theirs
    look = tablet.say("save", name="cabin")
    assert look.conflict
    assert "exists already" in look.note
    look = tablet.say("save", name="ranch mine")
    assert (look.file, look.conflict) == ("ranch mine.toml", False)
    assert tomllib.loads((folder / "ranch mine.toml").read_text())["house"]["people"] == 3
    assert (folder / "ranch.toml").read_text() == theirs


def test_the_file_as_it_is_now_can_be_taken_instead(folder: Path) -> None:
    tablet = Tablet(Survey(folder))
    tablet.say("open", file="ranch.toml")
    tablet.say("set", loc="house.people", value="3")
    (folder / "ranch.toml").write_text((folder / "cabin.toml").read_text())
    tablet.say("save")
    tablet.say("discard")
    assert tablet.text == (folder / "cabin.toml").read_text()


KILLED = """
import sys
from pathlib import Path
from dashboard.store import new_name
from dashboard.survey.heard import Event
from dashboard.survey.work import Survey
survey, name = Survey(Path(sys.argv[1])), new_name()
survey.hear(name, (Event(1, "open", -1, {"file": "ranch.toml"}),))
for step in range(2, 10_000):
    survey.hear(name, (Event(step, "set", 10**9, {"loc": "house.people", "value": str(step % 30)}),))
    print(step % 30, flush=True)
"""


def test_a_killed_server_loses_no_step_that_it_answered(folder: Path) -> None:
    before = (folder / "ranch.toml").read_bytes()
    with subprocess.Popen(
        [sys.executable, "-c", textwrap.dedent(KILLED), str(folder)], stdout=subprocess.PIPE, text=True, cwd=Path.cwd()
    ) as child:
        assert child.stdout is not None
        lines = [child.stdout.readline() for _ in range(12)]
        os.kill(child.pid, signal.SIGKILL)
        lines += child.stdout.readlines()
    told = [int(line) for line in lines if line.endswith("\n") and line.strip()]
    tablet = Tablet(Survey(folder))
    look = tablet.say("open", file="ranch.toml")
    assert "not saved yet" in look.note
    found = tomllib.loads(tablet.text)["house"]["people"]
    assert found in {told[-1], (told[-1] + 1) % 30}
    assert (folder / "ranch.toml").read_bytes() == before


def test_a_tablet_goes_on_after_the_program_was_started_again(folder: Path) -> None:
    first = Tablet(Survey(folder))
    first.say("open", file="ranch.toml")
    first.say("set", loc="house.people", value="3")
    first.survey = Survey(folder)
    look = first.say("set", loc="rates.gas", value="2", here="ranch.toml")
    assert (look.file, look.wrong) == ("ranch.toml", False)
    assert "people = 3" in first.text
    assert "gas = 2" in first.text
    first.survey = Survey(folder)
    look = first.say("tap", tool="bed", at=[3, 3], here="ranch.toml")
    assert look.wrong
    assert "started again" in look.note
    assert first.survey.look(first.name).file == "ranch.toml"
    assert not first.say("tap", tool="bed", at=[3, 3], here="ranch.toml").wrong


def test_a_new_house_is_kept_before_it_is_saved(folder: Path) -> None:
    first = Tablet(Survey(folder))
    first.say("start", type="cabin", name="Lake cabin", zip="80401", area="", built="1990", units="US")
    first.say("set", loc="house.people", value="2")
    second = Tablet(Survey(folder))
    assert "lake_cabin.toml" in second.survey.shelf.drafts()
    second.say("open", file="lake_cabin.toml")
    assert second.text == first.text
    second.say("save")
    assert read_house(folder / "lake_cabin.toml").house.people == 2


def test_two_tablets_share_a_draft_and_never_undo_each_other_unseen(folder: Path) -> None:
    survey = Survey(folder)
    one, other = Tablet(survey), Tablet(survey)
    for tablet in (one, other):
        tablet.say("open", file="ranch.toml")
    shared = survey.opened(survey.look(other.name))
    assert shared is not None
    shown = shared.draft.version
    one.say("set", loc="house.people", value="3")
    late = Event(other.count + 1, "set", shown, {"loc": "house.people", "value": "5"})
    look = survey.hear(other.name, (late,))
    assert look.wrong
    assert "Another tablet" in look.note
    other.count += 1
    other.say("set", loc="house.people", value="5")
    assert tomllib.loads(one.text)["house"]["people"] == 5


def test_each_event_is_done_once(folder: Path) -> None:
    survey = Survey(folder)
    tablet = Tablet(survey)
    tablet.say("open", file="ranch.toml")
    event = Event(2, "add", 0, {"form": "level", "values": {"name": ""}})
    for _ in range(3):
        survey.hear(tablet.name, (event,))
    assert [level["name"] for level in tomllib.loads(tablet.text)["level"]] == ["ground", "upper"]


def test_what_was_meant_for_a_thing_that_moved_up_is_refused(folder: Path) -> None:
    tablet = Tablet(Survey(folder))
    tablet.say("open", file="ranch.toml")
    mark = '"Bedroom 1"|"N"'
    assert not tablet.say("set", loc="window.3.count", value="2", mark=mark).wrong
    tablet.say("remove", ref="window.0", mark='"Open living"|"S"')
    look = tablet.say("set", loc="window.3.count", value="3", mark=mark)
    assert look.wrong
    assert "count = 3" not in tablet.text


BAD = (
    7,
    "x",
    {},
    {"events": 1},
    {"events": [1]},
    {"events": [{}]},
    {"events": [{"number": 1, "what": "format"}]},
    {"events": [{"number": True, "what": "undo"}]},
    {"events": [{"number": 1, "what": "undo", "seen": "x"}]},
    {"events": [{"number": 1, "what": "undo"}] * 41},
)


@pytest.mark.parametrize("said", BAD)
def test_what_the_page_does_not_say_is_not_heard(said: Any) -> None:
    with pytest.raises(NotHeardError):
        events_of(said)


PARTS: tuple[tuple[str, dict[str, Any]], ...] = (
    ("draw", {"from": [0, 0], "to": [1e9, 1]}),
    ("draw", {"from": "x", "to": [1, 1]}),
    ("tap", {"tool": "erase", "at": [1, 1]}),
    ("tap", {"tool": "door", "at": [float("nan"), 1]}),
    ("move", {"ref": "house.1", "by": [1, 1]}),
    ("set", {"loc": "__class__", "value": "1"}),
    ("set", {"loc": "room.0.serves", "value": "1"}),
    ("remove", {"ref": "room.99999"}),
    ("add", {"form": "cost", "values": {}}),
    ("add", {"form": "room", "values": {"use": "throne"}}),
    ("together", {"on": "yes"}),
    ("tool", {"tool": "x"}),
    ("set", {"loc": "door.0.between", "value": "x"}),
    ("choose", {"ref": "../x"}),
    ("set", {"loc": "house.name", "value": ["x"]}),
)


@pytest.mark.parametrize(("what", "parts"), PARTS)
def test_parts_of_another_shape_change_nothing(folder: Path, what: str, parts: dict[str, Any]) -> None:
    tablet = Tablet(Survey(folder))
    tablet.say("open", file="ranch.toml")
    before = tablet.text
    try:
        look = tablet.say(what, **parts)
        assert look.wrong
    except NotHeardError:
        pass
    assert tablet.text == before


def test_a_folder_that_cannot_be_written_is_told_and_the_draft_stays_in_memory(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(*_args: object, **_named: object) -> None:
        raise PermissionError(13, "Permission denied")

    tablet = Tablet(Survey(folder))
    tablet.say("open", file="ranch.toml")
    monkeypatch.setattr("dashboard.survey.shelf._temporary", refuse)
    tablet.say("set", loc="house.people", value="3")
    opened = tablet.survey.opened(tablet.survey.look(tablet.name))
    assert opened is not None
    assert "permission denied" in opened.kept
    assert "people = 3" in tablet.text
    assert "permission denied" in tablet.say("save").note
    with pytest.raises(ChangedError):
        Shelf(folder).write("ranch.toml", b"", "0" * 64)
