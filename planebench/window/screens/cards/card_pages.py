"""A print run of cards and tags, and its pages as images."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QSizeF
from PySide6.QtGui import QImage

from planebench.catalog.catalog import Catalog
from planebench.catalog.ids import ToolId
from planebench.catalog.reference import resources_folder
from planebench.catalog.tools import ToolFilter
from planebench.sheet.card_press import CardRun, print_cards
from planebench.sheet.content import Paper
from planebench.sheet.photograph_layout import PAGES
from planebench.window.jobs import Job

CARDS_A_PAGE, TAGS_A_PAGE = 6, 40


@dataclass(frozen=True, slots=True, kw_only=True)
class CardRequest:
    """What to print: for which tools, on what paper, cards or tags or both.

    `scale` is the factor by which lengths are stretched for the printer.
    """

    tools: tuple[ToolId, ...]
    paper: Paper
    cards: bool
    tags: int
    scale: float

    @property
    def empty(self) -> bool:
        """True when nothing would be printed."""
        return not self.tools or not (self.cards or self.tags)


@dataclass(frozen=True, slots=True, kw_only=True)
class CardPages:
    """A finished run: the PDF, and images of its pages if asked for."""

    stocks: tuple[str, ...]
    pdf: bytes
    pages: tuple[QImage, ...]
    points: QSizeF
    place: str


def set_pages(catalog: Catalog, request: CardRequest, dots: int | None, job: Job) -> CardPages:
    """Return the typeset pages, leaving out deleted tools. Call on a job only."""
    kept = frozenset(catalog.tools.find(ToolFilter()))
    lines = catalog.tools.lines([tool for tool in request.tools if tool in kept])
    found = [lines[tool] for tool in request.tools if tool in lines]
    stocks = tuple(line.stock_number for line in found)
    run = CardRun(
        stocks=stocks,
        paper=request.paper,
        cards=request.cards,
        tags=request.tags,
        correction=request.scale,
    )
    job.step(0, 0)
    printed = print_cards(run, resources=resources_folder(), at=catalog.now, dots_per_inch=dots)
    page = PAGES[request.paper]
    return CardPages(
        stocks=stocks,
        pdf=printed.pdf,
        pages=tuple(QImage.fromData(picture) for picture in printed.pages),
        points=QSizeF(page.width, page.height),
        place=_place(catalog, request.tools),
    )


def _place(catalog: Catalog, tools: tuple[ToolId, ...]) -> str:
    tool = catalog.tools.one(tools[0])
    if len(tools) == 1:
        return f"{tool.stock_number} {tool.line.title}"
    batch = catalog.batches.one(tool.batch)
    return f"{batch.code} {batch.title}"
