"""Reading the scale card that lies on a photograph taken in without looking for one."""

from __future__ import annotations

from PySide6.QtCore import QObject

from planebench.catalog.import_cards import CardSeen, card_on
from planebench.catalog.values import Photograph
from planebench.window.context import ScreenContext
from planebench.window.screens.photograph.model import PhotographModel
from planebench.window.screens.photograph.scale_panel import ScalePanel


class CardWork(QObject):
    """Searches the photograph for a card when the panel asks for it, and writes its scale."""

    def __init__(self, given: ScreenContext, panel: ScalePanel, parent: QObject) -> None:
        super().__init__(parent)
        self._given = given
        self._panel = panel
        self._shown: PhotographModel | None = None
        panel.card_wanted.connect(self._search)

    def show(self, shown: PhotographModel) -> None:
        """Take over what the catalog has."""
        self._shown = shown

    def _search(self) -> None:
        if self._shown is None:
            return
        photograph, vault = self._shown.photograph, self._given.catalog.vault
        self._panel.card.set_busy("Searching")
        self._given.jobs.read(
            lambda _job: card_on(vault, photograph),
            done=lambda seen: self._found(photograph, seen),
            failed=self._failed,
            owner=self,
            text="Searching for a scale card",
        )

    def _found(self, photograph: Photograph, seen: CardSeen | None) -> None:
        self._panel.card.set_busy("")
        if seen is None:
            self._given.notices.advise(
                "No scale card was found on this photograph.",
                remedy="Give the scale by two points, by a ruler’s marks or by a rectangle.",
            )
            return
        self._tell_doubts(seen)
        catalog = self._given.catalog
        self._given.jobs.edit(
            lambda _job: catalog.photographs.set_scale(photograph.id, seen.scale),
            done=self._given.edits.happened.emit,
        )

    def _tell_doubts(self, seen: CardSeen) -> None:
        tool = None if self._shown is None else self._shown.tool
        if tool is not None and seen.stock and seen.stock != tool.line.stock_number:
            self._given.notices.advise(
                f"The card on this photograph says {seen.stock}, not {tool.line.stock_number}.",
                remedy="Its scale is used. See whether the photograph is filed under its own tool.",
            )
        elif seen.warnings:
            self._given.notices.advise(" ".join(seen.warnings))

    def _failed(self, error: Exception) -> None:
        self._panel.card.set_busy("")
        self._given.notices.trouble(error)
