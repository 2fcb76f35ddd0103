"""Section 5: when the tool was made, with quick entry of evidence."""

from __future__ import annotations

from decimal import Decimal
from typing import cast

from typing_extensions import override

from planebench.catalog.dating_tables import dating_tables
from planebench.catalog.entries import EvidenceFields
from planebench.catalog.ids import EvidenceId
from planebench.catalog.reference import open_list
from planebench.catalog.repository import Added
from planebench.errors import InputError
from planebench.trade.date_estimate import format_short_estimate
from planebench.trade.dating import DateEstimate, DatingResult
from planebench.trade.evidence_parsing import evidence_from_years
from planebench.trade.record_dating import odd_parts_unanswered
from planebench.trade.terms import Basis, Completeness
from planebench.trade.years import YearSpan, parse_years
from planebench.trade.years_phrases import YearConventions
from planebench.window.pieces.record_sections import RecordSection
from planebench.window.pieces.text import Ink, Label, LinkButton
from planebench.window.routes import DatingRoute
from planebench.window.screens.tool.form_fields import FormField, FormText
from planebench.window.screens.tool.record_editor import RecordContext
from planebench.window.screens.tool.record_rows import RowCell
from planebench.window.screens.tool.record_wording import (
    list_choices,
    lower_first,
    part_choices,
    upper_first,
)
from planebench.window.screens.tool.section_panel import RecordSectionPanel

_SEE = "see"
_YEARS = "Years"


class DatesSection(RecordSectionPanel):
    """The years that the evidence points to; the evidence itself has its own screen."""

    def __init__(self, section: RecordSection, record: RecordContext) -> None:
        super().__init__(section, record)
        self._odd = Label(ink=Ink.RUST).wrapped()
        self.see = LinkButton("See the evidence")
        self.see.clicked.connect(self._see)
        section.column.addWidget(self._odd)
        section.column.addWidget(self.see)
        self.add_act("add evidence")

    @override
    def fill(self) -> None:
        """Show the years it was made and any evidence that does not fit."""
        tool, dating = self.shown.tool, self.shown.dating
        self.rows.show_cells([self._cell(dating)])
        odd = "" if dating is None else self._odd_words(dating)
        self._odd.setText(odd)
        self._odd.setVisible(bool(odd))
        count = len(tool.evidence)
        self.see.setText("See the evidence" if count else "Look for evidence of its date")
        self.section.set_remark(self._remark(count))

    @override
    def toggle(self, key: str) -> None:
        """Open the dating screen, or the form for new evidence."""
        if key == _SEE:
            self._see()
        else:
            super().toggle(key)

    @override
    def form_fields(self, key: str) -> tuple[FormField, ...]:
        """Return fields for what was seen, its years, its part and how sure it is."""
        del key
        circa = self.shown.circa
        return (
            FormField(
                key="seen", label="What was seen", hint="patent date on the frog", parse=_parse_seen
            ),
            FormField(
                key="years",
                label=_YEARS,
                hint="after 1910, c. 1915, 1907-11",
                half_width=True,
                parse=lambda typed: parse_years(typed, YearConventions(circa=circa), field=_YEARS),
                reads_as=lambda typed: _years_read_as(typed, YearConventions(circa=circa)),
            ),
            FormField(
                key="part_id",
                label="Part",
                choices=part_choices(self.shown.tool.parts, "whole tool"),
                half_width=True,
                parse=lambda part: part or None,
            ),
            FormField(
                key="sure",
                label="How sure",
                choices=list_choices("sureness"),
                value="fairly_sure",
                half_width=True,
                parse=_parse_sureness,
            ),
            FormField(
                key="basis",
                label="How it is known",
                choices=list_choices("bases"),
                value=Basis.READ_OFF.value,
                half_width=True,
                parse=Basis,
            ),
            FormField(key="source", label="Source of the years", hint="list, book or page, if any"),
        )

    @override
    def form_text(self, key: str) -> FormText:
        """Return the title and action of the form."""
        del key
        return FormText(name="new evidence", adding="Add evidence")

    @override
    def save_new(self, values: dict[str, object]) -> None:
        """Add a piece of evidence."""
        span, form = values["years"], self.form
        if not isinstance(span, YearSpan) or form is None:
            return
        tool, add, typed = self.shown.tool.id, self.catalog.evidence.add, form.text_of("years")
        rest = {key: value for key, value in values.items() if key != "years"}

        def enter() -> Added[EvidenceId]:
            # Reading the tables from disk the first time is slow, so it happens in the job.
            loose = round(evidence_from_years(span, "", "", dating_tables()).looseness)
            fields: dict[str, object] = {
                "kind": "years",
                "years": typed.strip(),
                "edtf": span.edtf,
                "not_before": span.not_before,
                "not_after": span.not_after,
                "looseness": loose,
                "mark": {},
            }
            return add(tool, **cast(EvidenceFields, {**rest, **fields}))

        self.record.editor.add(enter, lambda _new: self.close_saved(), self.show_error)

    def _see(self) -> None:
        self.record.go(DatingRoute(tool=self.shown.tool.id))

    def _cell(self, dating: DatingResult | None) -> RowCell:
        if dating is None:
            return RowCell(key="", text="Not dated: no evidence with years yet.", unknown=True)
        years, basis = format_short_estimate(dating.whole)
        words = ", ".join(filter(None, (f"for the {self._anchor(dating)}", basis)))
        return RowCell(key=_SEE, text=upper_first(years), strong=True, aside=words)

    def _anchor(self, dating: DatingResult) -> str:
        parts = self.shown.tool.parts
        return next((lower_first(p.name) for p in parts if p.code == dating.anchor), "tool")

    def _odd_words(self, dating: DatingResult) -> str:
        said = []
        odd = {part.part: part.later for part in dating.odd_parts}
        for part in odd_parts_unanswered(self.shown.tool, dating):
            years = _span_words(dating.parts[part.code])
            side = "later" if odd[part.code] else "earlier"
            said.append(f"{part.name} {years}: {side} than the {self._anchor(dating)}.")
        if not dating.whole.agreed:
            said.append("The evidence contradicts itself.")
        return " ".join(said)

    def _remark(self, count: int) -> str:
        if not count:
            return "no evidence yet"
        pieces = "1 piece of evidence" if count == 1 else f"{count} pieces of evidence"
        against = self.shown.tool.line.known[4] is Completeness.DISAGREES
        return f"{pieces}, not all agree" if against else pieces


def _span_words(dated: DateEstimate) -> str:
    """Return the years that a part's own evidence sets, else its likely years."""
    if dated.earliest is not None and dated.latest is not None:
        return f"{dated.earliest} to {dated.latest}"
    return format_short_estimate(dated)[0]


def _years_read_as(typed: str, conventions: YearConventions) -> str:
    if not typed.strip():
        return ""
    span = parse_years(typed, conventions, field=_YEARS)
    return "; ".join(filter(None, (span.words, span.note)))


def _parse_seen(typed: str) -> str:
    if not typed.strip():
        raise InputError(
            "evidence needs a note of what was seen.",
            remedy="Try patent date on the frog.",
            subject="seen",
        )
    return typed.strip()


def _parse_sureness(code: str) -> Decimal:
    return Decimal(str(open_list("sureness")[code].more["weight"]))
