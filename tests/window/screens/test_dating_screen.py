"""When it was made: signs counted, doubted, entered, pinned and binned in the real window."""

from collections.abc import Callable
from dataclasses import replace
from time import perf_counter

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLabel
from pytestqt.qtbot import QtBot

from planebench.catalog.changes import Changes
from planebench.catalog.ids import EvidenceId, ToolId
from planebench.catalog.tools import NewTool
from planebench.catalog.values import EvidenceEntry, Tool
from planebench.trade.terms import PartStatus
from planebench.window import routes
from planebench.window.context import ScreenContext
from planebench.window.pieces.screen import Screen
from planebench.window.screen_table import screen_for
from planebench.window.screens.dating.dating_chart import DatingChart
from planebench.window.screens.dating.dating_model import (
    DatingModel,
    EvidenceWeight,
    build_dating_model,
)
from planebench.window.screens.dating.dating_screen import DatingScreen
from planebench.window.window_frame import WindowFrame

Show = Callable[[Screen], Screen]
Settled = Callable[[], None]


@pytest.fixture
def tool_id(given_sample: ScreenContext) -> ToolId:
    """Return the plane of the sample whose cutter does not agree."""
    found = given_sample.catalog.tools.by_stock_number("LOT7-003")
    assert found is not None
    return found


@pytest.fixture
def screen(
    given_sample: ScreenContext, tool_id: ToolId, show: Show, settled: Settled
) -> DatingScreen:
    """Return its dating, shown."""
    place = show(screen_for(given_sample, routes.DatingRoute(tool=tool_id)))
    assert isinstance(place, DatingScreen)
    settled()
    place.chart.list.setFocus()
    return place


def _shown(screen: DatingScreen) -> DatingModel:
    assert screen.shown is not None
    return screen.shown


def _tool(given: ScreenContext, tool_id: ToolId) -> Tool:
    return given.catalog.tools.one(tool_id)


def _current(screen: DatingScreen) -> EvidenceEntry:
    line = _shown(screen).line_of(screen.chart.current)
    assert line is not None
    return line.evidence


def _choose(screen: DatingScreen, number: int) -> EvidenceId:
    row = next(r for r, line in enumerate(_shown(screen).lines) if line.evidence.number == number)
    screen.chart.list.select_row(row)
    return _current(screen).id


def test_the_evidence_stands_by_part_with_the_body_first_and_the_whole_tool_last(
    screen: DatingScreen,
) -> None:
    groups = [line.group for line in _shown(screen).lines if line.group]

    assert groups[0] == "Body"
    assert groups[-1] == "Whole tool"
    assert screen.title.remark == "7 pieces of evidence"


def test_the_result_names_the_range_what_all_evidence_allow_and_the_later_part(
    screen: DatingScreen,
) -> None:
    said = screen.chart.result.said

    assert said.startswith("1913 to 1918")
    assert "Together the evidence points to 1913 to 1917" in said
    assert "cutter 1936 to 1940: a later part" in said


def test_a_bar_that_does_not_agree_tells_how_far_apart_it_is(screen: DatingScreen) -> None:
    late = next(line for line in _shown(screen).lines if line.trust is EvidenceWeight.DISAGREES)

    assert late.evidence.number == 7
    assert late.apart == 18


def test_the_chosen_evidence_is_told_with_what_else_it_could_mean(
    screen: DatingScreen, settled: Settled
) -> None:
    _choose(screen, 1)
    settled()

    assert "28 January 1913" in screen.panel.facts.said
    assert "1813" in screen.panel.facts.said
    assert screen.panel.without.accessibleName().endswith(
        "Without this evidence the body would be dated 1910 to 1918."
    )


def test_down_goes_to_the_next_evidence(screen: DatingScreen) -> None:
    _choose(screen, 1)

    QTest.keyClick(screen.chart.list, Qt.Key.Key_Down)

    assert _current(screen).number == 2


def test_space_leaves_a_piece_of_evidence_out_and_shows_at_once_what_that_changes(
    screen: DatingScreen, given_sample: ScreenContext, tool_id: ToolId, settled: Settled
) -> None:
    _choose(screen, 1)

    QTest.keyClick(screen.chart.list, Qt.Key.Key_Space)
    settled()

    assert not next(s for s in _tool(given_sample, tool_id).evidence if s.number == 1).counted
    assert screen.chart.result.said.startswith("1910 to 1918")
    assert "Before this change: 1913 to 1918" in screen.chart.result.said
    assert _current(screen).number == 1


