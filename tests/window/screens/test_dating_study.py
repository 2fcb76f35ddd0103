"""A tool beside a type study, and tables of one's own, in the real window."""

from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from planebench.catalog.ids import ToolId
from planebench.catalog.own_tables import KNOWN_FEATURES, TYPE_STUDY
from planebench.catalog.reference import sample_source
from planebench.trade.dating_span import PRODUCTION
from planebench.window import routes
from planebench.window.context import ScreenContext
from planebench.window.pieces.screen import Screen
from planebench.window.screen_table import screen_for
from planebench.window.screens.dating.dating_screen import DatingScreen
from planebench.window.screens.dating.study_comparison import likeliest_study
from planebench.window.screens.dating.study_grid import StudyGrid
from planebench.window.screens.dating.study_page import StudyPage

Show = Callable[[Screen], Screen]
Settled = Callable[[], None]


@pytest.fixture
def tool_id(given_sample: ScreenContext) -> ToolId:
    """Return a plane of the sample that has a type study."""
    found = given_sample.catalog.tools.by_stock_number("LOT7-003")
    assert found is not None
    return found


@pytest.fixture
def screen(
    given_sample: ScreenContext, tool_id: ToolId, show: Show, settled: Settled
) -> DatingScreen:
    """Return its dating with the type studies open."""
    place = show(screen_for(given_sample, routes.DatingRoute(tool=tool_id)))
    assert isinstance(place, DatingScreen)
    settled()
    place.begin_comparing()
    settled()
    return place


@pytest.fixture
def page(screen: DatingScreen) -> StudyPage:
    """Return the page of type studies."""
    return screen.studies.page


def _tick(page: StudyPage, feature: str, form: str) -> None:
    box = page.features[feature]
    box.hold(form)
    box.chosen.emit(form)


def test_the_study_of_the_tool_s_model_stands_first(page: StudyPage) -> None:
    assert page.study is not None
    assert "pattern K" in page.study.model
    assert page.choice.count() == 2


@pytest.mark.parametrize(
    ("stock", "study"),
    [("LOT7-004", "Block planes"), ("LOT7-005", "Smoothing planes"), ("LOT7-009", "Smoothing")],
)
def test_a_tool_of_no_known_model_is_compared_with_the_study_of_its_kind(
    given_sample: ScreenContext, show: Show, settled: Settled, stock: str, study: str
) -> None:
    found = given_sample.catalog.tools.by_stock_number(stock)
    assert found is not None
    screen = show(screen_for(given_sample, routes.DatingRoute(tool=found)))
    assert isinstance(screen, DatingScreen)
    settled()
    screen.begin_comparing()
    settled()

    assert screen.studies.page.study is not None
    assert screen.studies.page.study.title.startswith(study)


def test_the_maker_s_own_model_tells_more_than_the_kind(given_sample: ScreenContext) -> None:
    catalog = given_sample.catalog
    studies = catalog.own_tables.type_studies()
    known = catalog.tools.by_stock_number("LOT7-003")
    assert known is not None
    tool = catalog.tools.one(known)

    block = next(one.id for one in studies if "Block" in one.study.title)
    smoothing = next(one.id for one in studies if "Smoothing" in one.study.title)

    assert likeliest_study(studies, replace(tool, model="pattern B"), "Smoothing plane") == block
    of_another = replace(tool, maker="Tarrow", model="pattern B")
    assert likeliest_study(studies, of_another, "Smoothing plane") == smoothing


def test_nothing_is_written_down_before_anything_was_looked_at(page: StudyPage) -> None:
    assert not page.write.isEnabled()
    assert page.write.toolTip()


def test_what_the_tool_shows_leaves_the_variants_that_fit(
    page: StudyPage, settled: Settled
) -> None:
    _tick(page, "knob foot", "ringed")
    _tick(page, "casting mark", "two dots and a bar")
    settled()

    assert page.fitting.text() == "Variants 8 and 9 fit"
    assert page.years.text() == "made 1913 to 1917, by 2 of its 10 features"
    assert "bed floor" in page.next_look.accessibleName()
    told = [
        str(page.variants.model().index(row, 0).data())
        for row in range(page.variants.model().rowCount())
    ]
    against = "1 mismatch, the casting mark: two dots and a bar here, two dots in the study"
    assert (
        f"Variant 7, 1911 to 1912, Two lines on the cap while the arc is used up, {against}" in told
    )


def test_what_fits_is_written_down_as_a_piece_of_evidence_and_ticked_again_later(
    screen: DatingScreen,
    page: StudyPage,
    given_sample: ScreenContext,
    tool_id: ToolId,
    settled: Settled,
) -> None:
    _tick(page, "knob foot", "ringed")
    _tick(page, "casting mark", "two dots and a bar")
    settled()

    QTest.mouseClick(page.write, Qt.MouseButton.LeftButton)
    settled()

    written = given_sample.catalog.tools.one(tool_id).evidence[-1]
    assert (written.kind, written.not_before, written.not_after) == ("type_study", 1913, 1917)
    assert written.source == "Smoothing planes, patterns J to L, variants: variants 8 and 9"
    assert written.source_status == "invented"
    assert not page.isVisible()
    assert screen.chart.current == written.id

    screen.begin_comparing()
    settled()
    page.choice.setCurrentIndex(0)
    page.choice.chosen.emit(page.choice.held)
    page.choice.setCurrentIndex(1)
    page.choice.chosen.emit(page.choice.held)
    assert page.features["knob foot"].held == "ringed"


