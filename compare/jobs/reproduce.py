"""Working a frozen proposal out again: is it identical, is the ranking the same, and if not, what differs."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path
from typing import Any

from compare.jobs.canonical import digest_of, plain, sha256_of
from compare.jobs.fingerprint import program
from compare.jobs.given import Given
from compare.jobs.record import RecordError, inputs_of, read_record
from compare.jobs.results import result_rows
from compare.offer import Progress
from compare.scoring.weights import weights_from_priorities

TOLERANCE_FRAC = 1.01e-9
"""Numbers are written to ten digits: one step of the last of them is at most a part in a billion."""
MOST_NAMED = 12
LONGEST_SHOWN = 60


class Answer(StrEnum):
    """What a proposal is when it is worked out again."""

    IDENTICAL = "identical"
    SAME_RANKING = "same ranking"
    DIFFERENT_INPUTS = "different inputs"
    DIFFERENT_PROGRAM = "different program"
    DIFFERENT_RESULTS = "different results"
    """Same inputs and program, another answer: a fault of the program or of the machine."""


@dataclass(frozen=True, slots=True)
class Reproduction:
    """The answer, and what differs: inputs, program, results."""

    answer: Answer
    inputs: tuple[str, ...]
    program: tuple[str, ...]
    results: tuple[str, ...]

    @property
    def holds(self) -> bool:
        """Whether the proposal stands as it was."""
        return self.answer in {Answer.IDENTICAL, Answer.SAME_RANKING}


def reproduce(path: Path, house: Path | None = None, progress: Progress | None = None) -> Reproduction:
    """Work a record's proposal out again from the files frozen beside it, or from another house file.

    Raises
    ------
    RecordError
        A record that cannot be read or was changed since it was written.
    HouseFileError, ValueError, OSError
        As working out a house raises.
    """
    record = read_record(path)
    then: dict[str, Any] = {name: _part(record, name) for name in ("inputs", "program", "results", "files")}
    priorities = dict(then["inputs"]["priorities"])
    given = Given.frozen(path.parent, str(then["inputs"]["house_file"]))
    if house is not None:
        given = Given(given.name, house.read_bytes(), house.parent, given.prices, given.units)
    found = given.worked_out(progress)
    rows = result_rows(found, weights_from_priorities(priorities))
    now: dict[str, Any] = {
        "inputs": plain(inputs_of(found, given, priorities)),
        "program": plain(program()),
        "results": plain(rows),
    }
    inputs = tuple(_numbers(_names_apart(then["inputs"]), _names_apart(now["inputs"]), ""))
    inputs += tuple(_changed_files(path.parent, then["files"]))
    other_program = tuple(_numbers(then["program"], now["program"], ""))
    results = tuple(_numbers(then["results"], now["results"], ""))
    answer = _answer(inputs, other_program, results, identical=digest_of(then["results"]) == digest_of(now["results"]))
    return Reproduction(answer, inputs[:MOST_NAMED], other_program[:MOST_NAMED], results[:MOST_NAMED])


def _answer(inputs: Sequence[str], other_program: Sequence[str], results: Sequence[str], *, identical: bool) -> Answer:
    if inputs:
        return Answer.DIFFERENT_INPUTS
    if identical:
        return Answer.IDENTICAL
    if not results:
        return Answer.SAME_RANKING
    return Answer.DIFFERENT_PROGRAM if other_program else Answer.DIFFERENT_RESULTS


def _part(record: Mapping[str, Any], name: str) -> Any:  # noqa: ANN401  (whatever JSON holds)
    if name not in record:
        raise RecordError(f"the record has no {name}; it was not written by this program")
    return record[name]


def _names_apart(inputs: Mapping[str, Any]) -> dict[str, Any]:
    """Inputs without the names of files: the bytes count, not what they are called."""
    return {key: value for key, value in inputs.items() if key not in {"house_file", "prices", "units"}}


def _changed_files(folder: Path, files: Mapping[str, Any]) -> Iterator[str]:
    """Files of the proposal that are not as they were written."""
    for name, digest in files.items():
        path = folder / name
        if not path.resolve().is_relative_to(folder.resolve()):
            raise RecordError(f"the record names a file outside its folder: {name}")
        if not path.is_file():
            yield f"{name}: is missing"
        elif sha256_of(path.read_bytes()) != digest:
            yield f"{name}: changed since it was written"


def _numbers(then: Any, now: Any, where: str) -> Iterator[str]:  # noqa: ANN401
    """Places at which two pieces of data differ by more than the tolerance, with both values."""
    if isinstance(then, dict) and isinstance(now, dict):
        for key in sorted(then.keys() | now.keys()):
            yield from _numbers(then.get(key), now.get(key), f"{where}.{key}" if where else key)
    elif isinstance(then, list) and isinstance(now, list) and len(then) == len(now):
        for place, (one, other) in enumerate(zip(then, now, strict=True)):
            yield from _numbers(one, other, f"{where}[{place}]")
    elif _is_number(then) and _is_number(now):
        if not math.isclose(then, now, rel_tol=TOLERANCE_FRAC, abs_tol=TOLERANCE_FRAC):
            yield f"{where}: was {then:g}, is {now:g}"
    elif then != now:
        yield f"{where}: was {_brief(then)}, is {_brief(now)}"


def _is_number(value: object) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)


def _brief(value: object) -> str:
    text = f"{value}"
    return text if len(text) <= LONGEST_SHOWN else f"{text[:LONGEST_SHOWN]}..."
