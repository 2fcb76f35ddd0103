"""Section 6: the bench log, what the buyer must be told, and the usual cautions."""

from __future__ import annotations

import datetime as dt
from decimal import Decimal
from typing import cast

from typing_extensions import override

from planebench.catalog.entries import WorkFields
from planebench.catalog.ids import WorkId
from planebench.catalog.reference import ListRow, open_list
from planebench.catalog.values import Work
from planebench.trade.days import format_day
from planebench.trade.durations import format_minutes, parse_minutes
from planebench.trade.money import format_money, parse_money
from planebench.window.listed_suggestions import list_suggestions
from planebench.window.pieces.choice_controls import CheckBox
from planebench.window.pieces.record_sections import RecordSection
from planebench.window.screens.tool.entry_form import EntryForm
from planebench.window.screens.tool.form_fields import (
    NO,
    YES,
    FormField,
    FormText,
    Listed,
    parse_listed,
)
from planebench.window.screens.tool.record_editor import RecordContext
from planebench.window.screens.tool.record_rows import RowCell
from planebench.window.screens.tool.record_wording import (
    format_short_day,
    part_choices,
)
from planebench.window.screens.tool.section_panel import NEW, RecordSectionPanel

_EXAMPLE = "cleaned"


def _kinds() -> Listed:
    return list_suggestions("treatments")


class WorkSection(RecordSectionPanel):
    """One row per entry of the bench log."""

    def __init__(self, section: RecordSection, record: RecordContext) -> None:
        super().__init__(section, record)
        self.add_act("add work")
        self.finished = CheckBox("Work finished")
        self.finished.clicked.connect(self._save_work_finished)
        section.column.addWidget(self.finished)

    @override
    def fill(self) -> None:
        """Show what was done and when, and what the buyer is told."""
        tool = self.shown.tool
        cells = [self._cell(work) for work in tool.work]
        self.rows.show_cells(cells or [RowCell(key="", text="No work recorded.", unknown=True)])
        self.finished.setChecked(tool.work_finished)
        minutes = [work.minutes for work in tool.work if work.minutes is not None]
        self.section.set_remark(format_minutes(sum(minutes)) if minutes else "")

    @override
    def form_fields(self, key: str) -> tuple[FormField, ...]:
        """Return fields for kind, description, day, time, materials and disclosure."""
        one = self._work(key) or _blank(self.shown.today)
        return (
            FormField(
                key="kind",
                label="Kind of work",
                listed=_kinds(),
                value=one.kind,
                hint="any word, or Down for the list",
                parse=parse_listed(_kinds(), _EXAMPLE),
            ),
            FormField(
                key="what",
                label="What was done",
                hint="removed rust from sole and cheeks",
                value=one.what,
            ),
            FormField(
                key="done_on",
                label="Day",
                hint="today, yesterday, 4/28",
                value="" if one.done_on is None else format_day(one.done_on, self.shown.order),
                half_width=True,
                parse=self.shown.parse_day,
                reads_as=self.shown.day_read_as,
            ),
            FormField(
                key="minutes",
                label="Time spent",
                hint="1 h 30",
                value="" if one.minutes is None else format_minutes(one.minutes),
                half_width=True,
                parse=_parse_time_spent,
            ),
            *self._more_fields(one),
            FormField(
                key="disclosed",
                label="The buyer must be told",
                is_checkbox=True,
                value=YES if one.disclosed else NO,
                parse=lambda on: on == YES,
            ),
        )

    @override
    def form_text(self, key: str) -> FormText:
        """Return the title and actions of the form, with the cautions for this kind of work."""
        one = self._work(key)
        title, text = cautions_of("" if one is None else one.kind)
        if one is None:
            return FormText(name="new work", adding="Add work", caution=text, caution_title=title)
        return FormText(name="work", binning="Delete", caution=text, caution_title=title)

    @override
    def first_field(self, key: str) -> str:
        """Start with the description, which finds the kind by its words."""
        del key
        return "what"

    @override
    def extend_form(self, form: EntryForm, key: str) -> None:
        """Follow the kind of work with its caution and disclosure."""
        del key
        form.chosen.connect(lambda name: self._chosen(form, name))

    @override
    def save_field(self, key: str, name: str, value: object) -> None:
        """Save one field of an entry."""
        fields: dict[str, object] = {name: value}
        # A change of kind can add a disclosure, but never take one away.
        if name == "kind" and requires_disclosure(str(value)):
            fields["disclosed"] = True
        change, typed_fields = self.catalog.bench_log.change, cast(WorkFields, fields)
        self.record.editor.change(lambda: change(WorkId(key), **typed_fields), self.show_error)

    @override
    def save_new(self, values: dict[str, object]) -> None:
        """Add an entry; without a description it is named after its kind."""
        named = str(values["what"]) or open_list("treatments")[str(values["kind"])].name
        tool, add = self.shown.tool.id, self.catalog.bench_log.add
        fields = cast(WorkFields, {**values, "what": named})
        self.record.editor.add(
            lambda: add(tool, **fields), lambda _new: self.close_saved(), self.show_error
        )

    @override
    def delete(self, key: str) -> None:
        """Delete an entry."""
        if key and key != NEW:
            self.record.editor.change(lambda: self.catalog.bench_log.bin(WorkId(key)))

    def _more_fields(self, one: Work) -> tuple[FormField, ...]:
        currency, cost = self.shown.currency, one.cost
        return (
            FormField(
                key="part_id",
                label="Part",
                choices=part_choices(self.shown.tool.parts, "whole tool"),
                value=one.part or "",
                half_width=True,
                parse=lambda part: part or None,
            ),
            FormField(
                key="cost",
                label="Cost",
                hint="parts and supplies",
                value="" if cost is None else format_money(cost, currency),
                half_width=True,
                parse=self._parse_cost,
            ),
            FormField(
                key="materials",
                label="Materials",
                hint="fine abrasive and oil",
                value=one.materials,
            ),
        )

    def _chosen(self, form: EntryForm, name: str) -> None:
        if name != "kind":
            return
        kind = form.text_of("kind")
        title, text = cautions_of(kind)
        form.show_caution(text, title)
        told = form.controls["disclosed"]
        if isinstance(told, CheckBox) and requires_disclosure(kind):
            told.setChecked(True)

    def _save_work_finished(self) -> None:
        tool, on = self.shown.tool.id, self.finished.isChecked()
        change = self.catalog.tools.change
        self.record.editor.change(lambda: change(tool, work_finished=on))

    def _work(self, key: str) -> Work | None:
        return next((one for one in self.shown.tool.work if one.id == key), None)

    def _cell(self, work: Work) -> RowCell:
        day = format_short_day(work.done_on, self.shown.today, self.shown.order)
        return RowCell(
            key=work.id,
            deletable=True,
            text=", ".join(filter(None, (work.what, day))),
            warned="disclosed" if work.disclosed else "",
        )

    def _parse_cost(self, typed: str) -> Decimal | None:
        if not typed.strip():
            return None
        return parse_money(typed, field="Cost", currency=self.shown.currency)


