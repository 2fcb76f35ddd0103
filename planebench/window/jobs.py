"""The job desk: everything slow is handed in here and comes back on the window's thread."""

from __future__ import annotations

import logging
import threading
from collections.abc import Callable
from dataclasses import dataclass
from typing import TypedDict, TypeVar, cast

from PySide6.QtCore import QObject, QThreadPool, QTimer, Signal
from shiboken6 import isValid
from typing_extensions import Unpack

log = logging.getLogger("planebench.jobs")
T = TypeVar("T")
Answer = Callable[[T], object]
FailureHandler = Callable[[Exception], object]

# Each long job (an import, a watched folder, an export) has a thread of its own; more of them than
# this at once would only compete for the disk.
_LONG_JOBS_AT_ONCE = 4
# Ended jobs are let go this often: seldom enough to cost nothing, often enough that few wait.
_RELEASE_EVERY_MS = 100


class Stopped(Exception):  # noqa: N818 (not an error: the person asked for it)
    """Raised inside a job when the person pressed Stop, or when its answer is no longer wanted."""


def _nothing(_value: object) -> None:
    """Do nothing."""


class Job(QObject):
    """One piece of work. The work is called with its job, off the window's thread.

    Signals: `progressed(text, done, total)`; `reported(object)` with what the work reports while it
    runs; `stopped()`; `ended()` whatever the outcome.
    Inside the work nothing may touch a widget: take values out of widgets before.
    """

    progressed = Signal(str, int, int)
    reported = Signal(object)
    stopped = Signal()
    ended = Signal()
    _answered = Signal(object)
    _failed = Signal(object)

    def __init__(
        self, work: Callable[[Job], object], text: str, receiver: _Receiver, *, writes: bool
    ) -> None:
        super().__init__()
        self.text = text
        self.writes = writes
        self._work = work
        self._receiver = receiver
        self._stop = threading.Event()
        self._over = threading.Event()
        self._progress = ("", 0, 0)
        # The job lives on the window's thread, so its own methods are called there.
        self._answered.connect(self._pass_answer)
        self._failed.connect(self._pass_failure)
        self.ended.connect(self._finish)

    @property
    def stop_asked(self) -> bool:
        """True once `stop` was called."""
        return self._stop.is_set()

    @property
    def over(self) -> bool:
        """True once the work has ended, whatever the outcome."""
        return self._over.is_set()

    @property
    def progress(self) -> tuple[str, int, int]:
        """The last progress that the work reported: text, done, total."""
        return self._progress

    def stop(self) -> None:
        """Ask the work to end at its next step; what it has written stays."""
        self._stop.set()

    def step(self, done: int, total: int, text: str = "") -> None:
        """Report progress; called by the work between two items. Raise Stopped if it was asked."""
        if self._stop.is_set():
            raise Stopped
        self._progress = (text or self.text, done, total)
        self.progressed.emit(*self._progress)

    def run(self) -> None:
        """Do the work; called by the desk's pool."""
        try:
            if self._stop.is_set():
                raise Stopped  # noqa: TRY301 (stopped while it waited: treated like any other stop)
            answer = self._work(self)
        except Stopped:
            self.stopped.emit()
        except Exception as error:  # noqa: BLE001 (handed on whole, to where it is shown or logged)
            self._failed.emit(error)
        else:
            self._answered.emit(answer)
        finally:
            self._over.set()
            self.ended.emit()

    def _pass_answer(self, answer: object) -> None:
        if self._receiver.lives:
            self._receiver.done(answer)

    def _pass_failure(self, error: Exception) -> None:
        if self._receiver.lives:
            self._receiver.failed(error)

    def _finish(self) -> None:
        receiver = self._receiver
        self._work = _nothing
        self._receiver = _Receiver(done=_nothing, failed=_nothing, over=_nothing, owner=None)
        receiver.over(self)


class JobOptions(TypedDict, total=False):
    """What a job may have besides its work and the receiver of its answer.

    `failed` gets a failure in place of the desk; `on_report`, a method of a QObject, gets what the
    work reports while it runs; once `owner` is deleted nobody is called; `text` says in the status
    bar what is being done.
    """

    failed: FailureHandler | None
    on_report: Answer[object] | None
    owner: QObject | None
    text: str


@dataclass(frozen=True, slots=True)
class _Running:
    """A job that was started. `left` is set once the worker thread holds nothing of it any more."""

    job: Job
    left: threading.Event


