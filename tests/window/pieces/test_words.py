"""Words on a screen."""

from __future__ import annotations

from pytestqt.qtbot import QtBot

from planebench.window.pieces.text import Label

ADDRESS = "https://www.example.org/" + "a-long-way/" * 20


def test_an_address_without_a_blank_runs_over_several_lines(qtbot: QtBot) -> None:
    words = Label(f"seen at {ADDRESS}").wrapped()
    qtbot.addWidget(words)

    words.setText(f"then at {ADDRESS}")

    assert words.minimumSizeHint().width() < 300
    assert words.heightForWidth(300) > 3 * words.fontMetrics().height()
    assert words.text() == f"then at {ADDRESS}"
