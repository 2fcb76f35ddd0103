"""The record is written from the keyboard, and what is written is in the catalog."""

from __future__ import annotations

from decimal import Decimal

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QAbstractButton, QComboBox, QLineEdit, QPlainTextEdit

from planebench.catalog.reference import open_list
from planebench.catalog.tools import NewTool
from planebench.trade.terms import Basis, PartStatus, Stage, ToolStatus
from planebench.window import routes
from planebench.window.pieces.suggestion_field import SuggestionField
from planebench.window.pieces.text import LinkButton
from planebench.window.screens.tool.form_fields import words_of
from planebench.window.screens.tool.tool_screen import ToolScreen

ENTER, ESC, TAB = Qt.Key.Key_Return, Qt.Key.Key_Escape, Qt.Key.Key_Tab


@pytest.fixture
def screen(given, tool_id, show):
    return show(ToolScreen(given, tool_id))


def write(qtbot, form, **texts):
    for key, text in texts.items():
        line = form.controls[key].line
        line.setFocus()
        line.selectAll()
        qtbot.keyClicks(line, text)


def choose(form, key, code):
    drop = form.controls[key]
    if isinstance(drop, SuggestionField):
        drop.line.setText(words_of(form._fields[key].listed, code))
        drop.commit()
        return
    drop.setCurrentIndex(drop.findData(code))
    drop.activated.emit(drop.currentIndex())


def test_a_defect_is_typed_and_stands_in_the_catalog_and_in_the_list(qtbot, screen, look):
    screen.record.defects.open("new")
    form = screen.record.defects.form
    choose(form, "kind", "pitting")
    write(qtbot, form, place="left cheek", size="9 x 4 mm")
    qtbot.keyClick(form.controls["size"].line, ENTER)

    (defect,) = look().defects

    assert (defect.kind, defect.place, defect.size) == ("pitting", "left cheek", "9 x 4 mm")
    assert defect.disclosed
    assert screen.record.defects.rows.rows[defect.id].cell.text == "Pitting, left cheek"
    assert screen.record.defects.form is None


def test_each_kind_of_defect_offers_its_own_words_for_how_bad_it_is(screen):
    screen.record.defects.open("new")
    form = screen.record.defects.form
    choose(form, "kind", "crack")
    drop = form.controls["severity"]

    offered = [drop.itemText(row) for row in range(drop.count())]

    assert offered == ["not given", *open_list("defects")["crack"].more["severities"]]


def test_a_defect_is_kept_from_the_buyer_only_with_a_reason(qtbot, given, screen, tool_id, look):
    given.catalog.defects.add(tool_id, kind="stain")
    screen._ask()
    (defect,) = look().defects
    screen.record.defects.open(defect.id)
    form = screen.record.defects.form
    qtbot.mouseClick(form.controls["disclosed"], Qt.MouseButton.LeftButton)

    told_before = look().defects[0].disclosed
    write(qtbot, form, why_not_disclosed="came off with a cloth")
    qtbot.keyClick(form.controls["why_not_disclosed"].line, ENTER)
    (after,) = look().defects

    assert told_before
    assert (after.disclosed, after.why_not_disclosed) == (False, "came off with a cloth")


def test_a_new_defect_that_is_not_told_asks_for_the_reason(qtbot, screen, look):
    screen.record.defects.open("new")
    form = screen.record.defects.form
    form.controls["disclosed"].setChecked(False)
    form.submit()

    assert "a reason is needed" in form.controls["why_not_disclosed"].trouble
    assert look().defects == ()


def test_delete_puts_a_defect_in_the_bin_and_taking_that_back_brings_it_again(
    qtbot, given, screen, tool_id, look
):
    defect = given.catalog.defects.add(tool_id, kind="chip").id
    screen._ask()
    look()
    qtbot.keyClick(screen.record.defects.rows.rows[defect], Qt.Key.Key_Delete)
    gone = look().defects
    given.edits.happened.emit(given.catalog.history.undo())

    assert gone == ()
    assert [one.id for one in look().defects] == [defect]
    assert defect in screen.record.defects.rows.rows


