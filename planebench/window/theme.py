"""Light and dark: the palette and the style sheet, changed while the program runs."""

from __future__ import annotations

from dataclasses import asdict
from enum import Enum
from string import Template

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtGui import QColor, QPalette
from PySide6.QtWidgets import QApplication

from planebench.window.fonts import load_fonts, text_font
from planebench.window.pieces.focus_ring import FocusRing
from planebench.window.resources import resource_folder
from planebench.window.spoken_roles import install_spoken_roles
from planebench.window.tokens import DARK, LIGHT, Tokens


class ThemeChoice(Enum):
    """The themes to choose from."""

    SYSTEM = "as the system"
    LIGHT = "light"
    DARK = "dark"


# By the names that the program's settings keep.
THEMES_BY_NAME = {
    "system": ThemeChoice.SYSTEM,
    "light": ThemeChoice.LIGHT,
    "dark": ThemeChoice.DARK,
}


class Theme(QObject):
    """Applies a theme to the application, again when the choice or the system changes.

    Signals: `changed(Tokens)` after the new colors are in force.
    """

    changed = Signal(object)

    def __init__(self, app: QApplication, choice: ThemeChoice = ThemeChoice.SYSTEM) -> None:
        super().__init__(app)
        self._app = app
        self._choice = choice
        self._tokens: Tokens | None = None
        load_fonts()
        app.setStyle("Fusion")
        app.setFont(text_font())
        self._ring = FocusRing(app)
        install_spoken_roles()
        app.styleHints().colorSchemeChanged.connect(self._system_changed)
        self.choose(choice)

    @property
    def choice(self) -> ThemeChoice:
        """The theme chosen last."""
        return self._choice

    @property
    def tokens(self) -> Tokens:
        """The current colors."""
        return self._tokens or LIGHT

    def choose(self, choice: ThemeChoice) -> None:
        """Follow the system, or keep to light or dark."""
        self._choice = choice
        # The frame that the system draws around a window follows the hint.
        schemes = {
            ThemeChoice.SYSTEM: Qt.ColorScheme.Unknown,
            ThemeChoice.LIGHT: Qt.ColorScheme.Light,
            ThemeChoice.DARK: Qt.ColorScheme.Dark,
        }
        self._app.styleHints().setColorScheme(schemes[choice])
        self._apply()

    def _system_changed(self, _scheme: Qt.ColorScheme) -> None:
        self._apply()

    def _apply(self) -> None:
        tokens = self._wanted()
        if tokens is self._tokens:
            return
        self._tokens = tokens
        self._app.setPalette(palette(tokens))
        self._app.setStyleSheet(style_sheet(tokens))
        self.changed.emit(tokens)

    def _wanted(self) -> Tokens:
        if self._choice is ThemeChoice.SYSTEM:
            dark = self._app.styleHints().colorScheme() is Qt.ColorScheme.Dark
        else:
            dark = self._choice is ThemeChoice.DARK
        return DARK if dark else LIGHT


def palette(tokens: Tokens) -> QPalette:
    """Return the tokens in the roles by which Qt asks for colors."""
    role = QPalette.ColorRole
    colors = {
        role.Window: tokens.ground,
        role.WindowText: tokens.ink,
        role.Base: tokens.field,
        role.AlternateBase: tokens.panel,
        role.Text: tokens.ink,
        role.PlaceholderText: tokens.muted,
        role.Button: tokens.field,
        role.ButtonText: tokens.ink,
        role.BrightText: tokens.rust,
        role.Light: tokens.field,
        role.Midlight: tokens.line,
        role.Mid: tokens.edge,
        role.Dark: tokens.edge,
        role.Shadow: tokens.edge,
        role.Highlight: tokens.brass,
        role.HighlightedText: tokens.ground,
        role.Accent: tokens.brass,
        role.Link: tokens.brass,
        role.LinkVisited: tokens.verdigris,
        role.ToolTipBase: tokens.field,
        role.ToolTipText: tokens.ink,
    }
    made = QPalette()
    for each, color in colors.items():
        made.setColor(each, QColor(color))
    for each in (role.WindowText, role.Text, role.ButtonText):
        made.setColor(QPalette.ColorGroup.Disabled, each, QColor(tokens.muted))
    return made


def style_sheet(tokens: Tokens) -> str:
    """Return the style sheet with the tokens' colors in it."""
    template = (resource_folder("style") / "window.qss").read_text(encoding="utf-8")
    return Template(template).substitute(asdict(tokens))
