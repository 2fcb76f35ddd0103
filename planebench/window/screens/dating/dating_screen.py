"""When it was made: the evidence for a tool's date on one scale of years."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from PySide6.QtCore import QPoint, Qt
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
from planebench.window.pieces.row_menu import MenuEntry, open_row_menu
from planebench.window.pieces.screen import Screen
from planebench.window.screens.dating import dating_edits
from planebench.window.screens.dating.dating_chart import DatingChart
from planebench.window.screens.dating.dating_model import DatingModel, read_dating_model
from planebench.window.screens.dating.dating_photos import PinSet
from planebench.window.screens.dating.disagreements import Disagreement
from planebench.window.screens.dating.evidence_form import EnteredEvidence, EvidenceForm
from planebench.window.screens.dating.evidence_panel import EvidencePanel
from planebench.window.screens.dating.type_studies import TypeStudies

_BESIDE_SHARE, _BESIDE_LEAST, _BESIDE_MOST = 0.29, 372, 520


_DRAFT = "evidence"


class DatingScreen(Screen):
    """The evidence for the date of one tool."""

    def __init__(self, context: ScreenContext, tool: ToolId) -> None:
        super().__init__()
        self._context = context
        self._tool = tool
        self._shown: DatingModel | None = None
        self._choose: EvidenceId | None = None
        self._draft: dict[str, str] = {}
        self._sent_draft: dict[str, str] = {}
        self._reading = LatestRead(context.jobs, self)
        self.panel = EvidencePanel(context)
        self.form = EvidenceForm()
        self.chart = DatingChart()
        self.studies = TypeStudies(context)
        self._left = QStackedWidget()
        self._body = QStackedWidget()
        self._compare = ActionButton("Compare with a type study")
        self._enter = ActionButton("Add evidence", key="N")
        self._lay_out()
        self._connect()
        context.edits.happened.connect(self._look_again)
        self._ask_tables()
        self._context.jobs.read(
            lambda _job: context.catalog.drafts.of(tool).get(_DRAFT, {}),
            done=self._take_draft,
            owner=self,
        )
        self._ask()

    @property
    @override
    def selected_tools(self) -> tuple[ToolId, ...]:
        """The tool shown, for the menus."""
        return (self._tool,)

    @property
    def shown(self) -> DatingModel | None:
        """What is shown; None until it was read."""
        return self._shown

    @override
    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        wide = min(max(round(self.width() * _BESIDE_SHARE), _BESIDE_LEAST), _BESIDE_MOST)
        self._left.setFixedWidth(wide)
        self.studies.page.set_width(wide)

    def _lay_out(self) -> None:
        whole = QHBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(self._body)
        entries = QWidget()
        self._body.addWidget(entries)
        self._body.addWidget(self.studies)
        row = QHBoxLayout(entries)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(0)
        self._left.addWidget(self.panel)
        self._left.addWidget(self.form)
        row.addWidget(self._left)
        row.addWidget(Rule(upright=True))
        row.addWidget(self.chart, 1)
        self.set_title("When it was made", up="Tool")
        self.set_regions(self.chart.list, self.panel)
        self.set_title_buttons(self._compare, self._enter)
        self.set_keys(
            ("N", "add evidence"),
            ("Enter, double click", "edit the evidence"),
            ("Up, Down", "previous or next evidence"),
            ("Space", "count the evidence or leave it out"),
            ("Delete", "delete the evidence"),
        )

    def _connect(self) -> None:
        chart, panel = self.chart, self.panel
        chart.moved.connect(self._show_evidence)
        chart.toggled.connect(self._toggle)
        panel.sure_chosen.connect(
            lambda evidence, code: self._do(dating_edits.set_sureness(EvidenceId(evidence), code))
        )
        panel.part_not_original.connect(self._not_original)
        panel.doubted.connect(lambda entries: self._do(dating_edits.set_doubtful(entries)))
        panel.left_open.connect(self._leave_open)
        photograph = panel.photograph
        photograph.pin_set.connect(self._set_pin)
        photograph.photograph_wanted.connect(
            lambda photo: self.go.emit(routes.PhotographRoute(photograph=PhotographId(photo)))
        )
        photograph.photographs_wanted.connect(
            lambda: self.go.emit(routes.ImportRoute(tool=self._tool))
        )
        chart.opened.connect(self._change_evidence)
        chart.list.setContextMenuPolicy(Qt.ContextMenuPolicy.CustomContextMenu)
        chart.list.customContextMenuRequested.connect(self._open_menu)
        self._enter.clicked.connect(self.begin_entering)
        self.form.wanted.connect(self._write)
        self.form.left.connect(self._leave_form)
        self.form.rested.connect(self._keep_draft)
        self._compare.clicked.connect(self._compare_or_back)
        self.studies.page.photograph.photographs_wanted.connect(
            lambda: self.go.emit(routes.ImportRoute(tool=self._tool))
        )
        self.studies.left.connect(self._leave_studying)
        self.studies.evidence_wanted.connect(self._write_from_study)
        self._key("Del", chart.list, self._bin, Qt.ShortcutContext.WidgetShortcut)
        # For the whole window: the actions in the title line are outside this widget.
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
        """Open the form for new evidence."""
        self._open_form(None)

    def begin_comparing(self) -> None:
        """Show the type studies."""
        if self._shown is not None:
            self._body.setCurrentWidget(self.studies)
            self._compare.set_words("Back to the evidence")
            self.studies.show_tool(self._shown.tool)
            self.studies.page.choice.setFocus()

    def _compare_or_back(self) -> None:
        if self._body.currentWidget() is self.studies:
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

    def _open_menu(self, at: QPoint) -> None:
        evidence = self._evidence(self.chart.current)
        if evidence is None:
            return
        counted = "Leave out" if evidence.counted else "Count"
        entries = (
            MenuEntry(words="Edit", act=self._change_evidence, key="Enter"),
            MenuEntry(words=counted, act=lambda: self._toggle(evidence.id), key="Space"),
            MenuEntry(words="Delete", act=self._bin, key="Del"),
        )
        open_row_menu(self.chart.list, at, entries)

    def _open_form(self, evidence: EvidenceEntry | None) -> None:
        if self._shown is not None:
            self._leave_studying()
            self._left.setCurrentWidget(self.form)
            self.form.begin(self._shown.tool, evidence, self._draft if evidence is None else None)

    def _leave_form(self) -> None:
        self._left.setCurrentWidget(self.panel)
        self.chart.list.setFocus()

    def _write(self, written: EnteredEvidence) -> None:
        catalog, tool = self._context.catalog, self._tool

        self._sent_draft = {} if written.evidence is not None else self.form.draft

        def write(_job: Job) -> tuple[EvidenceId, Changes]:
            if written.evidence is not None:
                return written.evidence, catalog.evidence.change(written.evidence, **written.fields)
            added = catalog.evidence.add(tool, **written.fields)
            return added.id, added.changes

        self._context.jobs.edit(write, done=self._written)

    def _written(self, answer: tuple[EvidenceId, Changes]) -> None:
        self._choose, changes = answer
        self._write_draft({})
        self._leave_form()
        self._context.edits.happened.emit(changes)

    def _keep_draft(self) -> None:
        """Keep what was begun in the form; existing evidence that is edited has no draft."""
        if self.form.is_adding and self.form.draft != self._sent_draft:
            self._write_draft(self.form.draft)

    def _write_draft(self, draft: dict[str, str]) -> None:
        if draft == self._draft:
            return
        self._draft = draft
        drafts, tool = self._context.catalog.drafts, self._tool
        self._context.jobs.edit(
            lambda _job: drafts.keep(tool, _DRAFT, draft),
            done=lambda _kept: None,
            failed=self._context.notices.trouble,
            owner=self._context.edits,
        )

    def _take_draft(self, draft: Mapping[str, str]) -> None:
        self._draft = dict(draft)

    def _ask_tables(self) -> None:
        catalog = self._context.catalog
        self._context.jobs.read(
            lambda _job: catalog.own_tables.evidence_tables(), done=self._take_tables
        )

    def _take_tables(self, tables: EvidenceTables) -> None:
        self.form.set_tables(tables)
        self.studies.set_tables(tables)

    def _ask(self) -> None:
        catalog, tool = self._context.catalog, self._tool
        self._reading.ask(lambda _job: read_dating_model(catalog, tool), done=self._show)

    def _show(self, shown: DatingModel) -> None:
        was, self._shown = self._shown, shown
        count = len(shown.lines)
        self.set_title(
            "When it was made",
            up=f"{shown.tool.stock_number} {shown.tool.line.title}",
            remark=_evidence_count(count),
        )
        self.chart.show_model(shown, choose=self._choose, change=_change(was, shown))
        self._choose = None
        self._show_evidence()
        if self._body.currentWidget() is self.studies:
            self.studies.show_tool(shown.tool)

    def _show_evidence(self) -> None:
        if self._shown is not None:
            self.panel.show_model(self._shown, self.chart.current)

    def _evidence(self, evidence: str | None) -> EvidenceEntry | None:
        line = (
            None
            if self._shown is None or evidence is None
            else self._shown.line_of(EvidenceId(evidence))
        )
        return None if line is None else line.evidence

    def _do(self, verb: dating_edits.Verb) -> None:
        catalog, edits = self._context.catalog, self._context.edits
        self._context.jobs.edit(lambda _job: verb(catalog), done=edits.happened.emit)

    def _toggle(self, evidence: str) -> None:
        found = self._evidence(evidence)
        if found is not None:
            self._do(dating_edits.toggle_counted(found))

    def _bin(self) -> None:
        current = self.chart.current
        if current is not None:
            self._do(dating_edits.delete_evidence(current))

    def _not_original(self, part: Part | None) -> None:
        if part is not None:
            self._do(dating_edits.set_not_original(part.id))

    def _leave_open(self, found: Disagreement | None) -> None:
        if found is not None:
            self._do(dating_edits.set_left_open(found.evidence, left_open=not found.left_open))

    def _set_pin(self, wanted: PinSet) -> None:
        self._do(dating_edits.set_pin(wanted))

    def _look_again(self, changes: Changes) -> None:
        if changes.catalog_wide:
            self._ask_tables()
        if self._tool in changes.tools or changes.catalog_wide:
            self._ask()


def _evidence_count(count: int) -> str:
    if not count:
        return "no evidence yet"
    return f"{count} {'piece' if count == 1 else 'pieces'} of evidence"


def _change(was: DatingModel | None, now: DatingModel) -> str:
    """Return how an edit changed the date, empty for no change."""
    if was is None or _years(was) == _years(now):
        return ""
    by = f", by the {was.result.by}" if was.result.by and was.result.by != now.result.by else ""
    years = _years(was)
    return f"Before this change{by}: {years[:1].lower()}{years[1:]}"


def _years(shown: DatingModel) -> str:
    return ", ".join(filter(None, (shown.result.made, shown.result.doubt)))
