"""Known features from the reference tables, searched by any of their words."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtCore import (
    QItemSelectionModel,
    QPointF,
    QRectF,
    QSize,
    Signal,
)
from PySide6.QtGui import QColor, QPainter
from PySide6.QtWidgets import (
    QListView,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QVBoxLayout,
    QWidget,
)
from typing_extensions import override

from planebench.errors import InputError
from planebench.trade.evidence_parsing import KnownFeature
from planebench.window.fonts import text_font
from planebench.window.pieces.field import Field
from planebench.window.pieces.painted_text import TextStyle, paint_text_line
from planebench.window.pieces.row_background import AnyIndex
from planebench.window.pieces.text import Ink, small_label
from planebench.window.pieces.value_rows import VALUE_ROLE, ValueListModel
from planebench.window.screens.dating.dating_model import years_in_words
from planebench.window.tokens import NOTE, tokens_now

_ROW, _SHOWN = 46, 4.5
_KNOWN = {
    "found": "source checked",
    "memory": "source not checked",
    "found and memory": "source checked in part",
}
_UPPER, _LOWER = 18, 37


def feature_description(feature: KnownFeature) -> str:
    """Return years, what they limit, market and source check of a known feature."""
    known = _KNOWN.get(feature.status, feature.status)
    bounds = f"dates the {feature.bounds}" if feature.bounds else ""
    market = "" if feature.market == "any" else feature.market
    parts = (years_in_words(feature.not_before, feature.not_after), bounds, market, known)
    return ", ".join(part for part in parts if part)


class _FeaturePainter(QStyledItemDelegate):
    """Paints a known feature: its name above its years."""

    @override
    def sizeHint(self, option: QStyleOptionViewItem, index: AnyIndex) -> QSize:
        return QSize(100, _ROW)

    @override
    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: AnyIndex) -> None:
        feature, tokens = index.data(VALUE_ROLE), tokens_now()
        if not isinstance(feature, KnownFeature):
            return
        painter.save()
        box = QRectF(option.rect)
        if option.state & QStyle.StateFlag.State_Selected:
            painter.fillRect(box, QColor(tokens.chosen))
        left, room = box.left() + 8, box.width() - 16
        clear, small = TextStyle(text_font(), tokens.ink), TextStyle(text_font(NOTE), tokens.muted)
        paint_text_line(painter, QPointF(left, box.top() + _UPPER), feature.clue, room, clear)
        paint_text_line(
            painter, QPointF(left, box.top() + _LOWER), feature_description(feature), room, small
        )
        painter.fillRect(QRectF(box.left(), box.bottom(), box.width(), 1), QColor(tokens.line))
        painter.restore()


class KnownFeatureFields(QWidget):
    """A search field and its results. Signals: `typed()` when another feature is chosen."""

    typed = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._all: list[KnownFeature] = []
        self.search = Field("Search known features", hint="screw, wording, postal, plastic…")
        self.list = QListView()
        self.list.setAccessibleName("Known features")
        self.list.setUniformItemSizes(True)
        self.list.setItemDelegate(_FeaturePainter(self.list))
        self._features: ValueListModel[KnownFeature] = ValueListModel(_whole, self, tips=True)
        self.list.setModel(self._features)
        self._nothing = small_label().wrapped()
        self._trouble = small_label(ink=Ink.RUST).wrapped()
        self._trouble.hide()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(4)
        column.addWidget(self.search)
        column.addWidget(self.list)
        column.addWidget(self._nothing)
        column.addWidget(self._trouble)
        self.search.typed.connect(self._find)
        self.list.selectionModel().currentChanged.connect(lambda *_: self._edited())

    @property
    def mark(self) -> dict[str, str]:
        """The chosen row, by its id."""
        feature = self._features.value_at(self.list.currentIndex().row())
        return {} if feature is None else {"row": feature.id}

    def offer(self, features: Iterable[KnownFeature]) -> None:
        """Offer known features."""
        self._all = sorted(features, key=lambda feature: (feature.family, feature.clue))
        self._find(self.search.text)

    def show_mark(self, row: str) -> None:
        """Select a row by id."""
        self.search.set_text("")
        self._find("")
        self.show_trouble(None)
        at = next((n for n, feature in enumerate(self._features.values) if feature.id == row), -1)
        self._stand_on(at)

    def show_trouble(self, error: InputError | None) -> None:
        """Show an error, or remove it."""
        self._trouble.setText("" if error is None else str(error))
        self._trouble.setVisible(error is not None)

    def _find(self, text: str) -> None:
        wanted = text.casefold().split()
        kept = self.mark.get("row", "")
        self._features.show_values(
            feature for feature in self._all if all(word in _words(feature) for word in wanted)
        )
        found = [feature.id for feature in self._features.values]
        self._fit_list(text.strip(), len(found))
        if kept in found:
            self._stand_on(found.index(kept))
        elif wanted and found:
            self._stand_on(0)
        self._edited()

    def _fit_list(self, text: str, count: int) -> None:
        """Fit the height of the list to what was found, or say that nothing was."""
        self.list.setFixedHeight(round(_ROW * min(max(count, 1), _SHOWN)) + 2)
        nothing = bool(text and self._all and not count)
        self._nothing.setText(
            f"Nothing found for “{text}”. Known features are marks, wording, materials and "
            "fasteners; compare the shapes of parts with a type study."
        )
        self._nothing.setVisible(nothing)
        self.list.setVisible(not nothing)

    def _stand_on(self, row: int) -> None:
        index = self._features.index(row)
        if index.isValid():
            self.list.selectionModel().setCurrentIndex(
                index, QItemSelectionModel.SelectionFlag.ClearAndSelect
            )
            self.list.scrollTo(index)

    def _edited(self) -> None:
        self.show_trouble(None)
        self.typed.emit()


def _whole(feature: KnownFeature) -> str:
    return f"{feature.clue}, {feature_description(feature)}"


def _words(feature: KnownFeature) -> str:
    texts = (feature.clue, feature.wording, feature.family, feature.market, feature.use)
    return " ".join(texts).casefold()
