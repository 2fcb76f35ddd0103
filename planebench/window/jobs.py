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
Trouble = Callable[[Exception], object]

_MOST_LONG = 4


class Stopped(Exception):  # noqa: N818 (not an error: the person asked for it)
    """Raised inside a job when the person pressed Stop, or when its answer is no longer wanted."""


def _nothing(_told: object) -> None:
    """Do nothing."""


class Job(QObject):
    """One piece of work. The work is called with its job, off the window's thread.

    Signals: `progressed(text, done, total)`; `told(object)` with what the work gives on its way;
    `stopped()`; `ended()` whatever the outcome.
    Inside the work nothing may touch a widget: take values out of widgets before.
    """

    progressed = Signal(str, int, int)
    told = Signal(object)
    stopped = Signal()
    ended = Signal()
    _answered = Signal(object)
    _troubled = Signal(object)

    def __init__(
        self, work: Callable[[Job], object], text: str, receiver: _Receiver, parent: QObject
    ) -> None:
        super().__init__(parent)
        self.text = text
        self._work = work
        self._receiver = receiver
        self._stop = threading.Event()
        self._over = threading.Event()
        self._progress = ("", 0, 0)
        # The job lives on the window's thread, so its own methods are called there.
        self._answered.connect(self._give)
        self._troubled.connect(self._complain)
        self.ended.connect(self._take_leave)

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
        """What the work told last: text, done, total."""
        return self._progress

    def stop(self) -> None:
        """Ask the work to end at its next step; what it has written stays."""
        self._stop.set()

    def step(self, done: int, total: int, text: str = "") -> None:
        """Tell how far the work is; called by the work between two items. Raises Stopped."""
        if self._stop.is_set():
            raise Stopped
        self._progress = (text or self.text, done, total)
        self.progressed.emit(*self._progress)

    def run(self) -> None:
        """Do the work; called by the desk's pool."""
        try:
            if self._stop.is_set():
                raise Stopped  # noqa: TRY301 (stopped while it waited: told like any other stop)
            answer = self._work(self)
        except Stopped:
            self.stopped.emit()
        except Exception as error:  # noqa: BLE001 (handed on whole, to where it is told or logged)
            self._troubled.emit(error)
        else:
            self._answered.emit(answer)
        finally:
            self._over.set()
            self.ended.emit()

    def _give(self, answer: object) -> None:
        if self._receiver.lives:
            self._receiver.done(answer)

    def _complain(self, error: Exception) -> None:
        if self._receiver.lives:
            self._receiver.failed(error)

    def _take_leave(self) -> None:
        self._receiver.over(self)
        # WORKAROUND: a job that is deleted while its last reference goes ends the program now and
        # then (PySide6 6.11.3). It stays with the desk instead, without what it held.
        self._work = _nothing
        self._receiver = _Receiver(done=_nothing, failed=_nothing, over=_nothing, owner=None)


class JobOptions(TypedDict, total=False):
    """What may be said of a job besides its work and who hears the answer.

    `failed` hears of a failure in place of the desk; `heard`, a method of a QObject, of what the
    work tells on its way; once `owner` is deleted nobody is told; `text` says in the bench line
    what is being done.
    """

    failed: Trouble | None
    heard: Answer[object] | None
    owner: QObject | None
    text: str


class JobDesk(QObject):
    """Lives as long as the program. One writer at a time; readers side by side.

    Signals: `begun(Job)` when work is handed in; `troubled(Exception)` for each failure that the
    one who handed the work in does not look after himself.
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
        self._long.setMaxThreadCount(_MOST_LONG)
        self._open: list[Job] = []

    def edit(
        self, work: Callable[[Job], T], *, done: Answer[T], **terms: Unpack[JobOptions]
    ) -> Job:
        """Hand in work that writes; such jobs run one after another, in the order handed in."""
        return self._hand_in(self._made(work, done, terms), self._writing)

    def read(
        self, work: Callable[[Job], T], *, done: Answer[T], **terms: Unpack[JobOptions]
    ) -> Job:
        """Hand in work that only asks; such jobs run side by side.

        With a `text` it is long work, which does not hold up the rest.
        """
        job = self._made(work, done, terms)
        return self._hand_in(job, self._long if job.text else self._reading)

    @property
    def open_jobs(self) -> tuple[Job, ...]:
        """What is waiting or running, oldest first."""
        return tuple(self._open)

    def close(self, timeout_ms: int = 5000) -> bool:
        """Stop all and wait; False if something still ran after the time. Writing is finished."""
        for job in self.open_jobs:
            job.stop()
        return all(
            pool.waitForDone(timeout_ms) for pool in (self._writing, self._reading, self._long)
        )

    def _made(self, work: Callable[[Job], T], done: Answer[T], terms: JobOptions) -> Job:
        job = Job(work, terms.get("text", ""), self._receiver(done, terms), self)
        heard = terms.get("heard")
        if heard is not None:
            job.told.connect(heard)
        return job

    def _receiver(self, done: Answer[T], terms: JobOptions) -> _Receiver:
        owner = terms.get("owner")
        return _Receiver(
            done=cast("Answer[object]", done),
            failed=terms.get("failed") or self.troubled.emit,
            over=self._open.remove,
            owner=owner if owner is not None else getattr(done, "__self__", None),
        )

    def _hand_in(self, job: Job, pool: QThreadPool) -> Job:
        # Connected before the start: a quick answer would be lost otherwise.
        self._open.append(job)
        self.begun.emit(job)
        pool.start(job.run)
        return job


@dataclass(frozen=True, slots=True, kw_only=True)
class _Receiver:
    """Who is told, and whether there is still someone to tell."""

    done: Answer[object]
    failed: Trouble
    over: Callable[[Job], object]
    owner: object

    @property
    def lives(self) -> bool:
        return not isinstance(self.owner, QObject) or isValid(self.owner)


class LatestRead:
    """Asks again and again; only the answer to the newest request is given.

    For what a person changes faster than it can be answered: a search word, a chosen row.
    """

    def __init__(self, desk: JobDesk, owner: QObject) -> None:
        self._desk = desk
        self._owner = owner
        self._newest: Job | None = None

    def ask(
        self, work: Callable[[Job], T], *, done: Answer[T], failed: Trouble | None = None
    ) -> None:
        """Ask; what was asked before is stopped and its answer dropped."""
        if self._newest is not None and isValid(self._newest):
            self._newest.stop()
        asked: list[Job] = []

        def give(answer: T) -> None:
            if asked[0] is self._newest:
                done(answer)

        asked.append(self._desk.read(work, done=give, failed=failed, owner=self._owner))
        self._newest = asked[0]


class Throttle(QObject):
    """Thins requests that rush in: the first at once, then the last one after a pause."""

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
