"""Routes: a screen emits where to go, the main window goes there."""

from __future__ import annotations

from dataclasses import dataclass

from planebench.catalog.ids import BatchId, OutlineId, PairId, PhotographId, ToolId


@dataclass(frozen=True, slots=True, kw_only=True)
class Route:
    """Base of all routes.

    With `replaces`, the screen one comes from is left for good, as for the previous or next tool.
    """

    replaces: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class BatchesRoute(Route):
    """The list of all batches."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BatchRoute(Route):
    """The tools of one batch, or of the whole catalog; `words` are searched for at once."""

    batch: BatchId | None = None
    words: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class ToolRoute(Route):
    """The record of one tool; `section` 1 to 7 is shown first, 0 means the top."""

    tool: ToolId
    section: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class PhotographRoute(Route):
    """The work on one photograph; `outline` is selected there, with `message` beside it.

    With `measure` the outline tool is active there.
    """

    photograph: PhotographId
    outline: OutlineId | None = None
    message: str = ""
    measure: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class PairRoute(Route):
    """A tool's before and after; without a pair, the choice of one."""

    tool: ToolId
    pair: PairId | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class DatingRoute(Route):
    """The evidence of a tool's date."""

    tool: ToolId


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetRoute(Route):
    """The condition sheets of one or several tools."""

    tools: tuple[ToolId, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ImportRoute(Route):
    """The import of photographs, for a batch or a tool.

    `paths` are imported at once. `watch` asks for a folder to watch, or shows the one already
    watched. `waiting` shows the photographs not filed under a tool yet. `separate` starts an
    import of its own while another is running.
    """

    batch: BatchId | None = None
    tool: ToolId | None = None
    paths: tuple[str, ...] = ()
    watch: bool = False
    waiting: bool = False
    separate: bool = False

    @property
    def needs_new_screen(self) -> bool:
        """Whether an import screen that is open already cannot serve this route."""
        return bool(self.paths) or self.waiting or self.separate


@dataclass(frozen=True, slots=True, kw_only=True)
class CardsRoute(Route):
    """Printing of scale cards and tags for tools, or for all tools of a batch."""

    tools: tuple[ToolId, ...] = ()
    batch: BatchId | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class HistoryRoute(Route):
    """Who changed what and when, in the whole catalog or for one tool."""

    tool: ToolId | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class BinRoute(Route):
    """The bin."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SettingsRoute(Route):
    """The settings of the catalog and of this computer."""


@dataclass(frozen=True, slots=True, kw_only=True)
class KindsRoute(Route):
    """The kinds of plane and their parts."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BackupsRoute(Route):
    """Backups, restoring and checking."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ViewsMissingRoute(Route):
    """The list of photographs still to be taken across a batch."""

    batch: BatchId | None = None
