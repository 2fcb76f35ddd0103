"""The large photograph of the record with its pins and actions."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtCore import QEvent, QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QColor, QImage, QKeyEvent, QPainter, QPaintEvent, QPen, QResizeEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget
from typing_extensions import override

from planebench.catalog.catalog import Catalog
from planebench.catalog.ids import PhotographId
from planebench.catalog.photographs import PinPosition
from planebench.catalog.values import Photograph
from planebench.errors import FileError
from planebench.window.pieces.buttons import ActionButton
from planebench.window.pieces.esc_key import keeps_esc
from planebench.window.pieces.photo_label import ScaleBar, Tag, TagAct
from planebench.window.pieces.photo_view import PhotoView, ViewPin
from planebench.window.pieces.picture import Picture
from planebench.window.pieces.text import Ink, Label, heading
from planebench.window.tokens import tokens_now

_EDGE = 16
_BAR_WIDTH = 140  # px, about the length of the scale bar
_LENGTHS = (1, 2, 5, 10, 20, 30, 50, 100, 200, 300, 500)  # mm
_AWAY = 0.11
_PREVIEW = 2400


Numbered = tuple[int, PinPosition, str]


@dataclass(frozen=True, slots=True, kw_only=True)
class RecordPhotograph:
    """A photograph with a smaller copy of its pixels, ready to paint."""

    photograph: Photograph
    picture: Picture

    @property
    def mm_per_px(self) -> float | None:
        """Millimeters per pixel of the copy near the scale card; None without a scale."""
        scale = self.photograph.scale or {}
        known = scale.get("mm_per_px")
        if not isinstance(known, int | float):
            return None
        return float(known) * self.photograph.width / self.picture.size.width()


def load_photograph(catalog: Catalog, photograph: PhotographId) -> RecordPhotograph:
    """Read a photograph at window size; slow, so run it in a job. Raises FileError."""
    value = catalog.photographs.one(photograph)
    image = QImage.fromData(catalog.pictures.preview(value, _PREVIEW))
    if image.isNull():
        raise FileError(
            "This photograph cannot be shown.",
            remedy="Add it again from the original file.",
            subject=value.original_name,
        )
    return RecordPhotograph(photograph=value, picture=Picture.of_image(image))


class RecordPhotographView(PhotoView):
    """The photograph view with the keys of the record.

    Signals: `work_wanted()` by Enter, `pair_wanted()` by B, `off_wanted()` by Delete,
    `other_wanted(int)` by Page Up and Page Down, `esc_pressed()` while `esc_first` is set.
    """

    work_wanted = Signal()
    pair_wanted = Signal()
    off_wanted = Signal()
    other_wanted = Signal(int)
    esc_pressed = Signal()
    esc_first = False

    @override
    def event(self, event: QEvent) -> bool:
        # While a pin is being set, Esc cancels that before it leaves the screen.
        return (self.esc_first and keeps_esc(event)) or super().event(event)

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        acts: dict[Qt.Key, Callable[[], object]] = {
            Qt.Key.Key_Return: self.work_wanted.emit,
            Qt.Key.Key_Enter: self.work_wanted.emit,
            Qt.Key.Key_B: self.pair_wanted.emit,
            Qt.Key.Key_Escape: self.esc_pressed.emit,
            Qt.Key.Key_Delete: self.off_wanted.emit,
            Qt.Key.Key_PageDown: lambda: self.other_wanted.emit(1),
            Qt.Key.Key_PageUp: lambda: self.other_wanted.emit(-1),
        }
        act = acts.get(Qt.Key(event.key()))
        if act is None or (event.key() == Qt.Key.Key_Escape and not self.esc_first):
            super().keyPressEvent(event)
        else:
            act()


class PhotographPane(QWidget):
    """The photograph with labels at its corners.

    Signals: `work_wanted()`, `pair_wanted()`; `pin_set(Spot)` while a pin is being set;
    `pin_moved(int, Spot)`, `pin_chosen(int)`, `off_wanted()` for the highlighted pin;
    `photographs_wanted()` where there is none.
    """

    work_wanted = Signal()
    pair_wanted = Signal()
    pin_set = Signal(object)
    pin_moved = Signal(int, object)
    pin_chosen = Signal(int)
    off_wanted = Signal()
    photographs_wanted = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.view = RecordPhotographView(movable_pins=True)
        self.view.setMinimumHeight(112)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.view)
        self.empty = self._make_empty()
        self.caption = Tag("", self.view)
        self.asking = Tag("", self.view)
        self.pair = TagAct("Before and after", "divider", self.view)
        self.work = TagAct("Open photograph", "outline", self.view)
        self._bar = ScaleBar(self.view)
        self._loaded: RecordPhotograph | None = None
        self._pins: tuple[ViewPin, ...] = ()
        self.setting = False
        self.asking.hide()
        self._connect()

    @property
    def loaded(self) -> RecordPhotograph | None:
        """The photograph shown."""
        return self._loaded

    def show_loaded(
        self, loaded: RecordPhotograph | None, caption: str, pins: tuple[Numbered, ...] = ()
    ) -> None:
        """Show a photograph with its pins, or none; the same one keeps its zoom."""
        before = self._loaded
        same = (
            before is not None
            and loaded is not None
            and before.photograph.sha256 == loaded.photograph.sha256
        )
        self._loaded = loaded
        self.view.show_picture(None if loaded is None else loaded.picture, keep_view=same)
        self.caption.setText(caption)
        self.view.setAccessibleName(f"Photograph: {caption or 'none yet'}")
        for act in (self.pair, self.work):
            act.setVisible(loaded is not None)
        self.empty.setVisible(loaded is None and not caption)
        self.show_pins(pins)
        if not same:
            self.view.fit()
        self._place_tags()

    def show_pins(self, pins: tuple[Numbered, ...]) -> None:
        """Show pins, each with its number, spot and words."""
        wide, high = self._size()
        self._pins = tuple(
            ViewPin(
                number=number,
                spot=(spot.x * wide, spot.y * high),
                balloon=(spot.balloon_x * wide, spot.balloon_y * high),
                text=text,
            )
            for number, spot, text in pins
        )
        self.view.set_pins(self._pins)

    def ask_for_pin(self, number: str) -> None:
        """Start setting a pin: the next click sets it, Esc cancels."""
        self.setting = True
        spot = f"where defect {number} is" if number else "where the defect is"
        self.asking.setText(f"Click {spot}. Enter: middle of the view. Esc: cancel")
        self.asking.show()
        self.view.esc_first = True
        self.view.setCursor(Qt.CursorShape.CrossCursor)
        self.view.setFocus()
        self._place_tags()

    def stop_asking(self) -> None:
        """Stop setting a pin."""
        if self.setting:
            self.setting = self.view.esc_first = False
            self.asking.hide()
            self.view.unsetCursor()

    @override
    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        if self.view.viewport.fitted:
            self.view.fit()
        self._place_tags()

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setPen(QPen(QColor(tokens_now().edge), 1))
        painter.drawRect(QRectF(self.rect()).adjusted(0, 0, -1, -1))

    def _connect(self) -> None:
        self.view.work_wanted.connect(self._enter)
        self.view.pair_wanted.connect(self.pair_wanted)
        self.view.esc_pressed.connect(self.stop_asking)
        self.view.off_wanted.connect(self.off_wanted)
        self.view.clicked.connect(self._clicked)
        self.view.double_clicked.connect(lambda _spot: self.work_wanted.emit())
        self.view.pin_chosen.connect(self.pin_chosen)
        self.view.pin_moved.connect(self._moved)
        self.view.view_changed.connect(self._place_tags)
        self.pair.clicked.connect(self.pair_wanted)
        self.work.clicked.connect(self.work_wanted)

    def _make_empty(self) -> QWidget:
        """Return what is shown while there is no photograph."""
        box = QWidget(self.view)
        column = QVBoxLayout(box)
        column.setSpacing(12)
        middle = Qt.AlignmentFlag.AlignHCenter
        column.addWidget(heading("No photograph yet"), 0, middle)
        how = "Drop files here, paste with Ctrl+V, or add them from a card or folder."
        column.addWidget(Label(how, ink=Ink.MUTED), 0, middle)
        come = ActionButton("Add photographs")
        come.clicked.connect(self.photographs_wanted)
        column.addWidget(come, 0, middle)
        box.hide()
        return box

    def _enter(self) -> None:
        if self.setting:
            room = self.view.size()
            self._clicked(self.view.photo_point(QPointF(room.width() / 2, room.height() / 2)))
        else:
            self.work_wanted.emit()

    def _clicked(self, at: QPointF) -> None:
        if not self.setting or self._loaded is None:
            return
        wide, high = self._size()
        x, y = _inside(at.x() / wide), _inside(at.y() / high)
        away = 1 if x < 0.5 else -1  # noqa: PLR2004 (the balloon goes toward the middle)
        spot = PinPosition(
            x=x, y=y, balloon_x=_inside(x + away * _AWAY), balloon_y=_inside(y - _AWAY * 1.3)
        )
        self.stop_asking()
        self.pin_set.emit(spot)

    def _moved(self, pin: ViewPin) -> None:
        before = next((one for one in self._pins if one.number == pin.number), None)
        if before == pin:
            return
        wide, high = self._size()
        spot = PinPosition(
            x=_inside(pin.spot[0] / wide),
            y=_inside(pin.spot[1] / high),
            balloon_x=_inside(pin.balloon[0] / wide),
            balloon_y=_inside(pin.balloon[1] / high),
        )
        self.pin_moved.emit(pin.number, spot)

    def _size(self) -> tuple[float, float]:
        if self._loaded is None:
            return 1.0, 1.0
        size = self._loaded.picture.size
        return size.width(), size.height()

    def _place_tags(self) -> None:
        wide, high = self.view.width(), self.view.height()
        for tag in (self.caption, self.asking, self.pair, self.work):
            tag.resize(tag.sizeHint())
        self.caption.move(_EDGE, _EDGE)
        self.asking.move((wide - self.asking.width()) // 2, high - _EDGE - self.asking.height())
        self.work.move(wide - _EDGE - self.work.width(), _EDGE)
        self.pair.move(self.work.x() - 8 - self.pair.width(), _EDGE)
        self.caption.setVisible(bool(self.caption.text()))
        self.empty.adjustSize()
        middle = self.view.rect().center() - self.empty.rect().center()
        self.empty.move(middle)
        self._show_bar()
        self._bar.move(_EDGE, high - _EDGE - self._bar.height())

    def _show_bar(self) -> None:
        known = None if self._loaded is None else self._loaded.mm_per_px
        if not known:
            self._bar.show_length(0, "")
            return
        per_mm = self.view.viewport.zoom / known
        length = max((one for one in _LENGTHS if one * per_mm <= _BAR_WIDTH), default=0)
        self._bar.show_length(length * per_mm, f"{length} mm" if length else "")


def _inside(share: float) -> float:
    return min(1.0, max(0.0, share))
