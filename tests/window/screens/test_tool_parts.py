"""The parts of a plane, said from the keyboard."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt

from planebench.trade.terms import PartStatus
from planebench.window.pieces.hatching import Hatch
from planebench.window.screens.tool.tool_screen import ToolScreen


@pytest.fixture
def screen(given, tool_id, show):
    return show(ToolScreen(given, tool_id))


def test_letters_typed_faster_than_they_are_written_down_are_all_kept(qtbot, screen, look):
    parts = screen.record.parts
    parts.show_all()
    first = look().parts[:8]

    for _ in first:
        qtbot.keyClick(screen.window().focusWidget(), Qt.Key.Key_P)

    said = {part.id: part.status for part in look().parts}
    assert [said[part.id] for part in first] == [PartStatus.PRESENT] * len(first)


def test_a_missing_part_is_not_counted_as_seen_and_has_a_piece_of_evidence_of_its_own(
    qtbot, screen, look
):
    parts = screen.record.parts
    parts.show_all()
    first = look().parts[0]
    qtbot.keyClick(screen.window().focusWidget(), Qt.Key.Key_M)
    asked = [part for part in look().parts if not part.optional]

    facts = [row.cell for row in parts._named.rows.values()]

    assert (first.name.lower() + ": missing", Hatch.MISSING) in [(f.text, f.hatch) for f in facts]
    assert parts.section._heading._remark.text() == f"0 of {len(asked)} seen, 1 missing"


def test_esc_closes_the_list_of_parts_before_it_leaves_the_plane(qtbot, screen):
    parts = screen.record.parts
    parts.show_all()

    qtbot.keyClick(screen.window().focusWidget(), Qt.Key.Key_Escape)

    assert not parts.listed
    assert parts._all.hasFocus()


def test_the_part_that_was_changed_is_named(qtbot, given, screen, look):
    told = []
    given.edits.happened.connect(lambda changes: told.append(changes.words))
    screen.record.parts.show_all()
    part = look().parts[0]

    qtbot.keyClick(screen.window().focusWidget(), Qt.Key.Key_M)
    stock = look().stock_number

    assert told == [f"{stock} {part.name.lower()}: missing"]


def test_the_list_of_parts_asks_for_no_more_width_than_the_record_has(qtbot, screen):
    screen.resize(1280, 700)
    area = screen.record.area

    screen.record.parts.show_all()
    qtbot.wait(50)

    assert area.horizontalScrollBar().maximum() == 0
