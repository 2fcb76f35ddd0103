"""Placing, moving and removing pins, and which subject is pinned next."""

from __future__ import annotations

from PySide6.QtCore import QObject, QPointF, Signal

from planebench.catalog.ids import PinId
from planebench.catalog.photographs import PinPosition
from planebench.window.context import ScreenContext
from planebench.window.photograph_names import Subject, subjects_of
from planebench.window.pieces import photo_view
from planebench.window.screens.photograph.photograph_model import (
    PhotographModel,
    balloon_for,
    view_pins,
)
from planebench.window.screens.photograph.photograph_panel import PinsPanel
from planebench.window.screens.photograph.photograph_view import PhotographView


class PinController(QObject):
    """Holds the selected subject. Signals: `set_wanted()` when it has no pin here."""

    set_wanted = Signal()

    def __init__(
        self, context: ScreenContext, view: PhotographView, panel: PinsPanel, parent: QObject
    ) -> None:
        super().__init__(parent)
        self.chosen = ""
        self._context = context
        self._view = view
        self._panel = panel
        self._model: PhotographModel | None = None
        self._ids: dict[int, PinId] = {}
        self._pins: tuple[photo_view.ViewPin, ...] = ()
        self._hidden = False
        panel.chosen.connect(self.choose)
        panel.remove_wanted.connect(self._remove_subject)
        view.pin_chosen.connect(self._pin_chosen)
        view.pin_moved.connect(self._move)
        view.pin_off_wanted.connect(self._remove)

    @property
    def subjects(self) -> tuple[Subject, ...]:
        """What pins can show."""
        return subjects_of(self._model.tool) if self._model else ()

    def show(self, model: PhotographModel) -> None:
        """Show what the catalog has."""
        self._model = model
        self._ids, self._pins = view_pins(model)
        if self.chosen not in {subject.key for subject in self.subjects}:
            self.chosen = ""
        self._show()

    def hide_pins(self, *, hidden: bool) -> None:
        """Hide the pins while something is drawn under them."""
        self._hidden = hidden
        self._view.set_pins(() if hidden else self._pins)

    def choose(self, key: str) -> None:
        """Select a subject: its pin is highlighted; one without a pin here can be set next."""
        self.chosen = key
        self._show()
        if self._number_of(key) is None:
            self.set_wanted.emit()

    def ready(self) -> bool:
        """Select a subject without a pin here, unless one is selected; False if there is none."""
        if not self.chosen and self.subjects:
            free = [one for one in self.subjects if self._number_of(one.key) is None]
            self.chosen = (free or list(self.subjects))[0].key
            self._show()
        return bool(self.chosen)

    def place(self, spot: QPointF) -> None:
        """Set the selected subject's pin, or move the one it has."""
        subject = next((one for one in self.subjects if one.key == self.chosen), None)
        if self._model is None or subject is None:
            return
        photograph, catalog = self._model.photograph, self._context.catalog
        wide, high = photograph.width, photograph.height
        x, y = min(max(spot.x() / wide, 0.0), 1.0), min(max(spot.y() / high, 0.0), 1.0)
        balloon = balloon_for(spot, photograph)
        where = PinPosition(x=x, y=y, balloon_x=balloon[0] / wide, balloon_y=balloon[1] / high)
        defect, evidence = subject.defect, subject.evidence
        if defect is not None:
            self._context.jobs.edit(
                lambda _job: catalog.pins.add_defect(photograph.id, defect, where).changes,
                done=self._context.edits.happened.emit,
            )
        elif evidence is not None:
            self._context.jobs.edit(
                lambda _job: catalog.pins.add_evidence(photograph.id, evidence, where).changes,
                done=self._context.edits.happened.emit,
            )

    def _number_of(self, key: str) -> int | None:
        pins = self._model.pins if self._model else ()
        ids = {pin.id for pin in pins if key in {pin.defect, pin.evidence}}
        return next((number for number, pin in self._ids.items() if pin in ids), None)

    def _pin_chosen(self, number: int) -> None:
        pins = self._model.pins if self._model else ()
        wanted = self._ids.get(number)
        for pin in pins:
            if pin.id == wanted:
                self.chosen = pin.defect or pin.evidence or ""
        self._show()

    def _move(self, pin: photo_view.ViewPin) -> None:
        found, model = self._ids.get(pin.number), self._model
        if found is None or model is None:
            return
        wide, high = model.photograph.width, model.photograph.height
        ends = (*pin.spot, *pin.balloon)
        shares = [v / s for v, s in zip(ends, (wide, high, wide, high), strict=True)]
        x, y, balloon_x, balloon_y = (min(max(share, 0.0), 1.0) for share in shares)
        spot = PinPosition(x=x, y=y, balloon_x=balloon_x, balloon_y=balloon_y)
        catalog = self._context.catalog
        old = next((one for one in self._pins if one.number == pin.number), None)
        if old == pin:
            return
        self._context.jobs.edit(
            lambda _job: catalog.pins.move(found, spot), done=self._context.edits.happened.emit
        )

    def _remove(self, number: int) -> None:
        found, catalog = self._ids.get(number), self._context.catalog
        if found is not None:
            self._view.highlight_pin(None)
            self._context.jobs.edit(
                lambda _job: catalog.pins.take_off(found), done=self._context.edits.happened.emit
            )

    def _remove_subject(self, key: str) -> None:
        number = self._number_of(key)
        if number is not None:
            self._remove(number)

    def _show(self) -> None:
        self._view.set_pins(() if self._hidden else self._pins)
        number = self._number_of(self.chosen) if self.chosen else None
        self._view.highlight_pin(number)
        pins = self._model.pins if self._model else ()
        pinned = {pin.defect or pin.evidence or "" for pin in pins}
        self._panel.show_subjects(self.subjects, pinned, self.chosen)
        self._say_next(number)

    def _say_next(self, number: int | None) -> None:
        """Show what can be done next; `number` is the selected subject's pin, if it has one."""
        chosen = next((one for one in self.subjects if one.key == self.chosen), None)
        if chosen is None:
            self._panel.say("Choose what the pin shows, press P and click the photograph.")
        elif number is None:
            self._panel.say(f"Press P; the next click sets {chosen.mark} on the photograph.")
        else:
            self._panel.say("Drag the pin or its balloon; arrows nudge the pin; Delete removes it.")
