"""Rows of lists: values in order, in words for those who listen."""

from __future__ import annotations

from PySide6.QtCore import QObject, QPointF, Qt
from PySide6.QtGui import QFontMetricsF, QImage, QPainter
from pytestqt.modeltest import ModelTester

from planebench.window.fonts import text_font
from planebench.window.pieces.painted_text import TextStyle, paint_text_line
from planebench.window.pieces.value_rows import VALUE_ROLE, ValueListModel
from planebench.window.theme import Theme


def test_rows_of_values_pass_qt_s_own_test_of_models(qtmodeltester: ModelTester) -> None:
    owner = QObject()
    rows: ValueListModel[int] = ValueListModel(str, owner)
    rows.show_values(range(3))

    qtmodeltester.check(rows)
    rows.show_values([])
    qtmodeltester.check(rows)


def test_a_row_gives_its_value_its_words_and_a_tip_only_where_wanted(theme: Theme) -> None:
    assert theme is not None
    owner = QObject()
    plain: ValueListModel[int] = ValueListModel("{} mm".format, owner)
    tipped: ValueListModel[int] = ValueListModel("{} mm".format, owner, tips=True)
    for rows in (plain, tipped):
        rows.show_values([240, 355])

    second = plain.index(1)

    assert plain.data(second, VALUE_ROLE) == 355
    assert plain.data(second) == "355 mm"
    assert plain.data(second, Qt.ItemDataRole.AccessibleTextRole) == "355 mm"
    assert plain.data(second, Qt.ItemDataRole.ToolTipRole) is None
    assert tipped.data(tipped.index(1), Qt.ItemDataRole.ToolTipRole) == "355 mm"
    assert (plain.value_at(0), plain.value_at(2), plain.value_at(-1)) == (240, None, None)


def test_a_line_that_finds_no_room_is_shortened_to_it(theme: Theme) -> None:
    image = QImage(400, 40, QImage.Format.Format_RGB32)
    image.fill(0)
    painter = QPainter(image)
    text, lettering = "Body, stoved japanning", TextStyle(text_font(), theme.tokens.ink)
    whole = QFontMetricsF(text_font()).horizontalAdvance(text)

    assert paint_text_line(painter, QPointF(0, 20), text, 400, lettering) == whole
    assert 0 < paint_text_line(painter, QPointF(0, 20), text, whole / 2, lettering) <= whole / 2
    painter.end()