def test_a_letter_says_what_a_part_is_and_goes_on_to_the_next(qtbot, screen, look):
    parts = screen.record.parts
    parts.show_all()
    states = list(parts._status_boxes.values())
    for state, letter in zip(states, "PMRON", strict=False):
        qtbot.keyClicks(state, letter)

    said = [part.status for part in look().parts[:5]]

    assert said == [
        PartStatus.PRESENT,
        PartStatus.MISSING,
        PartStatus.REPLACED,
        PartStatus.NOT_ORIGINAL,
        PartStatus.NOT_SEEN,
    ]
    assert screen.record.parts._named.rows[look().parts[1].id].cell.text == "frog: missing"


def test_all_other_parts_are_present_but_those_that_it_may_never_have_had(screen, look):
    first = look().parts[0]
    screen.record.parts._save_status(first.id, "missing")
    look()
    screen.record.parts._mark_rest_present()

    for part in look().parts[1:]:
        expected = PartStatus.NOT_SEEN if part.optional else PartStatus.PRESENT
        assert part.status is expected
    assert look().parts[0].status is PartStatus.MISSING


def test_a_part_of_its_own_is_added(qtbot, screen, look):
    screen.record.parts.show_all()
    screen.record.parts.open("new")
    form = screen.record.parts.form
    write(qtbot, form, name="Depth stop")
    qtbot.keyClick(form.controls["name"].line, ENTER)

    added = look().parts[-1]

    assert (added.name, added.code, added.status) == ("Depth stop", "own", PartStatus.PRESENT)
    assert "Depth stop: status" in screen.record.parts._status_boxes[added.id].accessibleName()


def test_a_finish_is_read_by_eye_with_its_range(qtbot, screen, look):
    surface = look().surfaces[0]
    screen.record.finish.open(surface.id)
    form = screen.record.finish.form
    write(qtbot, form, share="60 to 80")
    qtbot.keyClick(form.controls["share"].line, ENTER)

    (reading,) = look().readings

    share = reading.share
    assert (share.low, share.value, share.high) == (Decimal("0.6"), Decimal("0.7"), Decimal("0.8"))
    assert (share.basis, reading.stage) == (Basis.BY_EYE, Stage.AS_FOUND)
    assert form.text_of("share") == ""
    told = screen.record.finish.rows.rows[surface.id].cell.spoken
    assert "about 70% (60 to 80), by eye" in told


def test_a_share_that_is_none_is_refused_under_its_field(qtbot, screen, look):
    screen.record.finish.open(look().surfaces[0].id)
    form = screen.record.finish.form
    write(qtbot, form, share="most of it")
    qtbot.keyClick(form.controls["share"].line, ENTER)

    assert "cannot be read as a share" in form.controls["share"].trouble
    assert look().readings == ()


def test_a_length_is_kept_as_it_was_typed(qtbot, screen, look):
    screen.record.what.open("ask sole_length")
    form = screen.record.what.form
    write(qtbot, form, value="9 11/32", plus_minus="0.5")
    qtbot.keyClick(form.controls["value"].line, ENTER)

    (one,) = look().dimensions

    assert (one.what, one.as_typed, one.basis) == ("sole_length", "9 11/32", Basis.MEASURED)
    assert float(one.value) == pytest.approx(237.33, abs=0.01)
    assert one.plus_minus == Decimal("0.5")


def test_a_length_divided_by_nothing_is_refused_under_its_field(qtbot, screen, look):
    screen.record.what.open("ask sole_length")
    form = screen.record.what.form
    write(qtbot, form, value="1 5/0")
    qtbot.keyClick(form.controls["value"].line, ENTER)

    assert "the fraction divides by 0" in form.controls["value"].trouble
    assert form.controls["value"].line.hasFocus()
    assert look().dimensions == ()


def test_a_stock_number_that_is_taken_is_refused_under_its_field(qtbot, given, batch, screen, look):
    other = given.catalog.tools.add(batch, NewTool(kind="block")).id
    taken = given.catalog.tools.one(other).stock_number
    screen.record.what.open("number")
    form = screen.record.what.form
    write(qtbot, form, stock_number=taken)
    qtbot.keyClick(form.controls["stock_number"].line, ENTER)
    kept = look().stock_number

    assert "stock number of another tool" in form.controls["stock_number"].trouble
    assert kept != taken