def _write(page: StudyPage, screen: DatingScreen, settled: Settled) -> None:
    """Write a study down, and go back to it."""
    QTest.mouseClick(page.write, Qt.MouseButton.LeftButton)
    settled()
    screen.begin_comparing()
    settled()


def test_the_same_study_is_not_written_down_twice(
    screen: DatingScreen,
    page: StudyPage,
    given_sample: ScreenContext,
    tool_id: ToolId,
    settled: Settled,
) -> None:
    _tick(page, "knob foot", "ringed")
    settled()
    _write(page, screen, settled)
    all_evidence = given_sample.catalog.tools.one(tool_id).evidence

    assert not page.write.isEnabled()
    assert page.told.recorded.isVisible()
    assert page.told.recorded.text() == (f"Already recorded as evidence {all_evidence[-1].number}.")


def test_more_seen_changes_the_evidence_of_the_study_and_keeps_how_sure_it_was_said_to_be(
    screen: DatingScreen,
    page: StudyPage,
    given_sample: ScreenContext,
    tool_id: ToolId,
    settled: Settled,
) -> None:
    catalog = given_sample.catalog
    _tick(page, "knob foot", "ringed")
    settled()
    _write(page, screen, settled)
    before = catalog.tools.one(tool_id).evidence
    catalog.evidence.change(before[-1].id, sure=Decimal("0.25"))
    screen.studies.show_tool(catalog.tools.one(tool_id))
    _tick(page, "casting mark", "two dots and a bar")
    settled()
    assert page.write.text() == f"Update evidence {before[-1].number}"

    _write(page, screen, settled)

    after = catalog.tools.one(tool_id).evidence
    assert [evidence.id for evidence in after] == [evidence.id for evidence in before]
    assert (after[-1].not_before, after[-1].not_after) == (1913, 1917)
    assert after[-1].sure == Decimal("0.25")


@pytest.mark.parametrize(
    "said",
    [
        ("", "the maker of this tool is not known"),
        ("Tarrow", "this tool is recorded as Tarrow"),
        ("Halbeck & Son", ""),
    ],
)
def test_a_study_of_a_maker_that_the_plane_is_not_known_to_be_by_is_told_and_less_sure(
    screen: DatingScreen,
    given_sample: ScreenContext,
    tool_id: ToolId,
    settled: Settled,
    said: tuple[str, str],
) -> None:
    maker, doubt = said
    page = screen.studies.page
    tool = replace(given_sample.catalog.tools.one(tool_id), maker=maker)
    screen.studies.show_tool(tool)
    _tick(page, "knob foot", "ringed")
    settled()

    assert doubt in page.told.doubt.text()
    assert page.told.doubt.isVisible() == bool(doubt)

    QTest.mouseClick(page.write, Qt.MouseButton.LeftButton)
    settled()
    written = given_sample.catalog.tools.one(tool_id).evidence[-1]
    assert (written.sure < Decimal("0.6")) == bool(doubt)


def test_with_one_variant_left_a_further_look_makes_sure_and_separates_nothing(
    page: StudyPage, settled: Settled
) -> None:
    for feature in page.features:
        _tick(page, feature, page.study.variants[0].forms[feature][0] if page.study else "")
        settled()
        if page.fitting.text().startswith("Variant "):
            break

    assert page.fitting.text() == "Variant 1 fits"
    assert "separate" not in page.next_look.accessibleName()
    assert "To confirm, check the " in page.next_look.accessibleName()


def test_years_of_making_that_limit_the_date_already_say_so(
    screen: DatingScreen, page: StudyPage, settled: Settled
) -> None:
    QTest.mouseClick(page.production, Qt.MouseButton.LeftButton)
    settled()
    screen.begin_comparing()
    settled()

    assert not page.production.isEnabled()
    assert page.production.toolTip().startswith("Already limited by evidence ")


def test_the_years_of_making_can_bound_the_date(
    page: StudyPage, given_sample: ScreenContext, tool_id: ToolId, settled: Settled
) -> None:
    QTest.mouseClick(page.production, Qt.MouseButton.LeftButton)
    settled()

    written = given_sample.catalog.tools.one(tool_id).evidence[-1]
    assert (written.kind, written.not_before, written.not_after) == (PRODUCTION, 1887, 1940)


def test_esc_goes_back_to_the_evidence(screen: DatingScreen, page: StudyPage) -> None:
    QTest.keyClick(page.choice, Qt.Key.Key_Escape)

    assert screen.chart.isVisible()


