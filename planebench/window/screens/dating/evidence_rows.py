"""Rows of evidence by part: a check box, what was seen, and a bar over the years."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import (
    QAbstractItemModel,
    QAbstractListModel,
    QEvent,
    QItemSelectionModel,
    QObject,
    QPointF,
    QRectF,
    QSize,
    Qt,
    Signal,
)
from PySide6.QtGui import (
    QColor,
    QFontMetricsF,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
)
from PySide6.QtWidgets import (
    QFrame,
    QListView,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QWidget,
)
from typing_extensions import override

from planebench.catalog.ids import EvidenceId
from planebench.trade.terms import Basis
from planebench.window.fonts import text_font
from planebench.window.icons import paint_icon
from planebench.window.pieces.choice_controls import paint_check
from planebench.window.pieces.focus_ring import no_ring
from planebench.window.pieces.painted_text import TextStyle, paint_text_line
from planebench.window.pieces.row_background import AnyIndex
from planebench.window.screens.dating.dating_model import EvidenceLine, EvidenceWeight
from planebench.window.screens.dating.year_scale import LEFT, BarPainter, ChartScale
from planebench.window.tokens import NOTE, tokens_now

LINE_ROLE = Qt.ItemDataRole.UserRole
ROW, GROUP = 56, 24
_BOX = 16
_AFTER_BOX = 28
_NUMBER = 14
_LAYOUT_BATCH = 200


class EvidenceRows(QAbstractListModel):
    """The evidence of a tool, in the order of its parts."""

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self.lines: Sequence[EvidenceLine] = ()
        self._places: dict[EvidenceId, int] = {}

    def show_lines(self, lines: Sequence[EvidenceLine]) -> bool:
        """Show these rows; return whether rows were added, removed or moved."""
        same = [_shape(line) for line in lines] == [_shape(line) for line in self.lines]
        if same:
            self.lines = lines
            # A longer list is only repainted: dataChanged makes Qt lay out all its rows again.
            if 0 < len(lines) <= _LAYOUT_BATCH:
                self.dataChanged.emit(self.index(0), self.index(len(lines) - 1))
            return False
        self.beginResetModel()
        self.lines = lines
        self._places = {line.evidence.id: row for row, line in enumerate(lines)}
        self.endResetModel()
        return True

    def row_of(self, evidence: EvidenceId | None) -> int:
        """Return the row of evidence, -1 when it is not shown."""
        return -1 if evidence is None else self._places.get(evidence, -1)

    @property
    def height(self) -> int:
        """Height of all rows in pixels."""
        return sum(ROW + GROUP * bool(line.group) for line in self.lines)

    @override
    def rowCount(self, parent: AnyIndex | None = None) -> int:
        return 0 if parent is not None and parent.isValid() else len(self.lines)

    @override
    def data(self, index: AnyIndex, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        if not index.isValid() or index.row() >= len(self.lines):
            return None
        line = self.lines[index.row()]
        if role == LINE_ROLE:
            return line
        if role in {Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.AccessibleTextRole}:
            return row_description(line)
        return line.evidence.seen if role == Qt.ItemDataRole.ToolTipRole else None


def row_description(line: EvidenceLine) -> str:
    """Return a row in words, for a screen reader."""
    agrees = {EvidenceWeight.DISAGREES: "does not agree", EvidenceWeight.LEFT_OUT: "not counted"}
    parts = (line.part, f"{line.evidence.number} {line.evidence.seen}", line.told)
    return ", ".join([*parts, *([agrees[line.trust]] if line.trust in agrees else [])])


class EvidenceList(QListView):
    """The list. Signals: `toggled(EvidenceId)` by Space or a click on the box; `moved()`."""

    toggled = Signal(str)
    moved = Signal()

    def __init__(self, scale: ChartScale, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._scale = scale
        self.rows = EvidenceRows(self)
        self.setModel(self.rows)
        self.setItemDelegate(_EvidenceRowPainter(scale, self))
        self.setAccessibleName("Evidence")
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setLayoutMode(QListView.LayoutMode.Batched)
        self.setBatchSize(_LAYOUT_BATCH)
        self.setVerticalScrollMode(QListView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setMouseTracking(True)
        no_ring(self)
        self.selectionModel().currentChanged.connect(lambda *_: self.moved.emit())

    @property
    def current(self) -> EvidenceId | None:
        """The selected evidence."""
        row = self.currentIndex().row()
        return self.rows.lines[row].evidence.id if 0 <= row < len(self.rows.lines) else None

    def show_lines(self, lines: Sequence[EvidenceLine], choose: EvidenceId | None) -> None:
        """Show rows and select `choose`, else the one selected before, else its row number."""
        wanted, at = choose or self.current, max(0, self.currentIndex().row())
        if self.rows.show_lines(lines):
            self.setMaximumHeight(max(ROW, self.rows.height + 2))
        row = self.rows.row_of(wanted)
        self.select_row(row if row >= 0 else min(at, len(lines) - 1))
        self.viewport().update()

    def select_row(self, row: int) -> None:
        """Select a row."""
        index = self.rows.index(row)
        if index.isValid() and index != self.currentIndex():
            self.selectionModel().setCurrentIndex(
                index, QItemSelectionModel.SelectionFlag.ClearAndSelect
            )
            self.scrollTo(index)

    @override
    def sizeHint(self) -> QSize:
        return QSize(600, self.rows.height + 2)

    @override
    def minimumSizeHint(self) -> QSize:
        return QSize(400, ROW + GROUP)

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self.viewport())
        self._scale.paint_ground(painter, self.viewport().height())
        painter.end()
        super().paintEvent(event)

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Space and self.current is not None:
            self.toggled.emit(self.current)
            return
        super().keyPressEvent(event)


class _EvidenceRowPainter(QStyledItemDelegate):
    """Paints a row: text at the left, the bar at the right."""

    def __init__(self, scale: ChartScale, view: EvidenceList) -> None:
        super().__init__(view)
        self._scale = scale
        self._view = view

    @override
    def sizeHint(self, option: QStyleOptionViewItem, index: AnyIndex) -> QSize:
        line = index.data(LINE_ROLE)
        return QSize(100, ROW + GROUP if isinstance(line, EvidenceLine) and line.group else ROW)

    @override
    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: AnyIndex) -> None:
        line = index.data(LINE_ROLE)
        if not isinstance(line, EvidenceLine):
            return
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        box = QRectF(option.rect)
        if line.group:
            self._group(painter, box, line)
            box.setTop(box.top() + GROUP)
        across = self._scale.across
        state = option.state
        if state & QStyle.StateFlag.State_Selected:
            self._chosen(painter, box)
        self._words(painter, box, line)
        bar = BarPainter(painter=painter, across=across, middle=round(box.center().y()))
        bar.paint(line, self._scale.band)
        painter.restore()

    @override
    def editorEvent(
        self,
        event: QEvent,
        model: QAbstractItemModel,
        option: QStyleOptionViewItem,
        index: AnyIndex,
    ) -> bool:
        if isinstance(event, QMouseEvent) and event.type() == QEvent.Type.MouseButtonRelease:
            line = index.data(LINE_ROLE)
            left = event.button() == Qt.MouseButton.LeftButton
            if left and isinstance(line, EvidenceLine) and event.position().x() < LEFT + _AFTER_BOX:
                self._view.toggled.emit(line.evidence.id)
                return True
        return super().editorEvent(event, model, option, index)

    def _group(self, painter: QPainter, box: QRectF, line: EvidenceLine) -> None:
        tokens, across = tokens_now(), self._scale.across
        painter.fillRect(QRectF(LEFT, box.top(), across.end - LEFT, 1), QColor(tokens.line))
        room = QRectF(LEFT, box.top() + 4, across.words_width, 20)
        painter.setFont(text_font(NOTE))
        painter.setPen(QColor(tokens.muted))
        painter.drawText(room, Qt.AlignmentFlag.AlignVCenter, line.group)
        if line.group_disagrees:
            painter.setFont(text_font(NOTE, strong=True))
            painter.setPen(QColor(tokens.rust))
            align = Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignRight
            painter.drawText(room, align, "does not agree")

    def _chosen(self, painter: QPainter, box: QRectF) -> None:
        frame = QRectF(LEFT - 8.5, box.top() + 4.5, self._scale.across.words_width + 17, ROW - 9)
        here = self._view.hasFocus()
        painter.setPen(QPen(QColor(tokens_now().brass), 2 if here else 1))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRoundedRect(frame, 2, 2)

    def _words(self, painter: QPainter, box: QRectF, line: EvidenceLine) -> None:
        tokens = tokens_now()
        check = QRectF(LEFT + 0.5, box.top() + 10.5, _BOX - 1, _BOX - 1)
        paint_check(painter, check, on=line.evidence.counted)
        ink = {EvidenceWeight.DISAGREES: tokens.rust, EvidenceWeight.LEFT_OUT: tokens.muted}
        color = ink.get(line.trust, tokens.ink)
        number = str(line.evidence.number)
        left = LEFT + _AFTER_BOX
        text = left + max(_NUMBER, QFontMetricsF(text_font()).horizontalAdvance(number) + 6)
        clear, small = TextStyle(text_font(), color), TextStyle(text_font(NOTE), tokens.muted)
        end = LEFT + self._scale.across.words_width
        paint_text_line(painter, QPointF(left, box.top() + 23), number, end - left, clear)
        paint_text_line(
            painter, QPointF(text, box.top() + 23), line.evidence.seen, end - text, clear
        )
        paint_icon(painter, _icon(line), QRectF(text, box.top() + 30, 16, 16), tokens.muted)
        at = QPointF(text + 20, box.top() + 42)
        paint_text_line(painter, at, line.told, end - at.x(), small)


def _icon(line: EvidenceLine) -> str:
    return {
        Basis.MEASURED: "measured",
        Basis.COUNTED: "counted",
        Basis.READ_OFF: "read-off",
        Basis.BY_EYE: "by-eye",
        Basis.TOLD: "told",
    }[line.evidence.basis]


def _shape(line: EvidenceLine) -> tuple[EvidenceId, bool]:
    return line.evidence.id, bool(line.group)
