"""Light and dark, changed while the program runs."""

from __future__ import annotations

from PySide6.QtGui import QGuiApplication, QPalette
from pytestqt.qtbot import QtBot

from planebench.window.pieces.text import Ink, Label
from planebench.window.theme import Theme, ThemeChoice, palette, style_sheet
from planebench.window.tokens import DARK, LIGHT, tokens_now


def test_choosing_dark_changes_the_colors_in_force_and_tells_of_it(
    qtbot: QtBot, theme: Theme
) -> None:
    with qtbot.waitSignal(theme.changed) as heard:
        theme.choose(ThemeChoice.DARK)

    assert heard.args == [DARK]
    assert tokens_now() == DARK
    ground = QGuiApplication.palette().color(QPalette.ColorRole.Window)
    assert ground.name().upper() == DARK.ground


def test_choosing_what_is_in_force_tells_nothing(qtbot: QtBot, theme: Theme) -> None:
    with qtbot.assertNotEmitted(theme.changed):
        theme.choose(ThemeChoice.LIGHT)

    assert theme.tokens == LIGHT


def test_words_take_the_new_color_without_being_made_anew(qtbot: QtBot, theme: Theme) -> None:
    label = Label("not dated", ink=Ink.RUST)
    qtbot.addWidget(label)
    label.show()

    theme.choose(ThemeChoice.DARK)

    shown = label.palette().color(label.foregroundRole())
    assert shown.name().upper() == DARK.rust


def test_no_token_is_left_unfilled_in_the_style_sheet() -> None:
    assert "$" not in style_sheet(LIGHT)


def test_what_is_not_now_is_muted_in_the_palette() -> None:
    made = palette(DARK)

    off = made.color(QPalette.ColorGroup.Disabled, QPalette.ColorRole.ButtonText)
    assert off.name().upper() == DARK.muted
