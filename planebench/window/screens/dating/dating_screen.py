"""When it was made: the signs of a tool's date, weighed over one scale of years."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence, QResizeEvent, QShortcut
from PySide6.QtWidgets import QHBoxLayout, QStackedWidget, QWidget
from typing_extensions import override

from planebench.catalog.changes import Changes
from planebench.catalog.ids import EvidenceId, PhotographId, ToolId
from planebench.catalog.values import EvidenceEntry, Part
from planebench.trade.evidence_parsing import EvidenceTables
from planebench.window import routes
from planebench.window.context import ScreenContext
from planebench.window.jobs import Job, LatestRead
from planebench.window.pieces.buttons import ActionButton
from planebench.window.pieces.lines import Rule
from planebench.window.pieces.screen import Screen
from planebench.window.screens.dating import dating_edits
from planebench.window.screens.dating.dating_chart import Chart
from planebench.window.screens.dating.dating_model import DatingModel, shown_of
from planebench.window.screens.dating.dating_photos import PinSet
from planebench.window.screens.dating.disagreements import Disagreement
from planebench.window.screens.dating.evidence_form import EnteredEvidence, EvidenceForm
from planebench.window.screens.dating.evidence_panel import EvidenceBeside
from planebench.window.screens.dating.type_studies import Studying

_BESIDE_SHARE, _BESIDE_LEAST, _BESIDE_MOST = 0.29, 372, 520


class DatingScreen(Screen):
    """The signs of one tool's date."""

    def __init__(self, given: ScreenContext, tool: ToolId) -> None:
        super().__init__()
        self._given = given
        self._tool = tool
        self._shown: DatingModel | None = None
        self._choose: EvidenceId | None = None
        self._reading = LatestRead(given.jobs, self)
        self.beside = EvidenceBeside(given)
        self.form = EvidenceForm()
        self.chart = Chart()
        self.studying = Studying(given)
        self._left = QStackedWidget()
        self._body = QStackedWidget()
        self._compare = ActionButton("Compare with a type study")
        self._enter = ActionButton("Enter a sign", key="N")
        self._lay_out()
        self._connect()
        given.edits.happened.connect(self._look_again)
        self._ask_tables()
        self._ask()

    @property
    @override
    def selected_tools(self) -> tuple[ToolId, ...]:
        """The tool shown, for the menus."""
        return (self._tool,)

    @property
    def shown(self) -> DatingModel | None:
        """What is shown, None until it has been read."""
        return self._shown

    @override
    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        wide = min(max(round(self.width() * _BESIDE_SHARE), _BESIDE_LEAST), _BESIDE_MOST)
        self._left.setFixedWidth(wide)
        self.studying.page.set_width(wide)

    def _lay_out(self) -> None:
        whole = QHBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(self._body)
        all_evidence = QWidget()
        self._body.addWidget(all_evidence)
        self._body.addWidget(self.studying)
        row = QHBoxLayout(all_evidence)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(0)
        self._left.addWidget(self.beside)
        self._left.addWidget(self.form)
        row.addWidget(self._left)
        row.addWidget(Rule(upright=True))
        row.addWidget(self.chart, 1)
        self.set_title("When it was made", up="Tool")
        self.set_regions(self.chart.list, self.beside)
        self.set_title_buttons(self._compare, self._enter)
        self.set_keys(
            ("N", "enter a sign"),
            ("Enter", "change the sign"),
            ("Up, Down", "the sign before or after"),
            ("Space", "count a sign or leave it out"),
            ("Delete", "put the sign in the bin"),
        )

    def _connect(self) -> None:
        chart, beside = self.chart, self.beside
        chart.moved.connect(self._show_evidence)
        chart.toggled.connect(self._toggle)
        beside.sure_chosen.connect(
            lambda evidence, code: self._do(dating_edits.say_how_sure(EvidenceId(evidence), code))
        )
        beside.part_not_original.connect(self._not_original)
        beside.doubted.connect(lambda all_evidence: self._do(dating_edits.doubt(all_evidence)))
        beside.left_open.connect(self._leave_open)
        pinned = beside.pinned
        pinned.pin_set.connect(self._set_pin)
        pinned.photograph_wanted.connect(
            lambda photo: self.go.emit(routes.PhotographRoute(photograph=PhotographId(photo)))
        )
        pinned.photographs_wanted.connect(lambda: self.go.emit(routes.ImportRoute(tool=self._tool)))
        chart.opened.connect(self._change_evidence)
        self._enter.clicked.connect(self.begin_entering)
        self.form.wanted.connect(self._write)
        self.form.left.connect(self._leave_form)
        self._compare.clicked.connect(self._compare_or_back)
        self.studying.page.looking.photographs_wanted.connect(
            lambda: self.go.emit(routes.ImportRoute(tool=self._tool))
        )
        self.studying.left.connect(self._leave_studying)
        self.studying.evidence_wanted.connect(self._write_from_study)
        self._key("Del", chart.list, self._bin, Qt.ShortcutContext.WidgetShortcut)
        # Of the whole window: the acts in the title line, where the keyboard may be, lie outside.
        self._key("N", self, self._enter_by_key, Qt.ShortcutContext.WindowShortcut)

    @staticmethod
    def _key(keys: str, on: QWidget, act: Callable[[], None], context: Qt.ShortcutContext) -> None:
        shortcut = QShortcut(QKeySequence(keys), on)
        shortcut.setContext(context)
        shortcut.activated.connect(act)

    def _enter_by_key(self) -> None:
        if not self.form.isVisible():
            self.begin_entering()

    def begin_entering(self) -> None:
        """Open the form for a new sign."""
        self._open_form(None)

    def begin_comparing(self) -> None:
        """Open the type studies."""
        if self._shown is not None:
            self._body.setCurrentWidget(self.studying)
            self._compare.set_words("Back to the signs")
            self.studying.show_tool(self._shown.tool)
            self.studying.page.choice.setFocus()

    def _compare_or_back(self) -> None:
        if self._body.currentWidget() is self.studying:
            self._leave_studying()
        else:
            self.begin_comparing()

    def _leave_studying(self) -> None:
        self._body.setCurrentIndex(0)
        self._compare.set_words("Compare with a type study")
        self.chart.list.setFocus()

    def _write_from_study(self, written: EnteredEvidence) -> None:
        self._leave_studying()
        self._write(written)

    def _change_evidence(self) -> None:
        evidence = self._evidence(self.chart.current)
        if evidence is not None:
            self._open_form(evidence)

    def _open_form(self, evidence: EvidenceEntry | None) -> None:
        if self._shown is not None:
            self._leave_studying()
            self._left.setCurrentWidget(self.form)
            self.form.begin(self._shown.tool, evidence)

    def _leave_form(self) -> None:
        self._left.setCurrentWidget(self.beside)
        self.chart.list.setFocus()

    def _write(self, written: EnteredEvidence) -> None:
        catalog, tool = self._given.catalog, self._tool

        def write(_job: Job) -> tuple[EvidenceId, Changes]:
            if written.evidence is not None:
                return written.evidence, catalog.evidence.change(written.evidence, **written.fields)
            added = catalog.evidence.add(tool, **written.fields)
            return added.id, added.changes

        self._given.jobs.edit(write, done=self._written)

    def _written(self, answer: tuple[EvidenceId, Changes]) -> None:
        self._choose, changes = answer
        self._leave_form()
        self._given.edits.happened.emit(changes)

    def _ask_tables(self) -> None:
        catalog = self._given.catalog
        self._given.jobs.read(
            lambda _job: catalog.own_tables.evidence_tables(), done=self._take_tables
        )

    def _take_tables(self, tables: EvidenceTables) -> None:
        self.form.set_tables(tables)
        self.studying.set_tables(tables)

    def _ask(self) -> None:
        catalog, tool = self._given.catalog, self._tool
        self._reading.ask(lambda _job: shown_of(catalog, tool), done=self._show)

    def _show(self, shown: DatingModel) -> None:
        was, self._shown = self._shown, shown
        count = len(shown.lines)
        self.set_title(
            "When it was made",
            up=f"{shown.tool.stock_number} {shown.tool.line.title}",
            remark=f"{count} {'evidence' if count == 1 else 'all_evidence'}"
            if count
            else "no signs yet",
        )
        self.chart.show_shown(shown, choose=self._choose, change=_change(was, shown))
        self._choose = None
        self._show_evidence()
        if self._body.currentWidget() is self.studying:
            self.studying.show_tool(shown.tool)

    def _show_evidence(self) -> None:
        if self._shown is not None:
            self.beside.show_shown(self._shown, self.chart.current)

    def _evidence(self, evidence: str | None) -> EvidenceEntry | None:
        line = (
            None
            if self._shown is None or evidence is None
            else self._shown.line_of(EvidenceId(evidence))
        )
        return None if line is None else line.evidence

    def _do(self, verb: dating_edits.Verb) -> None:
        catalog, edits = self._given.catalog, self._given.edits
        self._given.jobs.edit(lambda _job: verb(catalog), done=edits.happened.emit)

    def _toggle(self, evidence: str) -> None:
        found = self._evidence(evidence)
        if found is not None:
            self._do(dating_edits.count_or_leave_out(found))

    def _bin(self) -> None:
        current = self.chart.current
        if current is not None:
            self._do(dating_edits.put_in_bin(current))

    def _not_original(self, part: Part | None) -> None:
        if part is not None:
            self._do(dating_edits.call_not_original(part.id))

    def _leave_open(self, found: Disagreement | None) -> None:
        if found is not None:
            self._do(dating_edits.leave_open(found.evidence, left_open=not found.left_open))

    def _set_pin(self, wanted: PinSet) -> None:
        self._do(dating_edits.set_pin(wanted))

    def _look_again(self, changes: Changes) -> None:
        if changes.catalog_wide:
            self._ask_tables()
        if self._tool in changes.tools or changes.catalog_wide:
            self._ask()


def _change(was: DatingModel | None, now: DatingModel) -> str:
    """Say what an edit did to the date, empty for nothing."""
    if was is None or _years(was) == _years(now):
        return ""
    by = f", by the {was.result.by}" if was.result.by and was.result.by != now.result.by else ""
    years = _years(was)
    return f"Before this change{by}: {years[:1].lower()}{years[1:]}"


def _years(shown: DatingModel) -> str:
    return ", ".join(filter(None, (shown.result.made, shown.result.doubt)))
