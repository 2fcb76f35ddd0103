"""The preview: one tool's sheet as it would print now, and the sheets issued for it."""

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
from planebench.sheet.compose import compose, content_of
from planebench.sheet.content import Paper, SheetChoices, SheetContent
from planebench.sheet.issue_check import IssueFinding, findings_of
from planebench.sheet.issuing import Issued, issue
from planebench.sheet.pdf import SheetPress
from planebench.sheet.photograph_layout import PAGES
from planebench.sheet.sheet_source import load_source
from planebench.window.jobs import Job


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetRequest:
    """Which tool of those chosen to preview, with which choices, at how many dots per inch."""

    tools: tuple[ToolId, ...]
    at: int
    choices: SheetChoices
    dots: int

    @property
    def tool(self) -> ToolId:
        """The tool whose pages are shown."""
        return self.tools[self.at]


@dataclass(frozen=True, slots=True, kw_only=True)
class IssuedBefore:
    """An issued sheet; `changed` names what changed in the record since.

    Only the newest is compared, because the others are already replaced.
    """

    sheet: IssuedSheet
    newest: bool
    changed: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Preview:
    """One tool's sheet now. `photographs` and `parts` count what it could show.

    `findings` are what stands against issuing it, `next_number` the number it would get.
    """

    request: SheetRequest
    content: SheetContent
    pages: tuple[QImage, ...]
    points: QSizeF
    issued: tuple[IssuedBefore, ...]
    photographs: int
    parts: int
    place: str
    findings: tuple[IssueFinding, ...] = ()
    next_number: int = 1


class SheetDesk:
    """Typesets sheets, one at a time; call its methods on jobs only."""

    def __init__(self, catalog: Catalog) -> None:
        self.catalog = catalog
        self._press = SheetPress(resources_folder())
        self._lock = Lock()

    def settings(self) -> CatalogSettings:
        """Return the catalog's settings."""
        return self.catalog.settings.read()

    def preview(self, request: SheetRequest, before: Preview | None, job: Job) -> Preview:
        """Return one tool's pages as images; reuse those of `before` if nothing changed."""
        catalog, tool = self.catalog, self._out_of_bin(request.tool)
        source = load_source(catalog, request.tool, request.choices)
        content = content_of(source, issued_on=None)
        same = before is not None and before.request == request and before.content == content
        pages = before.pages if before is not None and same else self._pages(content, request, job)
        return Preview(
            request=request,
            content=content,
            pages=pages,
            points=paper_points(request.choices.paper),
            issued=self._issued(request.tool),
            photographs=len(tool.photographs),
            parts=sum(not part.unasked for part in tool.parts),
            place=_place(catalog, request),
            findings=findings_of(source),
            next_number=source.number,
        )

    def draft(self, tool: ToolId, choices: SheetChoices) -> Draft:
        """Return one tool's sheet as a draft."""
        self._out_of_bin(tool)
        content = compose(self.catalog, tool, choices)
        return Draft(content=content, pdf=self.together((content,)))

    def issue(self, tool: ToolId, choices: SheetChoices, *, accept_missing: bool) -> Issued:
        """Issue one tool's sheet and return it; see planebench.sheet.issuing.issue."""
        self._out_of_bin(tool)
        with self._lock:
            return issue(self.catalog, self._press, tool, choices, accept_missing=accept_missing)

    def together(self, contents: tuple[SheetContent, ...]) -> bytes:
        """Return several sheets as one PDF."""
        with self._lock:
            return self._press.print(contents, at=self.catalog.now).pdf

    def _out_of_bin(self, tool_id: ToolId) -> Tool:
        """Return a tool's record. Raise SheetError if it was deleted while the screen was open."""
        tool = self.catalog.tools.one(tool_id)
        if self.catalog.tools.by_stock_number(tool.stock_number) != tool_id:
            raise SheetError(
                f"{tool.stock_number} is in the bin.",
                remedy="Restore it first.",
                subject=tool.stock_number,
            )
        return tool

    def _pages(self, content: SheetContent, request: SheetRequest, job: Job) -> tuple[QImage, ...]:
        with self._lock:
            # A newer request may have come while another print was being set.
            job.step(0, 0)
            at = self.catalog.now
            printed = self._press.print([content], at=at, dots_per_inch=request.dots)
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
    """A draft: its content and its PDF."""

    content: SheetContent
    pdf: bytes


def paper_points(paper: Paper) -> QSizeF:
    """Return a paper's size in points of 1/72 inch."""
    page = PAGES[paper]
    return QSizeF(page.width, page.height)


def _place(catalog: Catalog, request: SheetRequest) -> str:
    """Return the name of the level above: the tool, or the batch of several tools."""
    tool = catalog.tools.one(request.tool)
    if len(request.tools) == 1:
        return f"{tool.stock_number} {tool.line.title}"
    batch = catalog.batches.one(tool.batch)
    return f"{batch.code} {batch.title}"
