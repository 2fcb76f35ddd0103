"""A field with suggestions: typing narrows the list, the arrow or Down shows all of it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from PySide6.QtCore import (
    QEvent,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    QPoint,
    QPointF,
    QSize,
    Qt,
    Signal,
)
from PySide6.QtGui import (
    QColor,
    QFontMetricsF,
    QKeyEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QPolygonF,
    QStandardItem,
    QStandardItemModel,
)
from PySide6.QtWidgets import (
    QAbstractButton,
    QCompleter,
    QListView,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QWidget,
)
from typing_extensions import override

from planebench.window.fonts import text_font
from planebench.window.pieces.field import Field
from planebench.window.tokens import CONTROL_HEIGHT, NOTE, TEXT, tokens_now

_GROUP = Qt.ItemDataRole.UserRole + 1
_ARROW, _ROW, _APART, _AT_ONCE = 28, 28, 4, 14
AnyIndex = QModelIndex | QPersistentModelIndex


@dataclass(frozen=True, slots=True, kw_only=True)
class Suggestion:
    """One suggestion: its words, the group it belongs to, and further words that find it.

    `also` are other names of the thing itself, `group_also` words that find its whole group.
    """

    text: str
    group: str = ""
    also: tuple[str, ...] = ()
    group_also: tuple[str, ...] = ()

    def rank(self, typed: str) -> int | None:
        """Return how well typed words find it: 0 by its name, 1 by other names, 2 by its group.

        Every word must be found, in any order; None where one is not.
        """
        wanted, known = typed.casefold().split(), ""
        for rank, more in enumerate(
            ((self.text,), self.also, (self.group, *self.group_also)),
        ):
            known = " ".join((known, *more)).casefold()
            if all(word in known for word in wanted):
                return rank
        return None


def matching(listed: Iterable[Suggestion], typed: str) -> list[Suggestion]:
    """Return the suggestions that typed words find, the best first, else in their order."""
    ranked = ((one.rank(typed), one) for one in listed)
    found = [(rank, one) for rank, one in ranked if rank is not None]
    return [one for _, one in sorted(found, key=lambda pair: pair[0])]


class SuggestionField(Field):
    """A field with a list of suggestions; other words may be typed too.

    With `listed_only`, leaving the field takes the best match for what is typed.
    Signals: besides those of a field, `picked(str)` with a suggestion taken from the list.
    """

    picked = Signal(str)

    def __init__(
        self,
        name: str,
        listed: Iterable[Suggestion],
        *,
        hint: str = "",
        listed_only: bool = False,
    ) -> None:
        super().__init__(name, hint=hint)
        rows = self._listed = tuple(listed)
        self._listed_only = listed_only
        self._model = QStandardItemModel(self)
        self._fill(rows)
        self.popup = _Rows(self.line)
        self.completer = self._make_completer(rows)
        self.line.setCompleter(self.completer)
        self.line.setTextMargins(0, 0, _ARROW - 8, 0)
        self._arrow = _Arrow(f"Show the whole list: {name}", self.line)
        self._arrow.clicked.connect(self.show_list)
        for watched in (self.line, self.popup):
            watched.installEventFilter(self)

    def show_list(self) -> None:
        """Show the whole list, at what is typed if that is in it."""
        self.line.setFocus()
        self._fill(self._listed)
        found = self._model.findItems(self.text.strip(), Qt.MatchFlag.MatchFixedString)
        self.completer.complete()
        if found:
            row = found[0].row()
            self.popup.setCurrentIndex(self.completer.completionModel().index(row, 0))

    def take_match(self) -> None:
        """Write the best match for what is typed, unless that is in the list or finds nothing."""
        typed = self.text.strip()
        if not typed or any(one.text.casefold() == typed.casefold() for one in self._listed):
            return
        found = matching(self._listed, typed)
        if found:
            self.line.setText(found[0].text)

    @override
    def commit(self) -> None:
        if self._listed_only:
            self.take_match()
        super().commit()

    def _fill(self, rows: Iterable[Suggestion]) -> None:
        self._model.clear()
        for one in rows:
            self._model.appendRow(_item(one))

    def _picked(self, text: str) -> None:
        self.line.setText(text)
        self.commit()
        self.picked.emit(text)

    @override
    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        popup = self.popup
        if watched is popup and event.type() in {QEvent.Type.Show, QEvent.Type.Move}:
            self._lay_beneath()
        elif watched is self.line and event.type() is QEvent.Type.Resize:
            self._arrow.setGeometry(self.line.width() - _ARROW, 0, _ARROW, self.line.height())
        elif watched is self.line and isinstance(event, QKeyEvent) and not popup.isVisible():
            return self._opened_by(event)
        return super().eventFilter(watched, event)

    def _opened_by(self, event: QKeyEvent) -> bool:
        plain = not event.modifiers() & ~(
            Qt.KeyboardModifier.KeypadModifier | Qt.KeyboardModifier.AltModifier
        )
        if event.type() is not QEvent.Type.KeyPress or event.key() != Qt.Key.Key_Down or not plain:
            return False
        self.show_list()
        return True

    def _lay_beneath(self) -> None:
        """Keep the field and its focus ring in sight: Qt puts its list over the lower edge."""
        popup = self.popup
        corner = self.line.mapToGlobal(QPoint(0, 0))
        wanted = self.line.mapToGlobal(QPoint(0, self.line.height() + _APART))
        if popup.y() > corner.y() and popup.pos() != wanted:
            popup.move(wanted)

    def _make_completer(self, rows: tuple[Suggestion, ...]) -> QCompleter:
        completer = _Finder(self._model, self)
        completer.setCaseSensitivity(Qt.CaseSensitivity.CaseInsensitive)
        # The rows are found and ranked here, since Qt looks for one run of letters only.
        completer.setCompletionMode(QCompleter.CompletionMode.UnfilteredPopupCompletion)
        self.line.textEdited.connect(lambda typed: self._fill(matching(self._listed, typed)))
        completer.activated.connect(self._picked)
        completer.setMaxVisibleItems(_AT_ONCE)
        popup = self.popup
        completer.setPopup(popup)
        # Qt gives every list of its own a delegate when it is taken, so ours comes after.
        popup.setItemDelegate(_ListedPainter(popup))
        popup.setMinimumWidth(_widest(rows))
        return completer


class _Finder(QCompleter):
    """Finds by more words than it fills in."""

    @override
    def pathFromIndex(self, index: AnyIndex) -> str:
        return str(index.data() or "")


class _Rows(QListView):
    """The list that opens beneath."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setObjectName("completions")
        self.setAccessibleName("Suggestions")
        self.setUniformItemSizes(True)
        self.setEditTriggers(QListView.EditTrigger.NoEditTriggers)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setSelectionBehavior(QListView.SelectionBehavior.SelectRows)