def cautions_of(kind: str) -> tuple[str, str]:
    """Return title and text of the usual cautions for a kind of work; empty if none."""
    known = open_list("cautions")
    rows = [known[code] for code in _caution_codes(kind) if code in known]
    return "Usual cautions" if rows else "", "\n".join(_caution(one) for one in rows)


def _caution_codes(kind: str) -> tuple[str, ...]:
    row = open_list("treatments").get(kind)
    codes = row.more.get("cautions") if row is not None else None
    return tuple(str(code) for code in codes) if isinstance(codes, list) else ()


def requires_disclosure(kind: str) -> bool:
    """Return whether a kind of work is disclosed to the buyer by default."""
    row = open_list("treatments").get(kind)
    return row is not None and bool(row.more.get("disclosed"))


def _blank(today: dt.date) -> Work:
    """Return the starting values of a new entry."""
    return Work(
        id=WorkId(""),
        version=0,
        part=None,
        kind="",
        what="",
        materials="",
        done_on=today,
        minutes=None,
        cost=None,
        disclosed=False,
    )


def _caution(row: ListRow) -> str:
    checked = " (From memory, not checked against a source.)"
    return f"{row.more['text']}{checked if 'memory' in str(row.more.get('status')) else ''}"


def _parse_time_spent(typed: str) -> int | None:
    return parse_minutes(typed, field="Time spent") if typed.strip() else None
