"""The record of one tool: photographs at the left, seven sections at the right."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from PySide6.QtCore import QMimeData, Qt, QTimer
from PySide6.QtGui import (
    QDragEnterEvent,
    QDropEvent,
    QGuiApplication,
    QImage,
    QKeySequence,
    QResizeEvent,
    QShortcut,
)
from PySide6.QtWidgets import QHBoxLayout, QScrollArea, QStackedWidget, QVBoxLayout, QWidget
from typing_extensions import override

from planebench.catalog.catalog import Catalog
from planebench.catalog.changes import Changes
from planebench.catalog.ids import PhotographId, ToolId
from planebench.catalog.values import Photograph
from planebench.trade.terms import Stage, ToolStatus
from planebench.window import routes
from planebench.window.context import ScreenContext
from planebench.window.jobs import LatestRead
from planebench.window.pieces.dropped_files import (
    bitmap_in,
    files_in,
    holds_photographs,
    keep_bitmap,
)
from planebench.window.pieces.lines import Rule
from planebench.window.pieces.screen import Screen
from planebench.window.screens.tool.defect_pins import DefectPins
from planebench.window.screens.tool.photo_pane import (
    PhotographPane,
    RecordPhotograph,
    load_photograph,
)
from planebench.window.screens.tool.price_section import SALE
from planebench.window.screens.tool.record_editor import RecordContext, RecordEditor
from planebench.window.screens.tool.record_wording import photograph_words
from planebench.window.screens.tool.tool_model import ToolModel, first_photograph, read_tool_model
from planebench.window.screens.tool.tool_record import ToolRecord
from planebench.window.screens.tool.tool_title import ToolTitleControls
from planebench.window.screens.tool.view_naming import ViewNamingPane
from planebench.window.screens.tool.view_slots import ViewSlots
from planebench.window.thumbnails import Thumbnails

_NARROW_UNDER = 1400
_RECORD, _NARROW_RECORD = 496, 400


class ToolScreen(Screen):
    """The record of one tool. `section`, 1 to 7, is the section shown first."""

    def __init__(self, context: ScreenContext, tool: ToolId, *, section: int = 0) -> None:
        super().__init__()
        self._context = context
        self._tool = tool
        self._section = section
        self._shown: ToolModel | None = None
        self._current: PhotographId | None = None
        self._asks_sale = False
        self._editor = RecordEditor(context, tool, self)
        self._reading = LatestRead(context.jobs, self)
        self._picturing = LatestRead(context.jobs, self)
        thumbnails = Thumbnails(context, self)
        self.picture = PhotographPane()
        self.view_slots = ViewSlots(thumbnails)
        self.naming = ViewNamingPane(thumbnails)
        self.record = ToolRecord(
            RecordContext(context=context, tool=tool, editor=self._editor, go=self.go.emit)
        )
        self._pinning = DefectPins(context, self._editor, self.picture, self.record.defects)
        self.title_controls = ToolTitleControls()
        self._lay_out()
        self._connect()
        self.record.hide()  # until the record is read, there is nothing to edit
        self.setAcceptDrops(True)
        context.edits.happened.connect(self._refresh)
        self._ask()

    @property
    def current(self) -> PhotographId | None:
        """The photograph shown large."""
        return self._current

    @property
    @override
    def selected_tools(self) -> tuple[ToolId, ...]:
        """The tool shown, for the menus."""
        return (self._tool,)

    def jump(self, section: int) -> None:
        """Scroll to a section, 1 to 7, and focus it."""
        self.record.jump(section)

    def name_views(self) -> None:
        """Show all photographs of the tool, to name their views."""
        self._left.setCurrentWidget(self.naming)
        self.naming.begin()

    def stop_naming(self) -> None:
        """Go back to the large photograph and the views."""
        self._left.setCurrentIndex(0)
        self.view_slots.take_focus()

    def choose(self, photograph: str) -> None:
        """Show another photograph large."""
        self._current = PhotographId(photograph)
        self.view_slots.set_current(photograph)
        self.record.finish.photograph = photograph
        self.picture.stop_asking()
        self._load_current()

    def pair(self) -> None:
        """Compare the photograph with the same view before or after the work."""
        shown, one = self._shown, self._photograph()
        if shown is None or one is None:
            return
        known = shown.pair_of(one)
        other = shown.counterpart(one)
        if known is not None or other is None:
            pair = None if known is None else known.id
            self.go.emit(routes.PairRoute(tool=self._tool, pair=pair))
            return
        before, after = (one, other) if one.stage is Stage.AS_FOUND else (other, one)
        add, tool = self._context.catalog.pairs.add, self._tool
        self._editor.add(
            lambda: add(before.id, after.id),
            lambda new: self.go.emit(routes.PairRoute(tool=tool, pair=new)),
        )

    def paste(self) -> None:
        """Add photographs from the clipboard: files, or an image."""
        self._add_from(QGuiApplication.clipboard().mimeData())

    @override
    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        if holds_photographs(event.mimeData()):
            event.acceptProposedAction()

    @override
    def dropEvent(self, event: QDropEvent) -> None:
        self._add_from(event.mimeData())
        event.acceptProposedAction()

    @override
    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        narrow = self.width() < _NARROW_UNDER
        self._scroll.setFixedWidth(_NARROW_RECORD if narrow else _RECORD)
        self.view_slots.set_narrow(narrow=narrow)
        self.record.set_narrow(narrow=narrow)

    def _lay_out(self) -> None:
        seen = QWidget()
        column = QVBoxLayout(seen)
        column.setContentsMargins(24, 16, 24, 16)
        column.setSpacing(12)
        column.addWidget(self.picture, 1)
        column.addWidget(self.view_slots)
        self._left = QStackedWidget()
        self._left.addWidget(seen)
        self._left.addWidget(self.naming)
        self._scroll = QScrollArea()
        self._scroll.setWidgetResizable(True)
        self._scroll.setFrameShape(QScrollArea.Shape.NoFrame)
        self._scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._scroll.setWidget(self.record)
        self._scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.record.area = self._scroll
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(0)
        row.addWidget(self._left, 1)
        row.addWidget(Rule(upright=True))
        row.addWidget(self._scroll)
        self.set_regions(self.picture.view, self.view_slots, self.record)
        self.set_title_buttons(*self.title_controls.controls)
        self.set_keys(
            ("1 to 7", "go to a section of the record"),
            ("Tab, Up, Down", "move through the record; Enter opens a row, Esc closes it"),
            ("Delete", "delete the row; on the photograph, remove the pin"),
            ("arrows", "among the views: another photograph; on a pin: move it"),
            ("Page Up, Page Down", "on the photograph: previous or next photograph"),
            ("Enter", "on a photograph: open it"),
            ("B", "on a photograph: compare the view before and after the work"),
            ("Ctrl+V", "add copied photographs"),
            ("Alt+Left, Alt+Right", "previous or next tool"),
        )

    def _connect(self) -> None:
        for number in range(1, 8):
            self._key(str(number), partial(self.jump, number))
        self._key("Ctrl+V", self.paste)
        self._key("Alt+Left", lambda: self._neighbor(-1))
        self._key("Alt+Right", lambda: self._neighbor(1))
        acts = self.title_controls
        acts.status_chosen.connect(self._set_status)
        acts.previous.clicked.connect(lambda: self._neighbor(-1))
        acts.next.clicked.connect(lambda: self._neighbor(1))
        acts.sheet.clicked.connect(lambda: self.go.emit(routes.SheetRoute(tools=(self._tool,))))
        self.view_slots.chosen.connect(self.choose)
        self.view_slots.pair_wanted.connect(self.pair)
        self.view_slots.work_wanted.connect(self._work)
        self.view_slots.photographs_wanted.connect(self._add_photographs)
        self.view_slots.import_wanted.connect(lambda _view, _stage: self._add_photographs())
        self.view_slots.naming_wanted.connect(self.name_views)
        self.naming.closed.connect(self.stop_naming)
        self.naming.wanted.connect(self._change_photographs)
        self.picture.work_wanted.connect(self._work)
        self.picture.pair_wanted.connect(self.pair)
        self.picture.photographs_wanted.connect(self._add_photographs)
        self.picture.view.other_wanted.connect(self._other)

    def _key(self, keys: str, act: Callable[[], object]) -> None:
        shortcut = QShortcut(QKeySequence(keys), self)
        shortcut.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
        shortcut.activated.connect(act)

    def _ask(self) -> None:
        catalog, tool = self._context.catalog, self._tool
        self._reading.ask(
            lambda _job: read_tool_model(catalog, tool),
            done=self._show,
            failed=self._context.notices.trouble,
        )

    def _show(self, shown: ToolModel) -> None:
        first = self._shown is None
        self._shown = shown
        tool = shown.tool
        if shown.photograph(self._current) is None:
            one = first_photograph(tool.photographs, tool.line.latest_photograph)
            self._current = None if one is None else one.id
        self._show_title(shown)
        self.title_controls.show(shown)
        self._pinning.show(shown)
        self.record.finish.photograph = self._current
        self.record.show_record(shown)
        self.record.show()
        self.view_slots.show_tool(tool, self._current, shown.order)
        self.naming.show_tool(tool)
        self._show_picture()
        self._pinning.light_again()
        if self._asks_sale and tool.status is ToolStatus.SOLD:
            # Selling a tool asks at once for price, day and buyer.
            self._asks_sale = False
            self.record.price.open(SALE)
        if first and self._section:
            QTimer.singleShot(0, self, lambda: self.jump(self._section))

    def _show_title(self, shown: ToolModel) -> None:
        tool = shown.tool
        named = " ".join(filter(None, (tool.maker, tool.model, tool.size)))
        title = ", ".join(filter(None, (tool.line.title, named)))
        up = f"{shown.batch.code} {shown.batch.title}".strip()
        remark = (
            f"tool {shown.position} of {len(shown.siblings)}" if shown.position else "in the bin"
        )
        self.set_title(f"{tool.stock_number}  {title}", up=up, remark=remark)

    def _show_picture(self) -> None:
        loaded, current = self.picture.loaded, self._current
        if current is None:
            self.picture.show_loaded(None, "")
        elif loaded is not None and loaded.photograph.id == current:
            one = self._photograph() or loaded.photograph
            self._loaded(RecordPhotograph(photograph=one, picture=loaded.picture))
        else:
            self._load_current()

    def _load_current(self) -> None:
        catalog, current = self._context.catalog, self._current
        if current is not None:
            self._picturing.ask(
                lambda _job: load_photograph(catalog, current),
                done=self._loaded,
                failed=self._not_loaded,
            )

    def _loaded(self, loaded: RecordPhotograph) -> None:
        if loaded.photograph.id != self._current or self._shown is None:
            return
        pins = self._pinning.numbered(loaded.photograph.id)
        self.picture.show_loaded(
            loaded, photograph_words(loaded.photograph, self._shown.order), pins
        )
        self._pinning.light_again()

    def _not_loaded(self, error: Exception) -> None:
        self.picture.show_loaded(None, "This photograph cannot be shown")
        self._context.notices.trouble(error)

    def _refresh(self, changes: Changes) -> None:
        batch = None if self._shown is None else self._shown.batch.id
        if self._tool in changes.tools or batch in changes.batches or changes.catalog_wide:
            self._ask()

    def _photograph(self) -> Photograph | None:
        return None if self._shown is None else self._shown.photograph(self._current)

    def _other(self, step: int) -> None:
        order = self.view_slots.order()
        if self._current in order:
            self.choose(order[(order.index(self._current) + step) % len(order)])

    def _neighbor(self, step: int) -> None:
        other = None if self._shown is None else self._shown.neighbor(step)
        if other is not None:
            self.go.emit(routes.ToolRoute(tool=other, replaces=True))

    def _set_status(self, status: str) -> None:
        tools, tool = self._context.catalog.tools, self._tool
        self._asks_sale = ToolStatus(status) is ToolStatus.SOLD
        self._editor.change(lambda: tools.set_status((tool,), ToolStatus(status)))

    def _work(self) -> None:
        if self._current is not None:
            self.go.emit(routes.PhotographRoute(photograph=self._current))

    def _add_photographs(self) -> None:
        self.go.emit(routes.ImportRoute(tool=self._tool))

    def _change_photographs(self, verb: Callable[[Catalog], Changes]) -> None:
        catalog = self._context.catalog
        self._editor.change(lambda: verb(catalog))

    def _add_from(self, data: QMimeData) -> None:
        paths, image = files_in(data), bitmap_in(data)
        if paths:
            self._import_files(paths)
        elif image is not None:
            self._keep_bitmap(image)
        else:
            self._context.notices.advise(
                "The clipboard holds no photograph.",
                remedy="Copy image files or an image, then press Ctrl+V again.",
            )

    def _keep_bitmap(self, image: QImage) -> None:
        self._context.jobs.read(
            lambda _job: keep_bitmap(image),
            done=lambda path: self._import_files((path,)),
            failed=self._context.notices.trouble,
            owner=self,
        )

    def _import_files(self, paths: tuple[str, ...]) -> None:
        self.go.emit(routes.ImportRoute(tool=self._tool, paths=paths))