def test_maker_and_model_are_kept_as_they_are_left(qtbot, screen, look):
    screen.record.what.open("maker")
    form = screen.record.what.form
    write(qtbot, form, maker="Tarrow", model="pattern D")
    qtbot.keyClick(form.controls["model"].line, TAB)
    choose(form, "identified_by", "read_off")

    tool = look()

    assert (tool.maker, tool.model, tool.identified_by) == ("Tarrow", "pattern D", Basis.READ_OFF)
    assert "Tarrow pattern D" in screen.title.text


def test_another_kind_brings_its_parts(screen, look):
    screen.record.what.open("kind")
    choose(screen.record.what.form, "kind", "block")

    assert look().kind == "block"


def test_an_edit_taken_back_is_seen_in_the_record_and_in_the_open_form(
    qtbot, given, screen, look, settled
):
    screen.record.what.open("maker")
    form = screen.record.what.form
    write(qtbot, form, maker="Tarrow")
    qtbot.keyClick(form.controls["maker"].line, ENTER)
    settled()
    given.edits.happened.emit(given.catalog.history.undo())
    settled()

    assert look().maker == "Halbeck & Son"
    assert form.text_of("maker") == "Halbeck & Son"
    assert "Halbeck & Son" in screen.record.what.rows.rows["maker"].cell.text


def test_a_piece_of_evidence_of_its_date_is_entered_with_years_as_people_write_them(
    qtbot, screen, look
):
    screen.record.dates.open("new")
    form = screen.record.dates.form
    write(qtbot, form, seen="patent date on the bed", years="after 1913")
    qtbot.keyClick(form.controls["years"].line, ENTER)

    (evidence,) = look().evidence

    assert (evidence.seen, evidence.years, evidence.not_before) == (
        "patent date on the bed",
        "after 1913",
        1914,
    )
    assert evidence.not_after is None
    assert evidence.sure == Decimal("0.8")


def test_years_that_cannot_be_meant_are_refused_under_their_field(qtbot, screen, look):
    screen.record.dates.open("new")
    form = screen.record.dates.form
    write(qtbot, form, seen="mark", years="1918 to 1913")
    qtbot.keyClick(form.controls["years"].line, ENTER)

    assert "1913 to 1918" in form.controls["years"].trouble
    assert look().evidence == ()


def test_the_evidence_has_a_place_of_their_own(qtbot, screen, tool_id):
    with qtbot.waitSignal(screen.go) as went:
        qtbot.keyClick(screen.record.dates.see, ENTER)

    assert went.args[0] == routes.DatingRoute(tool=tool_id)


def test_work_that_a_buyer_must_hear_of_is_told_by_default_and_shows_its_caution(
    qtbot, screen, look
):
    screen.record.work.open("new")
    form = screen.record.work.form
    choose(form, "kind", "electrolysis")
    caution = form._caution._text.text()
    write(qtbot, form, minutes="1 h 30", cost="$4.50")
    qtbot.keyClick(form.controls["minutes"].line, ENTER)

    (work,) = look().work

    assert "stainless steel" in caution
    assert (work.disclosed, work.minutes, work.cost) == (True, 90, Decimal("4.50"))
    assert work.what == open_list("treatments")["electrolysis"].name


def test_a_price_is_typed_beside_what_like_tools_were_sold_for(qtbot, screen, look, settled):
    price = screen.record.price
    for what, amount in (("like it, worn", "140"), ("like it, clean", "$190")):
        price.open("new")
        write(qtbot, price.form, what=what, price=amount)
        qtbot.keyClick(price.form.controls["price"].line, ENTER)
        settled()
    price.open("asking")
    write(qtbot, price.form, asking="165")
    qtbot.keyClick(price.form.controls["asking"].line, ENTER)

    assert look().asking == Decimal("165.00")
    fact = price.rows.rows["asking"].cell
    assert (fact.text, fact.aside) == ("$165.00", "asking; 2 comparables, $140 to $190")


def test_the_state_is_said_in_the_title(screen, look):
    state = screen.title_controls.status
    state.setCurrentIndex(state.findData("offered"))
    state.activated.emit(state.currentIndex())

    assert look().status is ToolStatus.OFFERED


@pytest.mark.parametrize("number", range(1, 8))
def test_a_figure_goes_to_its_section(qtbot, screen, number):
    screen.picture.view.setFocus()
    qtbot.keyClick(screen, str(number))

    assert screen.record.sections[number - 1].isAncestorOf(screen.focusWidget())