class _ListedPainter(QStyledItemDelegate):
    """Paints the words at the left and their group muted at the right."""

    @override
    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: AnyIndex) -> None:
        tokens = tokens_now()
        painter.save()
        if option.state & (QStyle.StateFlag.State_Selected | QStyle.StateFlag.State_MouseOver):
            painter.fillRect(option.rect, QColor(tokens.chosen))
        room = option.rect.adjusted(12, 0, -12, 0)
        painter.setFont(text_font())
        painter.setPen(QColor(tokens.ink))
        painter.drawText(room, Qt.AlignmentFlag.AlignVCenter, str(index.data()))
        painter.setFont(text_font(NOTE))
        painter.setPen(QColor(tokens.muted))
        right = Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignRight
        painter.drawText(room, right, str(index.data(_GROUP) or ""))
        painter.restore()

    @override
    def sizeHint(self, option: QStyleOptionViewItem, index: AnyIndex) -> QSize:
        return QSize(option.rect.width(), _ROW)


class _Arrow(QAbstractButton):
    """The arrow at the right end of the line; the keyboard has Down for it."""

    def __init__(self, name: str, line: QWidget) -> None:
        super().__init__(line)
        self.setAccessibleName(name)
        self.setToolTip("Show the whole list (Down)")
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setCursor(Qt.CursorShape.ArrowCursor)
        self.resize(_ARROW, CONTROL_HEIGHT)

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(QColor(tokens_now().ink), 1.5))
        middle = QPointF(self.width() - 15, self.height() / 2 + 2)
        painter.drawPolyline(QPolygonF([middle + QPointF(-4, -4), middle, middle + QPointF(4, -4)]))


def _item(one: Suggestion) -> QStandardItem:
    item = QStandardItem(one.text)
    item.setData(one.group, _GROUP)
    return item


def _widest(rows: tuple[Suggestion, ...]) -> int:
    text, group = QFontMetricsF(text_font(TEXT)), QFontMetricsF(text_font(NOTE))
    widest = max(text.horizontalAdvance(r.text) + group.horizontalAdvance(r.group) for r in rows)
    return round(widest) + 72
