"""The base of all screens: what each tells the window around it."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from planebench.catalog.ids import BatchId, ToolId


@dataclass(frozen=True, slots=True, kw_only=True)
class ScreenTitle:
    """What the title line shows: the title, the level up, and a remark beside that."""

    text: str
    up: str = ""
    remark: str = ""


class Screen(QWidget):
    """The base of a screen.

    A screen calls `set_title` when it knows what it shows, `set_title_buttons` with at most four
    controls for the title line, `set_regions` with what F6 goes through, and `set_keys` with what
    F1 lists.
    Signals: `titled(ScreenTitle)`; `title_buttons_changed()`; `up_wanted()` by Esc or the link to
    the level up; `go(Route)` to go to another screen; `went_idle()` when it is no longer `busy`.
    """

    titled = Signal(object)
    title_buttons_changed = Signal()
    up_wanted = Signal()
    go = Signal(object)
    went_idle = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        # Two underscores: a screen may have attributes of the same names.
        self.__title = ScreenTitle(text="")
        self.__title_buttons: tuple[QWidget, ...] = ()
        self.__regions: tuple[QWidget, ...] = ()
        self.__keys: tuple[tuple[str, str], ...] = ()

    @property
    def title(self) -> ScreenTitle:
        """What the title line shows."""
        return self.__title

    @property
    def title_buttons(self) -> tuple[QWidget, ...]:
        """The controls at the right end of the title line."""
        return self.__title_buttons

    @property
    def regions(self) -> tuple[QWidget, ...]:
        """What F6 goes through after the title, in order."""
        return self.__regions

    @property
    def keys(self) -> tuple[tuple[str, str], ...]:
        """The keys of this screen and what each does."""
        return self.__keys

    @property
    def selected_tools(self) -> tuple[ToolId, ...]:
        """The tools that the menus act on here."""
        return ()

    @property
    def current_batch(self) -> BatchId | None:
        """The batch that is shown, if any."""
        return None

    @property
    def busy(self) -> bool:
        """Whether work is running here to come back to; the screen is kept meanwhile."""
        return False

    def serves(self, _route: object) -> bool:
        """Return whether this screen, left while busy, can serve a route."""
        return False

    @property
    def find_words(self) -> str:
        """The words that the find field shows on this screen."""
        return ""

    def open_selected(self) -> None:
        """Open what is selected, by Enter in the find field; a screen without a list ignores it."""

    def set_title(self, text: str, *, up: str = "", remark: str = "") -> None:
        """Set the title; `up` names the level above."""
        self.__title = ScreenTitle(text=text, up=up, remark=remark)
        self.titled.emit(self.__title)

    def set_title_buttons(self, *buttons: QWidget) -> None:
        """Set the controls at the right end of the title line."""
        self.__title_buttons = buttons
        self.title_buttons_changed.emit()

    def set_regions(self, *regions: QWidget) -> None:
        """Set what F6 goes through, in order."""
        self.__regions = regions

    def set_keys(self, *keys: tuple[str, str]) -> None:
        """Set the keys that F1 lists, each with what it does."""
        self.__keys = keys
