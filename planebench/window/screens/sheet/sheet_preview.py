"""What the screen shows: one tool's sheet as it would be now, and the sheets issued before."""

from __future__ import annotations

from dataclasses import dataclass
from threading import Lock

from PySide6.QtCore import QSizeF
from PySide6.QtGui import QImage

from planebench.catalog.catalog import Catalog
from planebench.catalog.ids import ToolId
from planebench.catalog.reference import resources_folder
from planebench.catalog.settings import CatalogSettings
from planebench.catalog.values import IssuedSheet, Tool
from planebench.errors import SheetError
from planebench.sheet.changes_since_issue import changed_since, choices_of_issued
from planebench.sheet.compose import compose
from planebench.sheet.content import Paper, SheetChoices, SheetContent
from planebench.sheet.issuing import Issued, issue
from planebench.sheet.pdf import SheetPress
from planebench.sheet.photograph_layout import PAGES
from planebench.window.jobs import Job


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetRequest:
    """What is to be seen: the tool at a place among those to print, how, and how sharp."""

    tools: tuple[ToolId, ...]
    at: int
    choices: SheetChoices
    dots: int

    @property
    def tool(self) -> ToolId:
        """The tool whose pages are seen."""
        return self.tools[self.at]


@dataclass(frozen=True, slots=True, kw_only=True)
class IssuedBefore:
    """A sheet issued before; `changed` names what the record says otherwise since.

    Only the newest is compared: the others are replaced already.
    """

    sheet: IssuedSheet
    newest: bool
    changed: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Preview:
    """One tool's sheet now. `photographs` and `parts` count what it could show."""

    wish: SheetRequest
    content: SheetContent
    pages: tuple[QImage, ...]
    points: QSizeF
    issued: tuple[IssuedBefore, ...]
    photographs: int
    parts: int
    place: str


class SheetDesk:
    """Sets sheets, one at a time whoever asks; all its methods are called on jobs."""

    def __init__(self, catalog: Catalog) -> None:
        self.catalog = catalog
        self._press = SheetPress(resources_folder())
        self._lock = Lock()

    def settings(self) -> CatalogSettings:
        """Return the catalog's choices."""
        return self.catalog.settings.read()

    def preview(self, wish: SheetRequest, before: Preview | None, job: Job) -> Preview:
        """Set one tool's pages as pictures; what is unchanged since `before` is not set again."""
        catalog, tool = self.catalog, self._out_of_bin(wish.tool)
        content = compose(catalog, wish.tool, wish.choices, places_ahead=wish.at)
        same = before is not None and before.wish == wish and before.content == content
        pages = before.pages if before is not None and same else self._pages(content, wish, job)
        return Preview(
            wish=wish,
            content=content,
            pages=pages,
            points=paper_points(wish.choices.paper),
            issued=self._issued(wish.tool),
            photographs=len(tool.photographs),
            parts=sum(not part.unasked for part in tool.parts),
            place=_place(catalog, wish),
        )

    def draft(self, tool: ToolId, choices: SheetChoices, *, ahead: int) -> Draft:
        """Set one tool's sheet as a draft."""
        self._out_of_bin(tool)
        content = compose(self.catalog, tool, choices, places_ahead=ahead)
        return Draft(content=content, pdf=self.together((content,)))

    def issue(self, tool: ToolId, choices: SheetChoices) -> Issued:
        """Issue one tool's sheet."""
        self._out_of_bin(tool)
        with self._lock:
            return issue(self.catalog, self._press, tool, choices)

    def together(self, contents: tuple[SheetContent, ...]) -> bytes:
        """Set several sheets as one PDF."""
        with self._lock:
            return self._press.print(contents, at=self.catalog.now).pdf

    def _out_of_bin(self, tool_id: ToolId) -> Tool:
        """Return a tool's record; a tool may have come into the bin while the screen was open."""
        tool = self.catalog.tools.one(tool_id)
        if self.catalog.tools.by_stock_number(tool.stock_number) != tool_id:
            raise SheetError(
                f"{tool.stock_number} is in the bin.",
                remedy="Take it out of the bin first.",
                subject=tool.stock_number,
            )
        return tool

    def _pages(self, content: SheetContent, wish: SheetRequest, job: Job) -> tuple[QImage, ...]:
        with self._lock:
            # A newer wish may have come while another print was being set.
            job.step(0, 0)
            at = self.catalog.now
            printed = self._press.print([content], at=at, dots_per_inch=wish.dots)
        return tuple(QImage.fromData(page) for page in printed.pages)

    def _issued(self, tool: ToolId) -> tuple[IssuedBefore, ...]:
        sheets = self.catalog.sheets.of_tool(tool)
        return tuple(
            IssuedBefore(
                sheet=sheet,
                newest=place == 0,
                changed=self._changed(sheet) if place == 0 else (),
            )
            for place, sheet in enumerate(sheets)
        )

    def _changed(self, sheet: IssuedSheet) -> tuple[str, ...]:
        now = compose(self.catalog, sheet.tool, choices_of_issued(sheet.content))
        return changed_since(sheet.content, now)


@dataclass(frozen=True, slots=True, kw_only=True)
class Draft:
    """A draft: what it says and its PDF."""

    content: SheetContent
    pdf: bytes


def paper_points(paper: Paper) -> QSizeF:
    """Return a paper's size in points."""
    page = PAGES[paper]
    return QSizeF(page.width, page.height)


def _place(catalog: Catalog, wish: SheetRequest) -> str:
    """Name the level above: the tool, or the batch from which several were chosen."""
    tool = catalog.tools.one(wish.tool)
    if len(wish.tools) == 1:
        return f"{tool.stock_number} {tool.line.title}"
    batch = catalog.batches.one(tool.batch)
    return f"{batch.code} {batch.title}"
