"""Section 6: the bench log, what the buyer is told of it, and the usual caution."""

from __future__ import annotations

import datetime as dt
from decimal import Decimal
from typing import cast

from typing_extensions import override

from planebench.catalog.entries import WorkFields
from planebench.catalog.ids import WorkId
from planebench.catalog.reference import ListRow, open_list
from planebench.catalog.values import Work
from planebench.trade.days import format_day, parse_day
from planebench.trade.durations import format_minutes, parse_minutes
from planebench.trade.money import format_money, parse_money
from planebench.window.pieces.choice_controls import CheckBox
from planebench.window.pieces.record_sections import RecordSection
from planebench.window.screens.tool.entry_form import NO, YES, Ask, EntryForm, FormText
from planebench.window.screens.tool.record_editor import RecordContext
from planebench.window.screens.tool.record_rows import RowCell
from planebench.window.screens.tool.record_wording import list_choices, part_choices, short_day
from planebench.window.screens.tool.section_panel import NEW, RecordSectionPanel

_FIRST = "clean"


class WorkDone(RecordSectionPanel):
    """One line a piece of work."""

    def __init__(self, place: RecordSection, bench: RecordContext) -> None:
        super().__init__(place, bench)
        self.add_title_button("write down work")
        self.finished = CheckBox("The work is finished")
        self.finished.clicked.connect(self._say_finished)
        place.column.addWidget(self.finished)

    @override
    def fill(self) -> None:
        """Show what was done and when, and what the buyer is told."""
        tool = self.shown.tool
        facts = [self._fact(work) for work in tool.work]
        self.rows.show_facts(facts or [RowCell(key="", text="Nothing written down.", unknown=True)])
        self.finished.setChecked(tool.work_finished)
        self.finished.setVisible(not tool.work_finished)
        minutes = [work.minutes for work in tool.work if work.minutes is not None]
        self.place.set_remark(format_minutes(sum(minutes)) if minutes else "")

    @override
    def asks_for(self, key: str) -> tuple[Ask, ...]:
        """Ask what was done, when, how long, with what, and whether the buyer is told."""
        one = self._work(key) or _blank(self.shown.today)
        return (
            Ask(key="kind", label="Work", choices=list_choices("treatments"), holds=one.kind),
            Ask(
                key="what",
                label="What was done",
                hint="rust taken off sole and cheeks",
                holds=one.what,
            ),
            Ask(
                key="done_on",
                label="Day",
                hint="today, 28 April",
                holds="" if one.done_on is None else format_day(one.done_on),
                half=True,
                read=self._read_day,
            ),
            Ask(
                key="minutes",
                label="Time spent",
                hint="1 h 30",
                holds="" if one.minutes is None else format_minutes(one.minutes),
                half=True,
                read=_read_minutes,
            ),
            *self._more_asks(one),
            Ask(
                key="disclosed",
                label="The buyer must be told of it",
                check=True,
                holds=YES if one.disclosed else NO,
                read=lambda on: on == YES,
            ),
        )

    @override
    def text_for(self, key: str) -> FormText:
        """Say what the form is for, with the caution that goes with the work."""
        one = self._work(key)
        title, text = cautions_of(_FIRST if one is None else one.kind)
        if one is None:
            return FormText(
                name="new work", adding="Write it down", caution=text, caution_title=title
            )
        return FormText(name="work", binning="Into the bin", caution=text, caution_title=title)

    @override
    def dress(self, form: EntryForm, key: str) -> None:
        """Change caution and telling with the kind of work."""
        del key
        form.chosen.connect(lambda name: self._chosen(form, name))

    @override
    def keep(self, key: str, name: str, value: object) -> None:
        """Write one thing of a piece of work."""
        fields: dict[str, object] = {name: value}
        if name == "kind":
            fields["disclosed"] = must_be_told(str(value))
        change, given = self.catalog.bench_log.change, cast(WorkFields, fields)
        self.bench.hand.change(lambda: change(WorkId(key), **given), self.refused)

    @override
    def write_new(self, values: dict[str, object]) -> None:
        """Write down a piece of work; without words of its own it goes by its kind's name."""
        named = str(values["what"]) or open_list("treatments")[str(values["kind"])].name
        tool, add = self.shown.tool.id, self.catalog.bench_log.add
        fields = cast(WorkFields, {**values, "what": named})
        self.bench.hand.add(lambda: add(tool, **fields), lambda _new: self.written(), self.refused)

    @override
    def put_away(self, key: str) -> None:
        """Put a piece of work in the bin."""
        if key and key != NEW:
            self.bench.hand.change(lambda: self.catalog.bench_log.bin(WorkId(key)))

    def _more_asks(self, one: Work) -> tuple[Ask, ...]:
        currency, cost = self.shown.currency, one.cost
        return (
            Ask(
                key="part_id",
                label="Part",
                choices=part_choices(self.shown.tool.parts, "the whole tool"),
                holds=one.part or "",
                half=True,
                read=lambda part: part or None,
            ),
            Ask(
                key="cost",
                label="Cost",
                hint="of parts used",
                holds="" if cost is None else format_money(cost, currency),
                half=True,
                read=self._read_cost,
            ),
            Ask(
                key="materials",
                label="With what",
                hint="fine abrasive and oil",
                holds=one.materials,
            ),
        )

    def _chosen(self, form: EntryForm, name: str) -> None:
        if name != "kind":
            return
        kind = form.text_of("kind")
        title, text = cautions_of(kind)
        form.say_caution(text, title)
        told = form.controls["disclosed"]
        if isinstance(told, CheckBox):
            told.setChecked(must_be_told(kind))

    def _say_finished(self) -> None:
        tool, on = self.shown.tool.id, self.finished.isChecked()
        change = self.catalog.tools.change
        self.bench.hand.change(lambda: change(tool, work_finished=on))

    def _work(self, key: str) -> Work | None:
        return next((one for one in self.shown.tool.work if one.id == key), None)

    def _fact(self, work: Work) -> RowCell:
        day = short_day(work.done_on, self.shown.today)
        return RowCell(
            key=work.id,
            text=", ".join(filter(None, (work.what, day))),
            warned="told to buyer" if work.disclosed else "",
        )

    def _read_day(self, typed: str) -> dt.date | None:
        if not typed.strip():
            return None
        return parse_day(typed, field="Day", today=self.shown.today)

    def _read_cost(self, typed: str) -> Decimal | None:
        if not typed.strip():
            return None
        return parse_money(typed, field="Cost", currency=self.shown.currency)


