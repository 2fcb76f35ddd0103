"""What the program has to tell a person, carried to wherever it is shown."""

from __future__ import annotations

import logging
from collections.abc import Callable
from dataclasses import dataclass
from enum import Enum

from PySide6.QtCore import QObject

from planebench.errors import PlanebenchError

log = logging.getLogger("planebench.notices")


class Tone(Enum):
    """How a message is meant."""

    ADVICE = "advice"
    TROUBLE = "trouble"


@dataclass(frozen=True, slots=True, kw_only=True)
class Offer:
    """What a message offers to do, in the words of its act."""

    words: str
    act: Callable[[], object]


@dataclass(frozen=True, slots=True, kw_only=True)
class Notice:
    """A message: what happened, to which file or field, what to do, and what it offers to do."""

    tone: Tone
    happened: str
    remedy: str = ""
    subject: str = ""
    offer: Offer | None = None

    @property
    def text(self) -> str:
        """The whole message in one piece, for copying."""
        return " ".join(part for part in (self.happened, self.remedy) if part)


class Notices(QObject):
    """Anyone may tell; what is told before a window exists waits for it."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._waiting: list[Notice] = []
        self._show: Callable[[Notice], object] | None = None

    def advise(
        self, happened: str, *, remedy: str = "", subject: str = "", offer: Offer | None = None
    ) -> None:
        """Tell something worth knowing."""
        tone = Tone.ADVICE
        self._tell(
            Notice(tone=tone, happened=happened, remedy=remedy, subject=subject, offer=offer)
        )

    def trouble(self, error: Exception) -> None:
        """Tell what failed: a PlanebenchError in its own words, a fault of ours as such."""
        if isinstance(error, PlanebenchError):
            log.info("told: %s (%s)", error, error.subject)
            notice = Notice(
                tone=Tone.TROUBLE,
                happened=error.happened,
                remedy=error.remedy,
                subject=error.subject,
            )
        else:
            log.error("a fault of the program", exc_info=error)
            notice = Notice(
                tone=Tone.TROUBLE,
                happened=f"The program made a mistake: {type(error).__name__}: {error}",
                remedy="What was written down before is kept. Copy this message and report it.",
            )
        self._tell(notice)

    def show_with(self, show: Callable[[Notice], object]) -> None:
        """Return every message, those that waited first, to `show` from now on."""
        self._show = show
        waiting, self._waiting = self._waiting, []
        for notice in waiting:
            show(notice)

    def _tell(self, notice: Notice) -> None:
        if self._show is None:
            self._waiting.append(notice)
        else:
            self._show(notice)