def test_a_click_on_the_box_counts_it_again(screen: DatingScreen, settled: Settled) -> None:
    evidence = _choose(screen, 2)
    rows = screen.chart.list
    counted = []
    for _ in range(2):
        box = rows.visualRect(rows.currentIndex())
        spot = QPoint(32, box.bottom() - 37)
        QTest.mouseClick(rows.viewport(), Qt.MouseButton.LeftButton, pos=spot)
        settled()
        line = _shown(screen).line_of(evidence)
        assert line is not None
        counted.append(line.evidence.counted)

    assert counted == [False, True]


def test_the_part_that_disagrees_can_be_called_not_original(
    screen: DatingScreen, given_sample: ScreenContext, tool_id: ToolId, settled: Settled
) -> None:
    QTest.mouseClick(screen.panel.not_original, Qt.MouseButton.LeftButton)
    settled()

    cutter = next(part for part in _tool(given_sample, tool_id).parts if part.code == "cutter")
    assert cutter.status is PartStatus.NOT_ORIGINAL
    assert not screen.panel.disagreement_note.isVisible()
    assert "a later part" in screen.chart.result.said


def test_a_piece_of_evidence_can_be_doubted(
    screen: DatingScreen, given_sample: ScreenContext, tool_id: ToolId, settled: Settled
) -> None:
    assert screen.panel.doubt.text() == "Doubt evidence 7"

    QTest.mouseClick(screen.panel.doubt, Qt.MouseButton.LeftButton)
    settled()

    doubted = next(
        evidence for evidence in _tool(given_sample, tool_id).evidence if evidence.number == 7
    )
    assert float(doubted.sure) == 0.2
    assert not screen.panel.disagreement_note.isVisible()


def test_it_can_be_left_open_and_answered_after_all(
    screen: DatingScreen, given_sample: ScreenContext, tool_id: ToolId, settled: Settled
) -> None:
    QTest.mouseClick(screen.panel.leave_open, Qt.MouseButton.LeftButton)
    settled()

    assert _tool(given_sample, tool_id).line.made_basis == "90% range"
    assert "Left open" in screen.panel.disagreement_note.accessibleName()

    QTest.mouseClick(screen.panel.leave_open, Qt.MouseButton.LeftButton)
    settled()

    assert _tool(given_sample, tool_id).line.made_basis == "parts disagree"


def test_how_sure_is_chosen_beside_the_evidence(
    screen: DatingScreen, given_sample: ScreenContext, tool_id: ToolId, settled: Settled
) -> None:
    _choose(screen, 1)
    sure = screen.panel.facts.sure
    sure.setFocus()

    QTest.keyClick(sure, Qt.Key.Key_Down)
    settled()

    evidence = next(
        evidence for evidence in _tool(given_sample, tool_id).evidence if evidence.number == 1
    )
    assert float(evidence.sure) == 0.8


def test_delete_bins_a_piece_of_evidence_and_taking_it_back_brings_it_again(
    screen: DatingScreen, given_sample: ScreenContext, settled: Settled
) -> None:
    _choose(screen, 6)

    QTest.keyClick(screen.chart.list, Qt.Key.Key_Delete)
    settled()
    assert len(_shown(screen).lines) == 6

    given_sample.edits.happened.emit(given_sample.catalog.history.undo())
    settled()
    assert len(_shown(screen).lines) == 7


def test_n_opens_the_form_and_enter_writes_a_patent_date_down(
    screen: DatingScreen, given_sample: ScreenContext, tool_id: ToolId, settled: Settled
) -> None:
    QTest.keyClick(screen.chart.list, Qt.Key.Key_N)
    form = screen.form
    form.kind.hold("patent_date")
    form.kind.chosen.emit("patent_date")
    line = form.lines["text"].line
    QTest.keyClicks(line, "Pat. Apr 19 92")

    assert "19 April 1892" in form.meaning.accessibleName()
    assert "1992" in form.meaning.accessibleName()

    QTest.keyClick(line, Qt.Key.Key_Return)
    settled()

    written = _tool(given_sample, tool_id).evidence[-1]
    assert (written.kind, written.not_before, written.seen) == (
        "patent_date",
        1892,
        "“Pat. Apr 19 92”",
    )
    assert _current(screen).id == written.id
    assert screen.panel.isVisible()