def cautions_of(kind: str) -> tuple[str, str]:
    """Return title and text of the usual cautions for a kind of work; empty where there is none."""
    known = open_list("cautions")
    rows = [known[code] for code in _caution_codes(kind) if code in known]
    return "The usual caution" if rows else "", "\n".join(_caution(one) for one in rows)


def _caution_codes(kind: str) -> tuple[str, ...]:
    row = open_list("treatments").get(kind)
    codes = row.more.get("cautions") if row is not None else None
    return tuple(str(code) for code in codes) if isinstance(codes, list) else ()


def must_be_told(kind: str) -> bool:
    """Tell whether a buyer must hear of a kind of work unless said otherwise."""
    row = open_list("treatments").get(kind)
    return row is not None and bool(row.more.get("disclosed"))


def _blank(today: dt.date) -> Work:
    """Return what a new piece of work is until something else is said."""
    return Work(
        id=WorkId(""),
        version=0,
        part=None,
        kind=_FIRST,
        what="",
        materials="",
        done_on=today,
        minutes=None,
        cost=None,
        disclosed=must_be_told(_FIRST),
    )


def _caution(row: ListRow) -> str:
    checked = " (From memory, not checked against its source.)"
    return f"{row.more['text']}{checked if 'memory' in str(row.more.get('status')) else ''}"


def _read_minutes(typed: str) -> int | None:
    return parse_minutes(typed, field="Time spent") if typed.strip() else None
