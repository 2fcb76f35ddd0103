"""What is shown while no catalog is open."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtGui import QGuiApplication
from pytestqt.qtbot import QtBot

from planebench.window.pieces.buttons import ActionButton
from planebench.window.pieces.text import LinkButton
from planebench.window.screens.first_start.first_start_screen import FirstStartScreen
from planebench.window.screens.trouble.trouble_screen import TroubleFact, TroubleScreen


@pytest.mark.parametrize(
    ("words", "signal"),
    [
        ("Open the sample", "sample_wanted"),
        ("New catalog", "new_wanted"),
        ("Open a catalog", "open_wanted"),
        ("Print cards", "cards_wanted"),
    ],
)
def test_each_of_the_four_ways_on_is_told(qtbot: QtBot, words: str, signal: str) -> None:
    first = FirstStartScreen()
    qtbot.addWidget(first)
    act = next(act for act in first.findChildren(ActionButton) if act.text() == words)

    with qtbot.waitSignal(getattr(first, signal)):
        qtbot.keyClick(act, Qt.Key.Key_Space)


def test_the_catalog_opened_last_comes_first_and_the_others_are_named(
    qtbot: QtBot, tmp_path: Path
) -> None:
    first = FirstStartScreen(recent=[tmp_path / "Wendholm workshop", tmp_path / "Tarrow planes"])
    qtbot.addWidget(first)
    first.show()
    go_on = next(act for act in first.findChildren(ActionButton) if act.text() == "Continue")
    name = next(link for link in first.findChildren(LinkButton) if link.text() == "Tarrow planes")

    with qtbot.waitSignal(first.recent_wanted) as last:
        qtbot.keyClick(go_on, Qt.Key.Key_Space)
    with qtbot.waitSignal(first.recent_wanted) as other:
        qtbot.keyClick(name, Qt.Key.Key_Return)

    assert first.regions[0] is go_on
    assert last.args == [str(tmp_path / "Wendholm workshop")]
    assert other.args == [str(tmp_path / "Tarrow planes")]


def test_the_sample_is_asked_for_once_while_it_is_laid_out(qtbot: QtBot) -> None:
    class Work(QObject):
        ended = Signal()

    work, first = Work(), FirstStartScreen()
    qtbot.addWidget(first)
    sample = next(
        act for act in first.findChildren(ActionButton) if act.text() == "Open the sample"
    )
    first.show_preparing_sample(work.ended)
    waiting = (sample.text(), sample.isEnabled())
    work.ended.emit()

    assert waiting == ("Preparing…", False)
    assert (sample.text(), sample.isEnabled()) == ("Open the sample", True)


@pytest.fixture
def trouble(qtbot: QtBot) -> TroubleScreen:
    made = TroubleScreen(
        happened="This catalog is open on another machine. Nothing was changed.",
        remedy="Close it there and try again.",
        subject="Wendholm workshop",
        facts=[TroubleFact(name="held by", text="BENCH-2")],
    )
    qtbot.addWidget(made)
    return made


def act_of(trouble: TroubleScreen, words: str) -> ActionButton:
    return next(act for act in trouble.findChildren(ActionButton) if act.text() == words)


def test_trouble_can_be_tried_again_or_left_for_another_catalog(
    qtbot: QtBot, trouble: TroubleScreen
) -> None:
    with qtbot.waitSignal(trouble.try_again_wanted):
        act_of(trouble, "Try again").click()
    with qtbot.waitSignal(trouble.other_wanted):
        act_of(trouble, "Open another catalog").click()


def test_the_whole_message_can_be_copied(trouble: TroubleScreen) -> None:
    act_of(trouble, "Copy message").click()

    copied = QGuiApplication.clipboard().text()
    assert copied == (
        "This catalog is open on another machine. Nothing was changed.\n"
        "catalog: Wendholm workshop\nheld by: BENCH-2\nClose it there and try again."
    )


def test_looking_without_changing_is_offered_only_where_it_can_be_done(
    qtbot: QtBot, trouble: TroubleScreen
) -> None:
    can = TroubleScreen(happened="Held elsewhere.", remedy="Look.", can_look=True)
    qtbot.addWidget(can)

    with qtbot.waitSignal(can.look_wanted):
        act_of(can, "Open read-only").click()

    assert "Open read-only" not in {a.text() for a in trouble.findChildren(ActionButton)}
