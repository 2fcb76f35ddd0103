"""When it was made: the signs of a tool's date, weighed over one scale of years."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence, QResizeEvent, QShortcut
from PySide6.QtWidgets import QHBoxLayout
from typing_extensions import override

from planebench.catalog.changes import Changes
from planebench.catalog.ids import PhotographId, SignId, ToolId
from planebench.catalog.values import DatingSign, Part
from planebench.window import ways
from planebench.window.given import Given
from planebench.window.jobs import LatestRead
from planebench.window.pieces.lines import Rule
from planebench.window.pieces.place import Place
from planebench.window.screens.dating import acts
from planebench.window.screens.dating.answers import Disagreement
from planebench.window.screens.dating.beside import SignBeside
from planebench.window.screens.dating.chart import Chart
from planebench.window.screens.dating.model import Shown, shown_of
from planebench.window.screens.dating.pinned import PinSet

_BESIDE_SHARE, _BESIDE_LEAST, _BESIDE_MOST = 0.29, 372, 520


class DatingScreen(Place):
    """The signs of one tool's date."""

    def __init__(self, given: Given, tool: ToolId) -> None:
        super().__init__()
        self._given = given
        self._tool = tool
        self._shown: Shown | None = None
        self._choose: SignId | None = None
        self._reading = LatestRead(given.jobs, self)
        self.beside = SignBeside(given)
        self.chart = Chart()
        self._lay_out()
        self._connect()
        given.edits.happened.connect(self._look_again)
        self._ask()

    @property
    def tools_in_hand(self) -> tuple[ToolId, ...]:
        """The tool shown, for the menus."""
        return (self._tool,)

    @property
    def shown(self) -> Shown | None:
        """What is shown, None until it has been read."""
        return self._shown

    @override
    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        wide = min(max(round(self.width() * _BESIDE_SHARE), _BESIDE_LEAST), _BESIDE_MOST)
        self.beside.setFixedWidth(wide)

    def _lay_out(self) -> None:
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(0)
        row.addWidget(self.beside)
        row.addWidget(Rule(upright=True))
        row.addWidget(self.chart, 1)
        self.set_title("When it was made", up="Tool")
        self.set_regions(self.chart.list, self.beside)
        self.set_keys(
            ("Up, Down", "the sign before or after"),
            ("Space", "count a sign or leave it out"),
            ("Delete", "put the sign in the bin"),
        )

    def _connect(self) -> None:
        chart, beside = self.chart, self.beside
        chart.moved.connect(self._show_sign)
        chart.toggled.connect(self._toggle)
        beside.sure_chosen.connect(
            lambda sign, code: self._do(acts.say_how_sure(SignId(sign), code))
        )
        beside.part_not_original.connect(self._not_original)
        beside.doubted.connect(lambda signs: self._do(acts.doubt(signs)))
        beside.left_open.connect(self._leave_open)
        pinned = beside.pinned
        pinned.pin_set.connect(self._set_pin)
        pinned.photograph_wanted.connect(
            lambda photo: self.go.emit(ways.ToPhotograph(photograph=PhotographId(photo)))
        )
        pinned.photographs_wanted.connect(lambda: self.go.emit(ways.ToIntake(tool=self._tool)))
        shortcut = QShortcut(QKeySequence("Del"), chart.list)
        shortcut.setContext(Qt.ShortcutContext.WidgetShortcut)
        shortcut.activated.connect(self._bin)

    def _ask(self) -> None:
        catalog, tool = self._given.catalog, self._tool
        self._reading.ask(lambda _job: shown_of(catalog, tool), done=self._show)

    def _show(self, shown: Shown) -> None:
        was, self._shown = self._shown, shown
        count = len(shown.lines)
        self.set_title(
            "When it was made",
            up=f"{shown.tool.stock_number} {shown.tool.line.title}",
            remark=f"{count} {'sign' if count == 1 else 'signs'}" if count else "no signs yet",
        )
        self.chart.show_shown(shown, choose=self._choose, change=_change(was, shown))
        self._choose = None
        self._show_sign()

    def _show_sign(self) -> None:
        if self._shown is not None:
            self.beside.show_shown(self._shown, self.chart.current)

    def _sign(self, sign: str | None) -> DatingSign | None:
        line = None if self._shown is None or sign is None else self._shown.line_of(SignId(sign))
        return None if line is None else line.sign

    def _do(self, verb: acts.Verb) -> None:
        catalog, edits = self._given.catalog, self._given.edits
        self._given.jobs.edit(lambda _job: verb(catalog), done=edits.happened.emit)

    def _toggle(self, sign: str) -> None:
        found = self._sign(sign)
        if found is not None:
            self._do(acts.count_or_leave_out(found))

    def _bin(self) -> None:
        current = self.chart.current
        if current is not None:
            self._do(acts.put_in_bin(current))

    def _not_original(self, part: Part | None) -> None:
        if part is not None:
            self._do(acts.call_not_original(part.id))

    def _leave_open(self, found: Disagreement | None) -> None:
        if found is not None:
            self._do(acts.leave_open(found.signs, left_open=not found.left_open))

    def _set_pin(self, wanted: PinSet) -> None:
        self._do(acts.set_pin(wanted))

    def _look_again(self, changes: Changes) -> None:
        if self._tool in changes.tools or changes.catalog_wide:
            self._ask()


def _change(was: Shown | None, now: Shown) -> str:
    """Say what an edit did to the date, empty for nothing."""
    if was is None or was.result.made == now.result.made:
        return ""
    return f"Before this change: {was.result.made[:1].lower()}{was.result.made[1:]}"