def test_a_study_is_brought_in_from_a_file(
    screen: DatingScreen, page: StudyPage, settled: Settled, tmp_path: Path
) -> None:
    known = (sample_source() / "type_studies" / "halbeck_block.csv").read_text("utf-8")
    file = tmp_path / "mine.csv"
    file.write_text(known.replace("# title: Block", "# title: Small block"), "utf-8")

    screen.studies.import_table(file, TYPE_STUDY)
    settled()

    offered = [page.choice.itemText(at) for at in range(page.choice.count())]
    assert "Small block planes, patterns A to C, variants" in offered


def test_a_file_that_is_no_study_is_refused_naming_its_line(
    screen: DatingScreen, page: StudyPage, settled: Settled, tmp_path: Path
) -> None:
    file = tmp_path / "mine.csv"
    file.write_text("variant,years,note,source,knob\n1,1900/1910,,,low\n2,neverland,,,tall\n")

    screen.studies.import_table(file, TYPE_STUDY)
    settled()

    assert "line 3, years" in page.trouble.text()
    assert page.trouble.isVisible()
    assert page.choice.count() == 2


def test_a_file_that_is_no_text_is_refused(
    screen: DatingScreen, page: StudyPage, settled: Settled, tmp_path: Path
) -> None:
    file = tmp_path / "mine.csv"
    file.write_bytes(b"\xff\xfe\x00\x80")

    screen.studies.import_table(file, TYPE_STUDY)
    settled()

    assert "mine.csv cannot be read as text" in page.trouble.text()


def test_a_study_is_entered_in_a_grid_and_what_is_wrong_is_told(
    screen: DatingScreen, page: StudyPage, settled: Settled
) -> None:
    page.type_in.clicked.emit()
    entry = screen.studies.entry
    entry.fields["title"].set_text("Mine")
    entry.grid.add_feature("knob")
    entry.grid.setCurrentCell(0, 0)
    entry.grid.paste("1\tsoon\t\t\tlow\n")
    QTest.mouseClick(entry.write, Qt.MouseButton.LeftButton)
    settled()
    refused = entry.trouble.text()

    entry.grid.setCurrentCell(0, 1)
    entry.grid.paste("1910s")
    QTest.mouseClick(entry.write, Qt.MouseButton.LeftButton)
    settled()

    assert "line 3, years" in refused
    assert page.isVisible()
    assert page.choice.findText("Mine") >= 0


def test_a_study_is_edited_and_a_variant_duplicated(
    screen: DatingScreen, page: StudyPage, settled: Settled
) -> None:
    before = page.study
    assert before is not None
    page.edit.clicked.emit()
    entry = screen.studies.entry
    entry.fields["title"].set_text("Renamed study")
    entry.grid.setCurrentCell(0, 0)
    entry.grid.duplicate_row()
    entry.grid.setCurrentCell(1, 0)
    entry.grid.paste("1b")
    QTest.mouseClick(entry.write, Qt.MouseButton.LeftButton)
    settled()

    titles = [page.choice.itemText(row) for row in range(page.choice.count())]
    assert "Renamed study" in titles
    assert before.title not in titles
    page.choice.setCurrentIndex(page.choice.findText("Renamed study"))
    assert page.study is not None
    names = [variant.name for variant in page.study.variants]
    assert names[:2] == [before.variants[0].name, "1b"]
    assert len(names) == len(before.variants) + 1


def test_cells_pasted_from_a_spreadsheet_make_the_grid_longer() -> None:
    grid = StudyGrid()
    grid.show_rows(("knob",), ())

    grid.paste("1\t1890-1901\tfirst\t\tlow\r\n2\t1902-1910\t\t\thigh\r\n")

    assert grid.texts == [
        ["1", "1890-1901", "first", "", "low"],
        ["2", "1902-1910", "", "", "high"],
    ]


def test_a_table_of_dates_of_one_s_own_is_offered_among_the_clues(
    screen: DatingScreen, given_sample: ScreenContext, settled: Settled, tmp_path: Path
) -> None:
    file = tmp_path / "foundry.csv"
    file.write_text(
        "id,clue,wording,family,bounds,market,not_before,not_after,never_before,sure,looseness,"
        "source,status,use\n"
        "ring,Ring mark of Halbeck,,foundry mark,part,any,1909,1933,no,0.8,2,lists,invented,\n",
        "utf-8",
    )

    screen.studies.import_table(file, KNOWN_FEATURES)
    settled()
    screen.begin_entering()
    form = screen.form
    form.kind.hold("clue")
    form.kind.chosen.emit("clue")
    QTest.keyClicks(form.known_features.search.line, "ring mark of")

    assert form.known_features.mark == {"row": "ring"}
    assert [table.name for table in given_sample.catalog.own_tables.list(KNOWN_FEATURES)] == [
        "foundry"
    ]


def test_a_study_goes_into_the_bin(page: StudyPage, settled: Settled) -> None:
    page.to_bin.clicked.emit()
    settled()

    assert page.choice.count() == 1


def test_without_a_study_what_to_do_stands_beneath_the_title(
    page: StudyPage, settled: Settled
) -> None:
    while page.study is not None:
        page.to_bin.clicked.emit()
        settled()

    assert page.fitting.text() == "No type study yet"
    assert page.years.geometry().top() - page.fitting.geometry().bottom() < 20