def test_a_figure_typed_in_a_field_stays_in_it(qtbot, screen, look):
    screen.record.what.open("maker")
    line = screen.record.what.form.controls["model"].line
    line.setFocus()
    line.clear()
    qtbot.keyClicks(line, "7")

    assert (line.text(), line.hasFocus()) == ("7", True)


def test_esc_closes_the_form_and_gives_the_keyboard_back_to_its_line(qtbot, screen):
    row = screen.record.what.rows.rows["kind"]
    row.setFocus()
    qtbot.keyClick(row, ENTER)
    form = screen.record.what.form
    qtbot.keyClick(form.controls["kind"], ESC)

    assert screen.record.what.form is None
    assert row.hasFocus()


def test_tab_walks_through_the_lines_of_the_record(qtbot, screen):
    rows = list(screen.record.what.rows.rows.values())
    rows[0].setFocus()
    qtbot.keyClick(rows[0], TAB)

    assert rows[1].hasFocus()


def test_every_control_has_a_name_that_can_be_read_aloud(screen, look):
    record = screen.record
    record.parts.show_all()
    keys = {record.finish: look().surfaces[0].id}
    for section in record.all:
        section.open(keys.get(section, "new"))
    screen.name_views()
    kinds = (QAbstractButton, QComboBox, QLineEdit, QPlainTextEdit)
    controls = [control for kind in kinds for control in screen.findChildren(kind)]
    controls += [row for section in record.all for row in section.rows.rows.values()]

    shown = [one for one in controls if one.isVisibleTo(screen)]
    nameless = [type(one).__name__ for one in shown if not one.accessibleName()]

    assert len(shown) > 60
    assert nameless == []


def test_down_goes_to_the_next_line_and_up_comes_back(qtbot, screen):
    rows = list(screen.record.what.rows.rows.values())
    rows[0].setFocus()
    qtbot.keyClick(rows[0], Qt.Key.Key_Down)
    below = rows[1].hasFocus()
    qtbot.keyClick(rows[1], Qt.Key.Key_Up)

    assert below
    assert rows[0].hasFocus()


def test_a_letter_in_a_drop_down_chooses_there_and_leads_nowhere(qtbot, screen):
    went = []
    screen.go.connect(went.append)
    screen.record.what.open("kind")
    qtbot.keyClicks(screen.record.what.form.controls["kind"], "b")

    assert went == []


def test_a_half_typed_line_is_there_again_after_esc_until_it_is_written_down(qtbot, screen, look):
    defects = screen.record.defects
    defects.open("new")
    form = defects.form
    choose(form, "kind", "crack")
    choose(form, "severity", form.controls["severity"].itemData(1))
    write(qtbot, form, place="left cheek", size="9 x 4")
    severity = form.text_of("severity")
    qtbot.keyClick(form.controls["size"].line, ESC)
    closed = defects.form is None
    defects.open("new")
    again = defects.form

    assert closed
    assert again.text_of("kind") == "crack"
    assert again.text_of("severity") == severity
    assert (again.text_of("place"), again.text_of("size")) == ("left cheek", "9 x 4")
    assert again.clear_link.isVisibleTo(again)
    qtbot.keyClick(again.controls["size"].line, ENTER)
    assert [one.place for one in look().defects] == ["left cheek"]
    defects.open("new")
    assert defects.form.typed == {}
    assert not defects.form.clear_link.isVisibleTo(defects.form)


def test_a_half_typed_line_is_emptied_only_when_that_is_wanted(qtbot, screen, look):
    look()
    work = screen.record.work
    heading = {act.text(): act for act in work.section.findChildren(LinkButton)}
    act = heading["add work"]
    work.open("new")
    write(qtbot, work.form, what="new tote fitted")
    work.close()
    begun = act.text()
    work.open("new")
    held = work.form.text_of("what")
    qtbot.mouseClick(work.form.clear_link, Qt.MouseButton.LeftButton)
    emptied = work.form.text_of("what")
    work.close()
    work.open("new")

    assert begun == "add work (draft)"
    assert (held, emptied) == ("new tote fitted", "")
    assert act.text() == "add work"
    assert work.form.typed == {}