def test_a_number_that_cannot_be_is_refused_under_its_field(
    screen: DatingScreen, given_sample: ScreenContext, tool_id: ToolId
) -> None:
    screen.begin_entering()
    form = screen.form
    form.kind.hold("patent_us")
    form.kind.chosen.emit("patent_us")
    QTest.keyClicks(form.lines["number"].line, "99999999")

    QTest.keyClick(form.lines["number"].line, Qt.Key.Key_Return)

    assert "13,000,000" in form.lines["number"].trouble
    assert form.isVisible()
    assert len(_tool(given_sample, tool_id).evidence) == 7


def test_a_diamond_mark_is_read_from_its_corners(screen: DatingScreen) -> None:
    screen.begin_entering()
    form = screen.form
    form.kind.hold("diamond_uk")
    form.kind.chosen.emit("diamond_uk")
    for corner, text in {"top": "H", "right": "12", "bottom": "5", "left": "G"}.items():
        QTest.keyClicks(form.diamond.fields[corner].line, text)

    # H at the top is 1843, G at the left February (published tables of the mark).
    assert "12 February 1843" in form.meaning.accessibleName()


def test_a_search_that_finds_no_clue_says_so_and_nothing_of_another_clue_is_left(
    screen: DatingScreen,
) -> None:
    screen.begin_entering()
    form = screen.form
    form.kind.hold("clue")
    form.kind.chosen.emit("clue")
    QTest.keyClicks(form.known_features.search.line, "cross-recess")
    assert form.seen.line.placeholderText()

    form.known_features.search.line.clear()
    QTest.keyClicks(form.known_features.search.line, "zzyzx")

    said = [label.text() for label in form.known_features.findChildren(QLabel) if label.isVisible()]
    assert any(text.startswith("Nothing found for “zzyzx”.") for text in said)
    assert not form.known_features.list.isVisible()
    assert form.seen.line.placeholderText() == ""
    assert form.source.line.placeholderText() == ""


def test_a_clue_is_found_by_its_words_and_entered(
    screen: DatingScreen, given_sample: ScreenContext, tool_id: ToolId, settled: Settled
) -> None:
    screen.begin_entering()
    form = screen.form
    form.kind.hold("clue")
    form.kind.chosen.emit("clue")
    QTest.keyClicks(form.known_features.search.line, "cross-recess")
    QTest.keyClick(form.known_features.search.line, Qt.Key.Key_Return)
    settled()

    written = _tool(given_sample, tool_id).evidence[-1]
    assert written.kind == "clue"
    assert written.not_before == 1936
    assert written.mark["row"]


def test_esc_leaves_the_form_and_nothing_is_written(
    screen: DatingScreen, given_sample: ScreenContext, tool_id: ToolId
) -> None:
    screen.begin_entering()

    QTest.keyClick(screen.form.kind, Qt.Key.Key_Escape)

    assert not screen.form.isVisible()
    assert len(_tool(given_sample, tool_id).evidence) == 7


def test_enter_on_a_piece_of_evidence_changes_it_and_keeps_what_was_not_touched(
    screen: DatingScreen, given_sample: ScreenContext, tool_id: ToolId, settled: Settled
) -> None:
    evidence = _choose(screen, 2)
    before = next(one for one in _tool(given_sample, tool_id).evidence if one.id == evidence)

    QTest.keyClick(screen.chart.list, Qt.Key.Key_Return)
    line = screen.form.lines["value"].line
    assert line.text() == "1907/1917"
    line.selectAll()
    QTest.keyClicks(line, "1911/1917")
    QTest.keyClick(line, Qt.Key.Key_Return)
    settled()

    after = next(one for one in _tool(given_sample, tool_id).evidence if one.id == evidence)
    assert (after.not_before, after.not_after) == (1911, 1917)
    kept = ("seen", "sure", "looseness", "part", "basis", "source", "source_status", "counted")
    assert [getattr(after, name) for name in kept] == [getattr(before, name) for name in kept]


def test_esc_in_the_window_leaves_the_form_first_and_then_the_place(
    screen: DatingScreen, qtbot: QtBot
) -> None:
    frame = WindowFrame()
    qtbot.addWidget(frame)
    frame.go_to(screen)
    frame.show()
    frame.activateWindow()
    qtbot.waitUntil(frame.isActiveWindow)
    screen.begin_entering()

    with qtbot.assertNotEmitted(screen.up_wanted):
        QTest.keyClick(screen.form.kind, Qt.Key.Key_Escape)
    with qtbot.waitSignal(screen.up_wanted):
        QTest.keyClick(screen.chart.list, Qt.Key.Key_Escape)
    frame.leave(screen)


