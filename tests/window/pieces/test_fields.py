"""Fields keep what was written when it is left, and say what is wrong beneath."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QLabel, QWidget
from pytestqt.qtbot import QtBot

from planebench.errors import InputError
from planebench.window.pieces.field import Field, LabeledControl, TextField


def test_what_is_written_is_kept_by_enter_once(qtbot: QtBot) -> None:
    field = Field("name", text="Block plane")
    qtbot.addWidget(field)
    kept: list[str] = []
    field.kept.connect(kept.append)
    field.line.selectAll()

    qtbot.keyClicks(field.line, "Smoother")
    qtbot.keyClick(field.line, Qt.Key.Key_Return)
    qtbot.keyClick(field.line, Qt.Key.Key_Return)

    assert kept == ["Smoother"]


def test_escape_puts_back_what_was_there(qtbot: QtBot) -> None:
    field = Field("name", text="Block plane")
    qtbot.addWidget(field)

    qtbot.keyClicks(field.line, " pattern B")
    qtbot.keyClick(field.line, Qt.Key.Key_Escape)

    assert field.text == "Block plane"


def test_news_from_the_catalog_do_not_write_over_a_person(qtbot: QtBot) -> None:
    field = Field("name", text="Block plane")
    qtbot.addWidget(field)
    field.show()
    field.activateWindow()
    field.setFocus()
    qtbot.waitUntil(field.line.hasFocus)

    qtbot.keyClicks(field.line, "!")
    field.set_text("Jack plane")

    assert field.text == "Block plane!"


def test_trouble_that_names_its_field_in_other_words_names_it_once(qtbot: QtBot) -> None:
    field = Field("Distance apart", text="abc")
    qtbot.addWidget(field)

    field.show_trouble(
        InputError("distance: “abc” is no length.", remedy="Try 41 mm.", subject="distance")
    )

    assert field.trouble == "Distance apart: “abc” is no length. Try 41 mm."


def test_trouble_names_the_field_and_what_would_do_and_goes_again(qtbot: QtBot) -> None:
    field = Field("cutter width", text="1 5/0")
    qtbot.addWidget(field)

    field.show_trouble(InputError("Nothing can be divided by 0.", remedy="Try 1 5/8."))

    assert field.trouble == "cutter width: Nothing can be divided by 0. Try 1 5/8."
    assert field.line.accessibleDescription() == field.trouble
    assert field.line.property("wrong") is True
    field.show_trouble(None)
    assert not field.trouble
    assert field.line.property("wrong") is False


def test_several_lines_are_kept_when_the_box_is_left(qtbot: QtBot) -> None:
    box = TextField("remark")
    qtbot.addWidget(box)
    box.show()
    box.activateWindow()
    box.setFocus()
    qtbot.waitUntil(box.box.hasFocus)

    qtbot.keyClicks(box.box, "a long remark")
    with qtbot.waitSignal(box.kept) as told:
        box.box.clearFocus()

    assert told.args == ["a long remark"]


def test_a_label_leads_to_its_control(qtbot: QtBot) -> None:
    field = Field("sole")
    labeled = LabeledControl("sole", field, beside=80)
    qtbot.addWidget(labeled)

    assert labeled.findChildren(QLabel)[0].buddy() is field
    assert field.line.accessibleName() == "sole"


def test_trouble_in_a_narrow_field_stands_whole_beneath_it(qtbot: QtBot) -> None:
    page = QWidget()
    qtbot.addWidget(page)
    row = QHBoxLayout(page)
    field = Field("Time spent")
    row.addWidget(LabeledControl("Time spent", field), 0, Qt.AlignmentFlag.AlignTop)
    page.setFixedSize(150, 400)
    page.show()
    error = InputError("“two moons” cannot be read as a time spent.", remedy="Try 45 min.")

    field.show_trouble(error)
    words = field._trouble
    qtbot.waitUntil(lambda: words.height() >= words.heightForWidth(words.width()))

    assert words.y() >= field.line.geometry().bottom()


def test_trouble_names_its_field_once_when_the_error_names_it_too(qtbot: QtBot) -> None:
    field = Field("Bought on")
    qtbot.addWidget(field)

    field.show_trouble(InputError("Bought on: 3/4 can be two days.", remedy="Write 3 April."))

    assert field.trouble == "Bought on: 3/4 can be two days. Write 3 April."
