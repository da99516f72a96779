"""Long answers: told while they last, shared by those who wait, called off when nobody does."""

from __future__ import annotations

import threading
from typing import Any

import pytest

from compare.views.customer import CustomerView
from dashboard.errands import Errands
from dashboard.session import Pending, Question
from tests.dashboard.double import SampleSource, sample_answer


class Desk:
    """Works in steps that the test lets go one by one."""

    def __init__(self, steps: int = 3) -> None:
        self.steps, self.begun, self.done = steps, 0, 0
        self.go = threading.Semaphore(0)
        self.stopped = threading.Event()

    def __call__(self, question: Question, tell: Any) -> CustomerView:
        self.begun += 1
        try:
            for step in range(self.steps):
                tell("years", step, self.steps)
                assert self.go.acquire(timeout=30.0)
                self.done = step + 1
            tell("years", self.steps, self.steps)
        except BaseException:
            self.stopped.set()
            raise
        return sample_answer(question)


@pytest.fixture
def question() -> Question:
    return SampleSource().now.question


def test_a_quick_answer_comes_at_once(question: Question) -> None:
    desk = Desk(steps=0)
    assert isinstance(Errands(desk).ask(question, "a", 30.0), CustomerView)


def test_a_long_answer_is_told_and_then_fetched(question: Question) -> None:
    desk = Desk()
    errands = Errands(desk)
    first = errands.ask(question, "a", 0.05)
    assert isinstance(first, Pending)
    assert not errands.quiet.is_set()
    assert isinstance(errands.ask(question, "b", 0.0), Pending)
    desk.go.release(3)
    assert isinstance(errands.ask(question, "a", 30.0), CustomerView)
    assert isinstance(errands.ask(question, "b", 30.0), CustomerView)
    assert desk.begun == 1
    assert errands.quiet.wait(30.0)


def test_the_work_stops_when_nobody_waits_and_not_before(question: Question) -> None:
    desk = Desk()
    errands = Errands(desk)
    for who in ("a", "b"):
        assert isinstance(errands.ask(question, who, 0.05), Pending)
    errands.leave("a", question)
    desk.go.release()
    assert not desk.stopped.wait(0.2)
    errands.leave("b", question)
    desk.go.release()
    assert desk.stopped.wait(30.0)
    assert desk.done < desk.steps
    assert errands.quiet.wait(30.0)
    desk.go.release(desk.steps)
    assert isinstance(errands.ask(question, "a", 30.0), CustomerView)
    assert desk.begun == 2


def test_a_failure_is_told_and_may_be_tried_again(question: Question, caplog: pytest.LogCaptureFixture) -> None:
    asked: list[int] = []

    def broken(question: Question, _tell: Any) -> CustomerView:
        asked.append(1)
        if len(asked) == 1:
            raise KeyError("inside")
        return sample_answer(question)

    errands = Errands(broken)
    with pytest.raises(RuntimeError, match="could not be worked out"):
        errands.ask(question, "a", 30.0)
    assert "inside" in caplog.text
    assert isinstance(errands.ask(question, "a", 30.0), CustomerView)
