"""Colors and sizes of the window, by the names of the design."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtGui import QColor, QGuiApplication, QPalette


@dataclass(frozen=True, slots=True, kw_only=True)
class Tokens:
    """Colors of one theme as #RRGGBB.

    `edge` borders controls; `line` is for rules without meaning; `chosen` is the ground of a
    selected row.
    """

    ground: str
    panel: str
    field: str
    ink: str
    muted: str
    edge: str
    line: str
    brass: str
    rust: str
    verdigris: str
    chosen: str


LIGHT = Tokens(
    ground="#FAF7F0",
    panel="#F1ECE0",
    field="#FFFFFF",
    ink="#22262B",
    muted="#5C6167",
    edge="#857A63",
    line="#CFC6B3",
    brass="#7D5A17",
    rust="#973C1B",
    verdigris="#23655A",
    chosen="#E9E0C9",
)
DARK = Tokens(
    ground="#1D2023",
    panel="#26292D",
    field="#17191C",
    ink="#ECE7DC",
    muted="#ABA89F",
    edge="#7C7F80",
    line="#3A3E43",
    brass="#DDB56A",
    rust="#EC936F",
    verdigris="#83C7B6",
    chosen="#363026",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class OnPhotograph:
    """Colors of marks on a photograph, the same in both themes."""

    paper: str = "#FAF7F0"
    ink: str = "#22262B"
    edge: str = "#857A63"
    kept: str = "#83C7B6"
    lost: str = "#FFD2BC"
    lost_ground: str = "#973C1B"
    cannot_tell: str = "#FAF7F0"
    shade: str = "#17191C"
    outline: str = "#DDB56A"
    brass: str = "#7D5A17"


ON_PHOTOGRAPH = OnPhotograph()

# Text sizes, steps of space, heights and line widths, in pixels.
NOTE, TEXT, SECTION, TITLE = 12, 14, 18, 24
CONTROL_HEIGHT = 32
# WCAG 2.2, success criterion 2.5.8: what is clicked is at least so wide and high.
SMALLEST_TARGET = 24
TOOL_ROW = 76
PAGE_EDGE = 24
RADIUS = 2
ICON_LINE, FOCUS_LINE, NOTE_BAR = 1.5, 2, 4

_HALF_LIGHT = 128


def tokens_now() -> Tokens:
    """Return the current colors: those of the palette that the theme set."""
    ground = QGuiApplication.palette().color(QPalette.ColorRole.Window)
    return DARK if ground.lightness() < _HALF_LIGHT else LIGHT


def faded(color: str, share: float) -> QColor:
    """Return a color of which `share` (0 to 1) covers what lies beneath."""
    mixed = QColor(color)
    mixed.setAlphaF(share)
    return mixed
