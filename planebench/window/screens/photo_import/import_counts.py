"""What came to which tool in an import: the counts, their words, the list."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from PySide6.QtCore import QAbstractListModel, QObject, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter
from PySide6.QtWidgets import QFrame, QListView, QStyledItemDelegate, QStyleOptionViewItem, QWidget
from typing_extensions import override

from planebench.catalog.ids import PhotographId, ToolId
from planebench.catalog.import_types import FileFate, FileOutcome
from planebench.window.fonts import text_font, title_font
from planebench.window.pieces.row_background import AnyIndex, paint_row_background
from planebench.window.screens.photo_import.import_summary import ImportSummary
from planebench.window.thumbnails import Thumbnails, paint_cover
from planebench.window.tokens import NOTE, SECTION, TEXT, TOOL_ROW, tokens_now

WAITING = "Not filed yet"
WAIT_FOR_YOU = "waiting for you to choose their tool"
_WAITS_FOR_YOU = "waiting for you to choose its tool"
WAIT_FOR_ALL = "will be filed by their cards when the import ends"


@dataclass(frozen=True, slots=True, kw_only=True)
class ToolCount:
    """A tool's row: stock number, title, how many photographs, the latest one, a remark.

    `here` counts those that were in the catalog already; `photographs` are new.
    """

    stock: str
    title: str
    photographs: int
    latest: PhotographId | None
    remark: str = ""
    here: int = 0

    @property
    def told(self) -> str:
        """How many were added, in words."""
        new = f"{self.photographs} added" if self.photographs or not self.here else ""
        here = f"{self.here} already here" if self.here else ""
        return ", ".join(words for words in (new, here) if words)


@dataclass(slots=True)
class ToolCounts:
    """Counts photographs by tool; the unfiled come last, with their own remark."""

    titles: Mapping[ToolId, str] = field(default_factory=dict)
    waiting: str = WAIT_FOR_YOU
    _new: dict[str, set[PhotographId]] = field(default_factory=dict)
    _here: dict[str, set[PhotographId]] = field(default_factory=dict)
    _latest: dict[str, FileOutcome] = field(default_factory=dict)

    def add(self, outcome: FileOutcome) -> None:
        """Count one photograph, once however many files hold it."""
        if outcome.photograph is None:
            return
        stock = outcome.stock
        counts = self._new if outcome.became == FileFate.NEW else self._here
        counts.setdefault(stock, set()).add(outcome.photograph)
        self._latest.pop(stock, None)
        self._latest[stock] = outcome

    @property
    def rows(self) -> tuple[ToolCount, ...]:
        """The tools, the one with the latest photograph first; the unfiled last."""
        stocks = [stock for stock in reversed(self._latest) if stock]
        if "" in self._latest:
            stocks.append("")
        return tuple(self._row(stock) for stock in stocks)

    def _row(self, stock: str) -> ToolCount:
        outcome = self._latest[stock]
        title = self.titles.get(outcome.tool, stock) if outcome.tool is not None else WAITING
        new = self._new.get(stock, set())
        here = self._here.get(stock, set()) - new
        alone = len(new) + len(here) == 1 and self.waiting == WAIT_FOR_YOU
        return ToolCount(
            stock=stock,
            title=title,
            photographs=len(new),
            latest=outcome.photograph,
            remark=_why(outcome) if stock else _WAITS_FOR_YOU if alone else self.waiting,
            here=len(here),
        )


def _why(outcome: FileOutcome) -> str:
    return outcome.why or ("filed by hand" if outcome.rule == "hand" else "")


def isolate_direction(name: str) -> str:
    """Return a file name that cannot reorder the words around it (Unicode UAX #9)."""
    return f"\u2068{name}\u2069"


def describe_filing(summary: ImportSummary) -> str:
    """Return what filed an import's photographs, what looks alike, and which cards to check."""
    outcomes, groups = summary.outcomes, len(summary.look_alikes)
    doubtful = sum(bool(outcome.warnings) for outcome in (*outcomes, *summary.anew))
    said = [_by_rule(outcomes), _anew(len(summary.anew))]
    if groups:
        said.append(_many(groups, "group of photographs shows", "groups of photographs show"))
        said[-1] += " nearly the same."
    if doubtful:
        said.append(_many(doubtful, "card is", "cards are"))
        said[-1] += " worth checking: see why each photograph was filed there."
    return " ".join(words for words in said if words)


def _anew(count: int) -> str:
    if not count:
        return ""
    return _many(count, "photograph already here is", "photographs already here are") + (
        " now filed by a card in this import: see why each photograph was filed there."
    )


def _many(count: int, one: str, several: str) -> str:
    return f"{count} {one if count == 1 else several}"


def _by_rule(outcomes: Sequence[FileOutcome]) -> str:
    rules = Counter(outcome.rule for outcome in outcomes if outcome.became == FileFate.NEW)
    by_card, followed = rules["card"], rules["followed"]
    words = []
    if by_card:
        words.append(f"{by_card} by the card in the photograph")
    if followed:
        words.append(f"{followed} by the card seen before {'it' if followed == 1 else 'them'}")
    return f"Filed: {', '.join(words)}." if words else ""


_COUNT_ROLE = Qt.ItemDataRole.UserRole
_NAME_AT = 108
_GAP = 12


class _Counts(QAbstractListModel):
    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self._counts: list[ToolCount] = []

    def show_counts(self, counts: Sequence[ToolCount]) -> None:
        fresh = list(counts)
        if len(fresh) != len(self._counts):
            self.beginResetModel()
            self._counts = fresh
            self.endResetModel()
        elif fresh != self._counts:
            self._counts = fresh
            self.dataChanged.emit(self.index(0), self.index(len(fresh) - 1))

    @override
    def rowCount(self, parent: AnyIndex | None = None) -> int:
        return 0 if parent is not None and parent.isValid() else len(self._counts)

    @override
    def data(self, index: AnyIndex, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        if not index.isValid() or index.row() >= len(self._counts):
            return None
        count = self._counts[index.row()]
        if role == _COUNT_ROLE:
            return count
        if role in {Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.AccessibleTextRole}:
            said = (count.stock, count.title, count.told, count.remark)
            return ", ".join(word for word in said if word)
        return None


class _Painter(QStyledItemDelegate):
    def __init__(self, thumbnails: Thumbnails, parent: QObject) -> None:
        super().__init__(parent)
        self._thumbnails = thumbnails

    @override
    def sizeHint(self, option: QStyleOptionViewItem, index: AnyIndex) -> QSize:
        return QSize(200, TOOL_ROW)

    @override
    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: AnyIndex) -> None:
        count = index.data(_COUNT_ROLE)
        box = QRectF(option.rect)
        painter.save()
        paint_row_background(painter, box, option.state)
        if isinstance(count, ToolCount):
            pixmap = None if count.latest is None else self._thumbnails.of(count.latest)
            paint_cover(painter, QRectF(box.left() + 4, box.top() + 8, 92, 60), pixmap)
            _write_row(painter, box, count)
        painter.restore()


class ToolList(QListView):
    """The tools of an import, the one that got the latest photograph first."""

    def __init__(self, thumbnails: Thumbnails, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName("Photographs by tool")
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setUniformItemSizes(True)
        self.setVerticalScrollMode(QListView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._counts = _Counts(self)
        self.setModel(self._counts)
        self.setItemDelegate(_Painter(thumbnails, self))
        thumbnails.ready.connect(lambda _photo: self.viewport().update())

    def show_counts(self, counts: Sequence[ToolCount]) -> None:
        """Show these tools in this order."""
        self._counts.show_counts(counts)


def _write_row(painter: QPainter, box: QRectF, count: ToolCount) -> None:
    tokens = tokens_now()
    left = box.left() + _NAME_AT
    wide = box.width() - _NAME_AT
    name, number = wide * 0.5 - _GAP, wide * 0.5 - _GAP
    beside = left + name + _GAP
    muted = tokens.muted
    title_at = 50 if count.stock else 44
    _write(painter, QPointF(left, box.top() + 28), name, (count.stock, text_font(NOTE), muted))
    shown = (count.title, title_font(SECTION), tokens.ink)
    _write(painter, QPointF(left, box.top() + title_at), name, shown)
    counted = (count.told, text_font(TEXT), tokens.ink)
    _write(painter, QPointF(beside, box.top() + 28), number, counted)
    painter.setFont(text_font(NOTE))
    painter.setPen(QColor(muted))
    below = QRectF(beside, box.top() + 36, number, box.height() - 38)
    painter.drawText(below, int(Qt.TextFlag.TextWordWrap), count.remark)


def _write(painter: QPainter, at: QPointF, width: float, said: tuple[str, QFont, str]) -> None:
    text, font, ink = said
    painter.setFont(font)
    painter.setPen(QColor(ink))
    shown = QFontMetricsF(font).elidedText(text, Qt.TextElideMode.ElideRight, width)
    painter.drawText(at, shown)