class JobDesk(QObject):
    """Lives as long as the program. One writer at a time; readers side by side.

    Signals: `begun(Job)` when work is handed in; `troubled(Exception)` for each failure that the
    one who handed the work in does not handle.
    An answer comes on the window's thread. It is dropped once `owner` is deleted (or, without an
    owner, the object whose bound method is to be called).
    """

    begun = Signal(object)
    troubled = Signal(object)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._writing = QThreadPool(self)
        self._writing.setMaxThreadCount(1)
        self._reading = QThreadPool(self)
        # Long work has threads of its own, so that it does not hold up short questions.
        self._long = QThreadPool(self)
        self._long.setMaxThreadCount(_LONG_JOBS_AT_ONCE)
        self._open: list[_Running] = []
        self._ended: list[_Running] = []
        self._release = QTimer(self)
        self._release.setInterval(_RELEASE_EVERY_MS)
        self._release.timeout.connect(self._release_ended)

    def edit(
        self, work: Callable[[Job], T], *, done: Answer[T], **options: Unpack[JobOptions]
    ) -> Job:
        """Hand in work that writes; such jobs run one after another, in the order handed in."""
        return self._start(self._make_job(work, done, options, writes=True), self._writing)

    def read(
        self, work: Callable[[Job], T], *, done: Answer[T], **options: Unpack[JobOptions]
    ) -> Job:
        """Hand in work that only asks; such jobs run side by side.

        With a `text` it is long work, which does not hold up the rest.
        """
        job = self._make_job(work, done, options, writes=False)
        return self._start(job, self._long if job.text else self._reading)

    @property
    def open_jobs(self) -> tuple[Job, ...]:
        """What is waiting or running, oldest first."""
        return tuple(running.job for running in self._open)

    def close(self, timeout_ms: int = 5000) -> bool:
        """Stop all and wait; False if something still ran after the time. Writing is finished."""
        for job in self.open_jobs:
            job.stop()
        return all(
            pool.waitForDone(timeout_ms) for pool in (self._writing, self._reading, self._long)
        )

    def _make_job(
        self, work: Callable[[Job], T], done: Answer[T], options: JobOptions, *, writes: bool
    ) -> Job:
        receiver = self._receiver(done, options)
        job = Job(work, options.get("text", ""), receiver, writes=writes)
        on_report = options.get("on_report")
        if on_report is not None:
            job.reported.connect(on_report)
        return job

    def _receiver(self, done: Answer[T], options: JobOptions) -> _Receiver:
        owner = options.get("owner")
        return _Receiver(
            done=cast("Answer[object]", done),
            failed=options.get("failed") or self.troubled.emit,
            over=self._job_over,
            owner=owner if owner is not None else getattr(done, "__self__", None),
        )

    def _start(self, job: Job, pool: QThreadPool) -> Job:
        # Connected before the start: a quick answer would be lost otherwise.
        left = threading.Event()
        self._open.append(_Running(job, left))
        self.begun.emit(job)
        pool.start(_worker(job, left))
        return job

    def _job_over(self, job: Job) -> None:
        over = next(running for running in self._open if running.job is job)
        self._open.remove(over)
        self._ended.append(over)
        # Not at once: this is called by the job's own signal, which others have still to receive.
        # The last answers may come after the window was closed, and the desk's timer with it.
        if isValid(self._release) and not self._release.isActive():
            self._release.start()

    def _release_ended(self) -> None:
        """Let ended jobs go that their worker thread has left, so that they are deleted here.

        A Qt object whose last reference went on a worker thread would be deleted there while the
        window's thread still delivers its signals, which ends the program now and then.
        """
        self._ended = [running for running in self._ended if not running.left.is_set()]
        if not self._ended:
            self._release.stop()


def _worker(job: Job, left: threading.Event) -> Callable[[], None]:
    """Return what the pool calls: it runs the job, lets go of it, and then sets `left`."""
    held = [job]

    def run() -> None:
        held.pop().run()
        left.set()

    return run


@dataclass(frozen=True, slots=True, kw_only=True)
class _Receiver:
    """Who gets the answer, and whether there is still someone to get it."""

    done: Answer[object]
    failed: FailureHandler
    over: Callable[[Job], object]
    owner: object

    @property
    def lives(self) -> bool:
        return not isinstance(self.owner, QObject) or isValid(self.owner)


class LatestRead:
    """Asks again and again; only the answer to the newest request is passed on.

    For what a person changes faster than it can be answered: a search word, a selected row.
    """

    def __init__(self, desk: JobDesk, owner: QObject) -> None:
        self._desk = desk
        self._owner = owner
        self._newest: Job | None = None

    def ask(
        self, work: Callable[[Job], T], *, done: Answer[T], failed: FailureHandler | None = None
    ) -> None:
        """Ask; the request before is stopped and its answer dropped."""
        if self._newest is not None and isValid(self._newest):
            self._newest.stop()
        asked: list[Job] = []

        def pass_on(answer: T) -> None:
            if asked[0] is self._newest:
                done(answer)

        asked.append(self._desk.read(work, done=pass_on, failed=failed, owner=self._owner))
        self._newest = asked[0]


class Throttle(QObject):
    """Thins out requests that rush in: the first at once, then the last one after a pause."""

    def __init__(self, pause_ms: int, parent: QObject) -> None:
        super().__init__(parent)
        self._waiting: Callable[[], object] | None = None
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setInterval(pause_ms)
        self._timer.timeout.connect(self._pause_over)

    def ask(self, call: Callable[[], object]) -> None:
        """Make the call now, or after the pause if no later one takes its place."""
        if self._timer.isActive():
            self._waiting = call
            return
        self._timer.start()
        call()

    def _pause_over(self) -> None:
        call, self._waiting = self._waiting, None
        if call is not None:
            self.ask(call)
