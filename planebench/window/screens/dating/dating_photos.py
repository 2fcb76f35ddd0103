"""Photographs on the dating screen: the pinned evidence, and one to compare with a study."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QEvent, QPointF, Qt, Signal
from PySide6.QtGui import QImage, QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget
from typing_extensions import override

from planebench.catalog.catalog import Catalog
from planebench.catalog.ids import EvidenceId, PhotographId
from planebench.catalog.photographs import PinPosition
from planebench.catalog.reference import name_of
from planebench.catalog.values import EvidenceEntry, Photograph, Pin, Tool
from planebench.trade.terms import STAGE_WORDS
from planebench.window.context import ScreenContext
from planebench.window.jobs import LatestRead
from planebench.window.pieces.buttons import ActionButton
from planebench.window.pieces.choice_controls import DropDown
from planebench.window.pieces.esc_key import keeps_esc
from planebench.window.pieces.photo_view import PhotoView, ViewPin
from planebench.window.pieces.picture import Picture
from planebench.window.pieces.text import Label, LinkButton, small_label

_CLOSER = 3
_AWAY = 0.13
_EDGE = 0.05
_SHAPE, _SHAPE_LARGE = 0.52, 0.75


@dataclass(frozen=True, slots=True, kw_only=True)
class PinSet:
    """Where to set the pin of evidence."""

    photograph: PhotographId
    evidence: EvidenceId
    spot: PinPosition


class EvidencePhotograph(QWidget):
    """The photograph of evidence with its pin.

    Signals: `pin_set(PinSet)`; `photograph_wanted(PhotographId)` to work on it;
    `photographs_wanted()` where the tool has none.
    """

    pin_set = Signal(object)
    photograph_wanted = Signal(str)
    photographs_wanted = Signal()

    def __init__(self, context: ScreenContext, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._context = context
        self._reading = LatestRead(context.jobs, self)
        self._tool: Tool | None = None
        self._evidence: EvidenceEntry | None = None
        self._photo: PhotographId | None = None
        self._size = (1.0, 1.0)
        self._setting = False
        self._room = 0
        self.view = PhotoView(movable_pins=True)
        self.caption = small_label().wrapped()
        self.choice = DropDown("Photograph for the pin")
        self.set_pin = LinkButton("Set pin")
        self._work = LinkButton("Open the photograph")
        self._lay_out()
        self._connect()

    @property
    def is_setting(self) -> bool:
        """Whether a click on the photograph sets the pin."""
        return self._setting

    def show_evidence(self, tool: Tool, evidence: EvidenceEntry | None) -> None:
        """Show the photograph with the pin, else the latest of the tool."""
        other = self._evidence is None or evidence is None or self._evidence.id != evidence.id
        self._tool, self._evidence = tool, evidence
        if other:
            self._set_setting(on=False)
            self._photo = None
        self.choice.offer([(one.id, photo_words(one)) for one in tool.photographs])
        if not self._setting:
            pin = self._pin()
            self._photo = pin.photograph if pin is not None else _latest(tool.photographs)
        self._show_photo()

    def leave_setting(self) -> None:
        """Stop setting the pin."""
        self._set_setting(on=False)
        if self._tool is not None:
            self.show_evidence(self._tool, self._evidence)

    @override
    def event(self, event: QEvent) -> bool:
        return (self._setting and keeps_esc(event)) or super().event(event)

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape and self._setting:
            self.leave_setting()
            return
        super().keyPressEvent(event)

    def set_room(self, wide: int) -> None:
        """Set the width in px that decides the height of the photograph.

        It must not depend on the scroll bar: a photograph that shrinks when the bar appears makes
        the bar disappear again, and so on without end.
        """
        self._room = wide
        self._size_view()

    def _pin(self) -> Pin | None:
        if self._tool is None or self._evidence is None:
            return None
        pins = [pin for pin in self._tool.pins if pin.evidence == self._evidence.id]
        # Evidence may be pinned on several photographs; prefer the one shown.
        return min(pins, key=lambda pin: pin.photograph != self._photo, default=None)

    def _show_photo(self) -> None:
        photo, catalog = self._photo, self._context.catalog
        self._say()
        self.view.setVisible(photo is not None)
        if photo is None:
            return
        self.choice.hold(photo)
        self._reading.ask(lambda _job: picture_of(catalog, photo), done=self._show_picture)

    def _show_picture(self, picture: Picture) -> None:
        self._size = (picture.size.width(), picture.size.height())
        self.view.show_picture(picture)
        pin = self._pin()
        if pin is None or pin.photograph != self._photo or self._evidence is None:
            self.view.set_pins(())
            return
        wide, high = self._size
        shown = ViewPin(
            number=self._evidence.number,
            spot=(pin.x * wide, pin.y * high),
            balloon=(pin.balloon_x * wide, pin.balloon_y * high),
            text=self._evidence.seen,
        )
        self.view.set_pins((shown,))
        self.view.highlight_pin(shown.number)
        if not self._setting:
            self.view.zoom_by(_CLOSER)
            middle = (QPointF(*shown.spot) + QPointF(*shown.balloon)) / 2
            self.view.look_at(middle)

    def _say(self) -> None:
        """Show caption and actions of the photograph."""
        photo = self._photograph()
        self.choice.setVisible(self._setting)
        self._work.setVisible(photo is not None)
        self.set_pin.setVisible(self._evidence is not None)
        if photo is None:
            caption, act = "No photograph of this tool yet.", "Add photographs"
        elif self._setting:
            caption, act = "Click the spot on the photograph. Esc cancels.", "Cancel"
        else:
            caption, act = self._pinned_words(photo)
        self.caption.setText(caption)
        self.set_pin.setText(act)
        self.set_pin.setAccessibleName(act)

    def _photograph(self) -> Photograph | None:
        photographs = () if self._tool is None else self._tool.photographs
        return next((one for one in photographs if one.id == self._photo), None)

    def _pinned_words(self, photo: Photograph) -> tuple[str, str]:
        """Return a caption that says whether there is a pin, and the label of the action."""
        where, pinned = photo.caption or photo_words(photo), self._pin() is not None
        unpinned = self._evidence is not None and not pinned
        caption = f"{where}. Not pinned yet." if unpinned else f"{where.rstrip('.')}."
        return caption, "Move pin" if pinned else "Set pin"

    def _begin_or_leave(self) -> None:
        if self._photo is None:
            self.photographs_wanted.emit()
        elif self._setting:
            self.leave_setting()
        else:
            self._set_setting(on=True)
            self._show_photo()
            self.view.setFocus()

    def _size_view(self) -> None:
        """Set the height of the photograph: taller while setting a pin."""
        whole = self._setting or self._evidence is None
        self.view.setFixedHeight(round(self._room * (_SHAPE_LARGE if whole else _SHAPE)))

    def _set_setting(self, *, on: bool) -> None:
        self._setting = on
        self._size_view()
        self.view.setCursor(Qt.CursorShape.CrossCursor if on else Qt.CursorShape.ArrowCursor)

    def _choose(self, photo: str) -> None:
        self._photo = PhotographId(photo)
        self._show_photo()

    def _clicked(self, spot: QPointF) -> None:
        wide, high = self._size
        x, y = spot.x() / wide, spot.y() / high
        if self._setting and 0 <= x <= 1 and 0 <= y <= 1:
            self._set(PinPosition(x=x, y=y, **_balloon(x, y)))

    def _moved(self, pin: ViewPin) -> None:
        wide, high = self._size
        x, y = _inside(pin.spot[0] / wide), _inside(pin.spot[1] / high)
        bx, by = _inside(pin.balloon[0] / wide), _inside(pin.balloon[1] / high)
        self._set(PinPosition(x=x, y=y, balloon_x=bx, balloon_y=by))

    def _set(self, spot: PinPosition) -> None:
        if self._photo is None or self._evidence is None:
            return
        self._set_setting(on=False)
        self.pin_set.emit(PinSet(photograph=self._photo, evidence=self._evidence.id, spot=spot))

    def _connect(self) -> None:
        self.set_pin.clicked.connect(self._begin_or_leave)
        self._work.clicked.connect(lambda: self.photograph_wanted.emit(self._photo or ""))
        self.choice.chosen.connect(self._choose)
        self.view.clicked.connect(self._clicked)
        self.view.pin_moved.connect(self._moved)

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(8)
        column.addWidget(self.choice)
        column.addWidget(self.view)
        column.addWidget(self.caption)
        actions = QHBoxLayout()
        actions.setSpacing(16)
        actions.addWidget(self.set_pin)
        actions.addWidget(self._work)
        actions.addStretch(1)
        column.addLayout(actions)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)


def picture_of(catalog: Catalog, photograph: PhotographId) -> Picture:
    """Read a photograph for close inspection; run it in a job."""
    data = catalog.pictures.preview(catalog.photographs.one(photograph))
    return Picture.of_image(QImage.fromData(data))


def _latest(photographs: Sequence[Photograph]) -> PhotographId | None:
    return photographs[-1].id if photographs else None


def photo_words(photo: Photograph) -> str:
    """Return view and stage of a photograph."""
    view = name_of("views", photo.view) if photo.view else photo.original_name
    return f"{view[:1].upper()}{view[1:]}, {STAGE_WORDS[photo.stage]}"


def _balloon(x: float, y: float) -> dict[str, float]:
    """Return where the pin number goes beside a spot: toward the middle of the photograph."""
    way = -1 if x > 1 - _AWAY - _EDGE else 1
    up = 1 if y < _AWAY + _EDGE else -1
    return {"balloon_x": _inside(x + way * _AWAY), "balloon_y": _inside(y + up * _AWAY)}


def _inside(share: float) -> float:
    return min(max(share, 0.0), 1.0)


class StudyPhotograph(QWidget):
    """One photograph of a tool at any zoom, and a button for the next.

    Signals: `photographs_wanted()` where the tool has none.
    """

    photographs_wanted = Signal()

    def __init__(self, context: ScreenContext, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._context = context
        self._reading = LatestRead(context.jobs, self)
        self._shown = ""
        self.view = PhotoView()
        self.choice = DropDown("Photograph")
        self._next = ActionButton("Next")
        self._none = Label("No photograph of this tool yet.").wrapped()
        self._bring = LinkButton("Add photographs")
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 24, 24, 16)
        column.setSpacing(8)
        row = QHBoxLayout()
        row.setSpacing(8)
        row.addWidget(self.choice, 1)
        row.addWidget(self._next)
        column.addLayout(row)
        column.addWidget(self.view, 1)
        column.addWidget(self._none)
        column.addWidget(self._bring)
        column.addStretch(0)
        self.choice.chosen.connect(lambda _photo: self._look())
        self._next.clicked.connect(self._look_at_next)
        self._bring.clicked.connect(self.photographs_wanted)

    def show_tool(self, tool: Tool) -> None:
        """Offer a tool's photographs; the one shown stays."""
        held = self.choice.held
        photos = tool.photographs
        there = {photo.id for photo in photos}
        best = held if held in there else (photos[0].id if photos else "")
        self.choice.offer([(photo.id, photo_words(photo)) for photo in photos], holds=best)
        for part in (self.choice, self.view):
            part.setVisible(bool(photos))
        self._next.setVisible(len(photos) > 1)
        for words in (self._none, self._bring):
            words.setVisible(not photos)
        self._look()

    def _look_at_next(self) -> None:
        self.choice.setCurrentIndex((self.choice.currentIndex() + 1) % self.choice.count())
        self._look()

    def _look(self) -> None:
        held, catalog = self.choice.held, self._context.catalog
        if held and held != self._shown:
            self._shown = held
            photo = PhotographId(held)
            self._reading.ask(lambda _job: picture_of(catalog, photo), done=self.view.show_picture)
