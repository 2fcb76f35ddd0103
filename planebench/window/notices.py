"""Messages to the person, carried to wherever they are shown."""

from __future__ import annotations

import logging
from collections.abc import Callable
from dataclasses import dataclass
from enum import Enum

from PySide6.QtCore import QObject

from planebench.errors import PlanebenchError

log = logging.getLogger("planebench.notices")


class Tone(Enum):
    """Whether a message is advice or trouble."""

    ADVICE = "advice"
    TROUBLE = "trouble"


@dataclass(frozen=True, slots=True, kw_only=True)
class Offer:
    """What a message offers to do: the words on the button, and what it does."""

    words: str
    action: Callable[[], object]


@dataclass(frozen=True, slots=True, kw_only=True)
class Notice:
    """A message: what happened, to which file or field, what to do, and an offer."""

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
    """Collects messages; those sent before a window exists wait for it."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._waiting: list[Notice] = []
        self._show: Callable[[Notice], object] | None = None

    def advise(
        self, happened: str, *, remedy: str = "", subject: str = "", offer: Offer | None = None
    ) -> None:
        """Show advice."""
        tone = Tone.ADVICE
        self._send(
            Notice(tone=tone, happened=happened, remedy=remedy, subject=subject, offer=offer)
        )

    def trouble(self, error: Exception) -> None:
        """Show what failed: a PlanebenchError in its own words, else an unexpected error."""
        if isinstance(error, PlanebenchError):
            log.info("shown: %s (%s)", error, error.subject)
            notice = Notice(
                tone=Tone.TROUBLE,
                happened=error.happened,
                remedy=error.remedy,
                subject=error.subject,
            )
        else:
            log.error("an unexpected error", exc_info=error)
            notice = Notice(
                tone=Tone.TROUBLE,
                happened=f"Something went wrong in the program: {type(error).__name__}: {error}",
                remedy="Everything saved so far is safe. Copy this message and report it.",
            )
        self._send(notice)

    def show_with(self, show: Callable[[Notice], object]) -> None:
        """Pass every message to `show` from now on, those that waited first."""
        self._show = show
        waiting, self._waiting = self._waiting, []
        for notice in waiting:
            show(notice)

    def _send(self, notice: Notice) -> None:
        if self._show is None:
            self._waiting.append(notice)
        else:
            self._show(notice)
