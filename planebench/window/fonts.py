"""The two typefaces of the window, with lining and tabular figures."""

from __future__ import annotations

import logging
from functools import cache

from PySide6.QtGui import QFont, QFontDatabase

from planebench.window.resources import resource_folder
from planebench.window.tokens import TEXT, TITLE

log = logging.getLogger("planebench.window")

_TEXT_FAMILIES = (
    "Planebench Sans",
    "Segoe UI",
    "SF Pro Text",
    "Helvetica Neue",
    "Noto Sans",
    "DejaVu Sans",
)
_TITLE_FAMILIES = ("Vollkorn", "Georgia", "New York", "Palatino", "P052", "DejaVu Serif")
# Vollkorn has old-style figures unless lining ones are asked for; tabular ones line up in columns.
_LINING, _TABULAR = QFont.Tag("lnum"), QFont.Tag("tnum")


@cache
def load_fonts() -> tuple[str, ...]:
    """Load the typefaces that come with the program; return the families found."""
    families: set[str] = set()
    for file in sorted(resource_folder("fonts").glob("*.ttf")):
        number = QFontDatabase.addApplicationFont(str(file))
        if number < 0:
            log.error("%s could not be loaded", file.name)
            continue
        families.update(QFontDatabase.applicationFontFamilies(number))
    return tuple(sorted(families))


def text_font(size: int = TEXT, *, strong: bool = False) -> QFont:
    """Return the font for text and figures; `size` in pixels."""
    weight = QFont.Weight.DemiBold if strong else QFont.Weight.Normal
    return _font(_TEXT_FAMILIES, size, weight)


def title_font(size: int = TITLE) -> QFont:
    """Return the font for titles and the one big reading; `size` in pixels."""
    return _font(_TITLE_FAMILIES, size, QFont.Weight.Medium)


def _font(families: tuple[str, ...], size: int, weight: QFont.Weight) -> QFont:
    load_fonts()
    font = QFont(list(families))
    font.setPixelSize(size)
    font.setWeight(weight)
    font.setFeature(_LINING, 1)
    font.setFeature(_TABULAR, 1)
    font.setHintingPreference(QFont.HintingPreference.PreferVerticalHinting)
    return font
