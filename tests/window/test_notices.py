"""Messages reach a person, also those told before there was a window."""

from __future__ import annotations

import pytest
from pytestqt.qtbot import QtBot

from planebench.errors import FileError
from planebench.window.notice_bar import NoticeBar
from planebench.window.notices import Notice, Notices, Tone
from planebench.window.pieces.buttons import ActionButton


def test_what_was_told_early_waits_and_keeps_its_order() -> None:
    notices, shown = Notices(), []
    notices.advise("first")
    notices.advise("second")

    notices.show_with(shown.append)
    notices.advise("third")

    assert [notice.happened for notice in shown] == ["first", "second", "third"]


def test_an_error_of_the_world_is_told_in_its_own_words() -> None:
    notices, shown = Notices(), []
    notices.show_with(shown.append)

    notices.trouble(FileError("The file ends early.", remedy="Copy it again.", subject="a.jpg"))

    assert shown == [
        Notice(
            tone=Tone.TROUBLE,
            happened="The file ends early.",
            remedy="Copy it again.",
            subject="a.jpg",
        )
    ]
    assert shown[0].text == "The file ends early. Copy it again."


def test_an_error_inside_the_program_is_called_one_and_logged(
    caplog: pytest.LogCaptureFixture,
) -> None:
    notices, shown = Notices(), []
    notices.show_with(shown.append)

    notices.trouble(ZeroDivisionError("division by zero"))

    assert "Something went wrong in the program" in shown[0].happened
    assert "an unexpected error" in caplog.text
    caplog.clear()


def test_a_message_stays_until_it_is_closed(qtbot: QtBot) -> None:
    strip = NoticeBar()
    qtbot.addWidget(strip)
    assert strip.isHidden()
    for number in range(4):
        strip.show_notice(Notice(tone=Tone.ADVICE, happened=f"message {number}"))

    close = next(act for act in strip.findChildren(ActionButton) if act.text() == "Close")
    close.click()

    assert len(strip.texts) == 3
    assert not strip.isHidden()


def test_advice_goes_with_the_place_and_trouble_stays(qtbot: QtBot) -> None:
    strip = NoticeBar()
    qtbot.addWidget(strip)
    strip.show_notice(Notice(tone=Tone.TROUBLE, happened="The disk is full."))
    strip.show_notice(Notice(tone=Tone.ADVICE, happened="Saved as sheet.pdf."))

    strip.leave_screen()

    assert [text.partition(".")[0] for text in strip.texts] == ["Trouble: The disk is full"]
