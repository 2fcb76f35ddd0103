from PySide6.QtCore import Qt

from planebench.catalog.import_types import Destination
from planebench.catalog.photo_import import import_photographs
from planebench.catalog.tools import NewTool, ToolFilter
from planebench.trade.terms import ToolStatus
from planebench.window import routes
from planebench.window.screens.batch.batch_screen import BatchScreen
from planebench.window.screens.batches.batches_screen import BatchesScreen
from tests.catalog.shots import shot


def type_line(qtbot, adding, **texts):
    for key, text in texts.items():
        adding.fields[key].line.setText("")
        qtbot.keyClicks(adding.fields[key].line, text)
    qtbot.keyClick(adding.fields["kind"].line, Qt.Key.Key_Return)


def test_a_purchase_is_typed_and_its_batch_is_opened(qtbot, given, show, settled):
    screen = show(BatchesScreen(given))
    screen.begin_adding()
    form = screen.form
    for key, text in (("title", "House clearance"), ("price", "340"), ("bought_on", "1 Mar 2026")):
        qtbot.keyClicks(form.fields[key].line, text)

    with qtbot.waitSignal(screen.go) as went:
        qtbot.keyClick(form.fields["title"].line, Qt.Key.Key_Return)

    (line,) = given.catalog.batches.lines()
    assert went.args[0] == routes.BatchRoute(batch=line.batch.id)
    assert (line.batch.code, line.batch.title) == ("LOT1", "House clearance")
    assert str(line.batch.price) == "340.00"


def test_a_price_that_is_none_is_refused_under_its_field(qtbot, given, show, settled):
    screen = show(BatchesScreen(given))
    screen.begin_adding()
    qtbot.keyClicks(screen.form.fields["price"].line, "a lot")

    qtbot.keyClick(screen.form.fields["price"].line, Qt.Key.Key_Return)

    assert "Price" in screen.form.fields["price"].trouble
    assert given.catalog.batches.lines() == ()


def test_twelve_planes_are_added_from_the_keyboard_a_line_each(qtbot, given, batch, show, settled):
    screen = show(BatchScreen(given, batch))
    screen.begin_adding()
    adding = screen.list.adding

    for number in range(12):
        type_line(qtbot, adding, kind="block plane", model=f"No. {number}")
        settled()

    lines = given.catalog.tools.lines(given.catalog.tools.find(ToolFilter(batch=batch)))
    assert [line.stock_number for line in lines.values()] == [f"LOT7-{n:03}" for n in range(1, 13)]
    assert screen.list.model.rowCount() == 12


def test_an_unknown_kind_is_refused_under_its_field_and_the_line_stays(
    qtbot, given, batch, show, settled
):
    screen = show(BatchScreen(given, batch))
    screen.begin_adding()

    type_line(qtbot, screen.list.adding, kind="tank", note="heavy")
    settled()

    assert "not a kind of plane" in screen.list.adding.fields["kind"].trouble
    assert screen.list.adding.fields["note"].text == "heavy"


def test_a_switch_narrows_the_list_to_what_is_missing(qtbot, given, batch, show, settled):
    tools, _ = given.catalog.tools.add_lines(batch, [NewTool(kind="block")] * 3)
    given.catalog.evidence.add(tools[0], seen="by its form", not_before=1900, not_after=1930)
    screen = show(BatchScreen(given, batch))

    screen.list.switches["date"].setChecked(True)
    settled()

    assert screen.list.model.tools == tools[1:]


def test_words_narrow_the_list_as_they_are_typed(qtbot, given, batch, show, settled):
    first, _ = given.catalog.tools.add_lines(
        batch, [NewTool(kind="block", maker="Tarrow"), NewTool(kind="jack")]
    )
    screen = show(BatchScreen(given, batch))

    screen.search("tarr")
    qtbot.waitUntil(lambda: screen.list.model.tools == first[:1])


def test_enter_opens_the_tool_and_delete_puts_it_in_the_bin(qtbot, given, batch, show, settled):
    tools, _ = given.catalog.tools.add_lines(batch, [NewTool(kind="block")] * 2)
    screen = show(BatchScreen(given, batch))
    screen.list.rows.setFocus()

    with qtbot.waitSignal(screen.go) as went:
        qtbot.keyClick(screen.list.rows, Qt.Key.Key_Return)
    assert went.args[0] == routes.ToolRoute(tool=tools[0])

    with qtbot.waitSignal(given.edits.happened):
        qtbot.keyClick(screen.list.rows, Qt.Key.Key_Delete)
    settled()
    assert screen.list.model.tools == tools[1:]


def test_rows_pass_qt_s_own_test_of_models(qtbot, qtmodeltester, given, batch, show):
    given.catalog.tools.add_lines(batch, [NewTool(kind="block")] * 5)
    screen = show(BatchScreen(given, batch))

    qtmodeltester.check(screen.list.model)


def test_an_empty_batch_says_what_to_do_next(given, batch, show):
    screen = show(BatchScreen(given, batch))

    assert screen.list._empty.isVisible()
    assert "Ins" in screen.list._empty_help.text()


def test_the_bill_says_when_a_sold_tool_s_price_is_not_entered(given, batch, show, settled):
    tool = given.catalog.tools.add(batch, NewTool(kind="block")).id
    given.catalog.tools.set_status([tool], ToolStatus.SOLD)

    screen = show(BatchScreen(given, batch))

    amounts = [screen.preview._bill.itemAt(i).widget()._amount.text() for i in range(2)]
    assert "price not entered" in amounts


def test_photographs_that_wait_are_told_in_their_batch_and_one_step_away(
    qtbot, given, batch, show, tmp_path
):
    screen = show(BatchScreen(given, batch))
    assert not screen.list.waiting.isVisible()
    result = import_photographs(
        given.catalog, [shot(tmp_path / "1.jpg")], to=Destination(batch=batch)
    )
    given.edits.happened.emit(result.changes)
    qtbot.waitUntil(screen.list.waiting.isVisible)
    assert screen.list.waiting.text() == "1 photograph waits to be filed"

    with qtbot.waitSignal(screen.go) as went:
        screen.list.waiting.clicked.emit()

    assert went.args[0] == routes.ImportRoute(batch=batch, waiting=True)
