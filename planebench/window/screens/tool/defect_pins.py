"""Pins of defects: set, moved, removed and highlighted on photograph and list alike."""

from __future__ import annotations

from PySide6.QtCore import QObject

from planebench.catalog.catalog import Catalog
from planebench.catalog.ids import DefectId, PhotographId
from planebench.catalog.photographs import PinPosition
from planebench.catalog.values import Defect, Pin
from planebench.window.context import ScreenContext
from planebench.window.screens.tool.defects_section import DefectsSection
from planebench.window.screens.tool.photo_pane import Numbered, PhotographPane
from planebench.window.screens.tool.record_editor import RecordEditor
from planebench.window.screens.tool.record_wording import defect_words
from planebench.window.screens.tool.tool_model import ToolModel


class DefectPins(QObject):
    """Keeps the pins on the photograph and the list of defects in step."""

    def __init__(
        self,
        context: ScreenContext,
        editor: RecordEditor,
        picture: PhotographPane,
        defects: DefectsSection,
    ) -> None:
        super().__init__(picture)
        self._catalog: Catalog = context.catalog
        self._notices = context.notices
        self._editor = editor
        self._picture = picture
        self._defects = defects
        self._shown: ToolModel | None = None
        self._asked: DefectId | None = None
        self._lit: DefectId | None = None
        picture.pin_set.connect(self._set)
        picture.pin_moved.connect(self._move)
        picture.pin_chosen.connect(self._chosen)
        picture.off_wanted.connect(self._remove)
        defects.row_focused.connect(self._stood_on)
        defects.pin_wanted.connect(self._ask)

    def show(self, shown: ToolModel) -> None:
        """Take a freshly read record."""
        self._shown = shown

    def numbered(self, photograph: str) -> tuple[Numbered, ...]:
        """Return the pins of a photograph: number, spot and words of each defect."""
        if self._shown is None:
            return ()
        found = ((self._defect(pin.defect), pin) for pin in self._shown.pins_on(photograph))
        return tuple(
            (
                one.number,
                PinPosition(x=pin.x, y=pin.y, balloon_x=pin.balloon_x, balloon_y=pin.balloon_y),
                defect_words(one, self._shown.part(one.part)),
            )
            for one, pin in found
            if one is not None
        )

    def _ask(self, defect: str) -> None:
        loaded = self._picture.loaded
        if loaded is None:
            self._notices.advise(
                "There is no photograph to set a pin on.", remedy="Add photographs first."
            )
            return
        self._asked = DefectId(defect)
        one = self._defect(self._asked)
        # A defect added just now is not in the record that was read before.
        self._picture.ask_for_pin("" if one is None else str(one.number))

    def _set(self, spot: PinPosition) -> None:
        photograph, defect = self._photograph(), self._asked
        self._asked = None
        if photograph is None or defect is None:
            return
        self._lit = defect
        add = self._catalog.pins.add_defect
        self._editor.add(lambda: add(photograph, defect, spot))

    def _move(self, number: int, spot: PinPosition) -> None:
        pin = self._pin(number)
        if pin is not None:
            self._editor.change(lambda: self._catalog.pins.move(pin.id, spot))

    def _remove(self) -> None:
        one = self._defect(self._lit)
        pin = None if one is None else self._pin(one.number)
        if pin is not None:
            self._editor.change(lambda: self._catalog.pins.take_off(pin.id))

    def _chosen(self, number: int) -> None:
        one = next((d for d in self._all() if d.number == number), None)
        if one is not None:
            self.light(one.id)

    def _stood_on(self, key: str) -> None:
        self.light(DefectId(key) if self._defect(DefectId(key)) is not None else None)

    def light(self, defect: DefectId | None) -> None:
        """Highlight one defect on the photograph and in the list, or none."""
        self._lit = defect
        one = self._defect(defect)
        self._picture.view.highlight_pin(None if one is None else one.number)
        self._defects.light(defect)

    def light_again(self) -> None:
        """Highlight the same defect again after the record was read again."""
        self.light(self._lit)

    def _all(self) -> tuple[Defect, ...]:
        return () if self._shown is None else self._shown.tool.defects

    def _defect(self, defect: DefectId | None) -> Defect | None:
        return next((one for one in self._all() if one.id == defect), None)

    def _photograph(self) -> PhotographId | None:
        loaded = self._picture.loaded
        return None if loaded is None else loaded.photograph.id

    def _pin(self, number: int) -> Pin | None:
        photograph = self._photograph()
        one = next((d for d in self._all() if d.number == number), None)
        if photograph is None or one is None or self._shown is None:
            return None
        on = self._shown.pins_on(photograph)
        return next((pin for pin in on if pin.defect == one.id), None)
