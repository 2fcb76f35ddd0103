"""Ways from one place to another: a screen names where, the window leads there."""

from __future__ import annotations

from dataclasses import dataclass

from planebench.catalog.ids import BatchId, OutlineId, PairId, PhotographId, ToolId


@dataclass(frozen=True, slots=True, kw_only=True)
class Route:
    """Any way; `instead` leaves the place one comes from, as for the tool before or after."""

    instead: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class ToBatches(Route):
    """To the list of all batches."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ToBatch(Route):
    """To the tools of one batch, or of the whole catalog; `words` are searched at once."""

    batch: BatchId | None = None
    words: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class ToTool(Route):
    """To the record of one tool; `section` 1 to 7 is shown first."""

    tool: ToolId
    section: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class ToPhotograph(Route):
    """To the work on one photograph; an outline is chosen there, `said` stands beside it."""

    photograph: PhotographId
    outline: OutlineId | None = None
    said: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class ToPair(Route):
    """To a tool's before and after; without a pair, to choosing one."""

    tool: ToolId
    pair: PairId | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class ToDating(Route):
    """To the signs of a tool's date."""

    tool: ToolId


@dataclass(frozen=True, slots=True, kw_only=True)
class ToSheet(Route):
    """To the condition sheets of one or several tools."""

    tools: tuple[ToolId, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ToIntake(Route):
    """To taking photographs in, for a batch or a tool.

    `paths` are taken in at once; `watch` asks for a folder to watch, or leads to the one watched;
    `waiting` leads to those that are not filed under a tool yet; `beside` leads to an intake of its
    own while another goes on.
    """

    batch: BatchId | None = None
    tool: ToolId | None = None
    paths: tuple[str, ...] = ()
    watch: bool = False
    waiting: bool = False
    beside: bool = False

    @property
    def asks_anew(self) -> bool:
        """Whether an intake that goes on already is not what is meant."""
        return bool(self.paths) or self.waiting or self.beside


@dataclass(frozen=True, slots=True, kw_only=True)
class ToCards(Route):
    """To printing scale cards and tags for tools, or for all of a batch."""

    tools: tuple[ToolId, ...] = ()
    batch: BatchId | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class ToHistory(Route):
    """To who changed what when, in the catalog or of one tool."""

    tool: ToolId | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class ToBin(Route):
    """To the bin."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ToSettings(Route):
    """To the choices of the catalog and of this machine."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ToKinds(Route):
    """To the kinds of plane and their parts."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ToBackups(Route):
    """To backups, restoring and checking."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ToViewsMissing(Route):
    """To the list of photographs still to be taken across a batch."""

    batch: BatchId | None = None
