"""What an import is asked and what it answers: destination, progress, what became of each file."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from planebench.catalog.changes import Changes
from planebench.catalog.ids import BatchId, PhotographId, ToolId
from planebench.trade.terms import Stage


class FileFate(StrEnum):
    """What became of a file."""

    NEW = "new"
    ALREADY_IN_CATALOG = "already_in_catalog"
    REFUSED = "refused"


@dataclass(frozen=True, slots=True, kw_only=True)
class Destination:
    """Where photographs go: a tool (then also its batch), a batch, or neither yet; and the stage.

    With `follow_cards` each photograph is searched for a scale card, which files it and those
    after it, at most `minutes` later; where a tool is named, only to tell a card of another.
    `make_tools` is the kind of plane that a card with an unknown stock number makes in the batch;
    empty makes none. `aliases` are stock numbers on cards and those of the tools they stand for.
    """

    batch: BatchId | None = None
    tool: ToolId | None = None
    stage: Stage = Stage.AS_FOUND
    follow_cards: bool = False
    minutes: int = 30
    make_tools: str = ""
    aliases: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class FileOutcome:
    """What became of one file: recorded, here already, or refused (`happened` and `remedy`).

    `stock` is the stock number of the tool it is filed under, `rule` what filed it ("hand",
    "card", "followed"; empty while it waits), `why` the reason in words, `suggestion` a stock
    number that it may belong to. `warnings` tell why its card names no one tool, or its
    scale is less sure.
    """

    file: str
    became: FileFate
    sha256: str = ""
    photograph: PhotographId | None = None
    tool: ToolId | None = None
    stock: str = ""
    rule: str = ""
    why: str = ""
    suggestion: str = ""
    happened: str = ""
    remedy: str = ""
    warnings: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Progress:
    """How far an import is; `total` and `seconds_left` are None until the files are counted.

    `latest` is on the disk and in the record when this is reported.
    """

    done: int
    total: int | None
    new: int
    already_in_catalog: int
    refused: int
    per_second: float
    seconds_left: float | None
    latest: FileOutcome


@dataclass(frozen=True, slots=True, kw_only=True)
class ImportResult:
    """An import at its end, or where it was stopped.

    `run` names its edits, which are undone as one step. `passed_over` counts files in folders
    that are no pictures. `unknown_stocks` are numbers on cards that no tool here has.
    `look_alikes` groups photographs of this import that show nearly the same, the best first.
    `filed_anew` are photographs already in the catalog that a card among these places elsewhere.
    """

    run: str
    outcomes: tuple[FileOutcome, ...]
    skipped: int
    stopped: bool
    changes: Changes
    unknown_stocks: tuple[str, ...] = ()
    look_alikes: tuple[tuple[PhotographId, ...], ...] = ()
    refiled: tuple[FileOutcome, ...] = ()

    def count(self, became: FileFate) -> int:
        """Count the files that became this."""
        return sum(outcome.became == became for outcome in self.outcomes)


Report = Callable[[Progress], None]
Stopped = Callable[[], bool]


def no_report(_progress: Progress) -> None:
    """Ignore progress."""


def never() -> bool:
    """Go on to the end."""
    return False