def test_an_n_typed_in_the_form_is_a_letter(screen: DatingScreen) -> None:
    screen.begin_entering()

    QTest.keyClicks(screen.form.seen.line, "a ring, no name")

    assert screen.form.seen.text == "a ring, no name"


def test_a_click_sets_an_evidence_pin(
    screen: DatingScreen, given_sample: ScreenContext, tool_id: ToolId, settled: Settled
) -> None:
    evidence = _choose(screen, 2)
    settled()
    photograph = screen.panel.photograph
    QTest.mouseClick(photograph.set_pin, Qt.MouseButton.LeftButton)
    settled()
    assert photograph.is_setting

    middle = photograph.view.viewport.to_screen(
        QPointF(photograph.view.viewport.to_photo(QPointF(photograph.view.rect().center())))
    ).toPoint()
    QTest.mouseClick(photograph.view, Qt.MouseButton.LeftButton, pos=middle)
    settled()

    pins = [pin for pin in _tool(given_sample, tool_id).pins if pin.evidence == evidence]
    assert [(round(pin.x, 1), round(pin.y, 1)) for pin in pins] == [(0.5, 0.5)]
    assert not photograph.is_setting


def test_the_photograph_is_a_way_on(screen: DatingScreen, qtbot: QtBot, settled: Settled) -> None:
    _choose(screen, 1)
    settled()

    with qtbot.waitSignal(screen.go) as led:
        screen.panel.photograph.photograph_wanted.emit(_tool_photo(screen))

    assert led.args == [routes.PhotographRoute(photograph=_shown(screen).tool.photographs[0].id)]


def _tool_photo(screen: DatingScreen) -> str:
    return _shown(screen).tool.photographs[0].id


def test_ten_thousand_entries_is_shown_at_once_and_gone_through(
    screen: DatingScreen, qtbot: QtBot
) -> None:
    tool = _shown(screen).tool
    evidence = tool.evidence[1]
    many = tuple(
        replace(evidence, id=EvidenceId(f"{number:032x}"), number=number)
        for number in range(10_000)
    )
    shown = build_dating_model(replace(tool, evidence=many))
    chart = DatingChart()
    qtbot.addWidget(chart)
    chart.resize(900, 700)
    chart.show()

    started = perf_counter()
    chart.show_model(shown)
    took = perf_counter() - started

    # Measured 13 ms; the limit leaves room for a busy machine.
    assert took < 0.25
    qtbot.waitUntil(lambda: chart.list.visualRect(chart.list.model().index(9999, 0)).isValid())
    QTest.keyClick(chart.list, Qt.Key.Key_End)
    assert chart.current == many[-1].id


def test_a_tool_without_evidence_says_what_to_do_next(
    given: ScreenContext, show: Show, settled: Settled
) -> None:
    batch = given.catalog.batches.add(code="LOT8").id
    tool = given.catalog.tools.add(batch, NewTool(kind="smoothing")).id
    screen = show(screen_for(given, routes.DatingRoute(tool=tool)))
    assert isinstance(screen, DatingScreen)
    settled()

    assert screen.title.remark == "no evidence yet"
    assert not screen.chart.list.isVisible()

    screen.begin_entering()
    form = screen.form
    QTest.keyClicks(form.lines["value"].line, "1920s")
    QTest.keyClick(form.lines["value"].line, Qt.Key.Key_Return)
    settled()

    assert screen.chart.list.isVisible()
    # The 1920s, loosened by two years on either side.
    assert screen.chart.result.said.startswith("1919 to 1930")


def test_a_change_of_the_parts_that_date_it_is_told_with_the_change(
    given_sample: ScreenContext, tool_id: ToolId, screen: DatingScreen, settled: Settled
) -> None:
    tool = _tool(given_sample, tool_id)
    keep = [evidence for evidence in tool.evidence if evidence.number == 2]
    for evidence in tool.evidence:
        if evidence not in keep:
            given_sample.catalog.evidence.change(evidence.id, counted=False)
    given_sample.edits.happened.emit(Changes(tools=frozenset({tool_id})))
    settled()
    knob = next(evidence for evidence in tool.evidence if evidence.number == 4)

    _choose(screen, knob.number)
    QTest.keyClick(screen.chart.list, Qt.Key.Key_Space)
    settled()

    assert "Before this change, by the body: " in screen.chart.result.said
    assert "% sure" in screen.chart.result.said
