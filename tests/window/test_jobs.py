"""The job desk."""

from __future__ import annotations

import threading
import weakref
from time import monotonic

import pytest
from PySide6.QtCore import QObject
from pytestqt.qtbot import QtBot

from planebench.window.jobs import Job, JobDesk, LatestRead, Throttle


class Screen(QObject):
    def __init__(self) -> None:
        super().__init__()
        self.heard: list[object] = []

    def hear(self, answer: object) -> None:
        self.heard.append((answer, threading.current_thread() is threading.main_thread()))


def test_each_of_many_quick_answers_comes_on_the_windows_thread(
    qtbot: QtBot, desk: JobDesk
) -> None:
    screen = Screen()

    for number in range(300):
        (desk.edit if number % 2 else desk.read)(lambda _job, n=number: n, done=screen.hear)

    qtbot.waitUntil(lambda: len(screen.heard) == 300)
    assert {answer for answer, _ in screen.heard} == set(range(300))
    assert all(on_window for _, on_window in screen.heard)


def test_edits_run_one_after_another_in_the_order_handed_in(qtbot: QtBot, desk: JobDesk) -> None:
    order: list[int] = []
    screen = Screen()

    for number in range(50):
        desk.edit(lambda _job, n=number: order.append(n), done=screen.hear)

    qtbot.waitUntil(lambda: len(screen.heard) == 50)
    assert order == list(range(50))


def test_a_closed_screen_is_not_called(qtbot: QtBot, desk: JobDesk) -> None:
    screen, gate = Screen(), threading.Event()
    heard = screen.heard
    job = desk.read(lambda _job: gate.wait(5), done=screen.hear)
    with qtbot.waitSignal(screen.destroyed):
        screen.deleteLater()

    with qtbot.waitSignal(job.ended):
        gate.set()

    qtbot.waitUntil(lambda: not desk.open_jobs)
    assert heard == []


def test_a_lambda_is_not_called_once_its_owner_is_gone(qtbot: QtBot, desk: JobDesk) -> None:
    owner, gate, heard = QObject(), threading.Event(), []
    desk.read(lambda _job: gate.wait(5), done=heard.append, owner=owner)
    with qtbot.waitSignal(owner.destroyed):
        owner.deleteLater()

    gate.set()

    qtbot.waitUntil(lambda: not desk.open_jobs)
    assert heard == []


def test_a_failure_goes_to_the_one_who_asked_or_else_to_the_desk(
    qtbot: QtBot, desk: JobDesk
) -> None:
    screen = Screen()

    def fail(_job: Job) -> object:
        raise OSError("disk full")

    with qtbot.waitSignal(desk.troubled) as told:
        desk.edit(fail, done=screen.hear)
    desk.edit(fail, done=screen.hear, failed=screen.hear)

    qtbot.waitUntil(lambda: len(screen.heard) == 1)
    assert str(told.args[0]) == "disk full"
    assert isinstance(screen.heard[0][0], OSError)


def test_work_tells_its_count_and_ends_at_its_next_step_when_stopped(
    qtbot: QtBot, desk: JobDesk
) -> None:
    screen = Screen()

    def endless(job: Job) -> None:
        count = 0
        while True:
            job.step(count, 0, "taking in")
            count += 1

    job = desk.edit(endless, done=screen.hear)
    qtbot.waitUntil(lambda: job.progress[1] > 3)
    with qtbot.waitSignal(job.stopped):
        job.stop()

    assert job.progress[0] == "taking in"
    assert screen.heard == []


def test_work_stopped_while_it_waits_is_never_begun(qtbot: QtBot, desk: JobDesk) -> None:
    gate, begun = threading.Event(), []
    screen = Screen()
    desk.edit(lambda _job: gate.wait(5), done=screen.hear)
    second = desk.edit(lambda _job: begun.append(1), done=screen.hear)

    with qtbot.waitSignal(second.stopped):
        second.stop()
        gate.set()

    assert begun == []


def test_only_the_newest_answer_is_given(qtbot: QtBot, desk: JobDesk) -> None:
    screen, gate = Screen(), threading.Event()
    latest = LatestRead(desk, screen)
    for number in range(20):
        latest.ask(lambda _job, n=number: (gate.wait(5), n)[1], done=screen.hear)

    gate.set()

    qtbot.waitUntil(lambda: not desk.open_jobs)
    assert [answer for answer, _ in screen.heard] == [19]


def test_requests_that_rush_in_are_thinned_to_the_first_and_the_last(qtbot: QtBot) -> None:
    owner, made = QObject(), []
    throttle = Throttle(30, owner)

    for number in range(10):
        throttle.ask(lambda n=number: made.append(n))

    assert made == [0]
    qtbot.waitUntil(lambda: made == [0, 9])


@pytest.mark.usefixtures("qapp")
def test_closing_stops_what_runs_and_waits_for_it() -> None:
    desk, running = JobDesk(), threading.Event()

    def until_stopped(job: Job) -> None:
        running.set()
        while True:
            job.step(0, 0)

    desk.edit(until_stopped, done=lambda _: None)
    assert running.wait(5)
    begun = monotonic()

    assert desk.close()
    assert monotonic() - begun < 5


def test_jobs_that_have_ended_are_let_go(qtbot: QtBot, desk: JobDesk) -> None:
    screen = Screen()
    handed_in = []

    for number in range(500):
        job = (desk.edit if number % 2 else desk.read)(lambda _job: 1, done=screen.hear)
        handed_in.append(weakref.ref(job))
    del job

    qtbot.waitUntil(lambda: len(screen.heard) == 500)
    qtbot.waitUntil(lambda: not any(ref() for ref in handed_in))
