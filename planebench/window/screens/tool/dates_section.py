"""Section 5: when it was made, and quick entry of a sign of its date."""

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
from planebench.window.screens.tool.entry_form import Ask, FormText
from planebench.window.screens.tool.record_editor import RecordContext
from planebench.window.screens.tool.record_rows import RowCell
from planebench.window.screens.tool.record_wording import capital, list_choices, lower, part_choices
from planebench.window.screens.tool.section_panel import RecordSectionPanel

_SEE = "see"
_YEARS = "Years"


class Dates(RecordSectionPanel):
    """The years that the signs allow, in words; the signs themselves have a place of their own."""

    def __init__(self, place: RecordSection, bench: RecordContext) -> None:
        super().__init__(place, bench)
        self._odd = Label(ink=Ink.RUST).wrapped()
        self.see = LinkButton("See the signs")
        self.see.clicked.connect(self._see)
        place.column.addWidget(self._odd)
        place.column.addWidget(self.see)
        self.add_title_button("enter a sign")

    @override
    def fill(self) -> None:
        """Say between which years it was made and what speaks against it."""
        tool, dating = self.shown.tool, self.shown.dating
        self.rows.show_facts([self._fact(dating)])
        odd = "" if dating is None else self._odd_words(dating)
        self._odd.setText(odd)
        self._odd.setVisible(bool(odd))
        count = len(tool.evidence)
        self.see.setText("See the signs" if count else "Look for signs of its date")
        self.place.set_remark(self._remark(count))

    @override
    def toggle(self, key: str) -> None:
        """Open the signs."""
        if key == _SEE:
            self._see()
        else:
            super().toggle(key)

    @override
    def asks_for(self, key: str) -> tuple[Ask, ...]:
        """Ask for the years, what was seen, on which part, and how sure."""
        del key
        circa = self.shown.circa
        return (
            Ask(key="seen", label="What was seen", hint="patent date on the frog", read=_read_seen),
            Ask(
                key="years",
                label=_YEARS,
                hint="after 1910, c. 1915, 1907-11",
                half=True,
                read=lambda typed: parse_years(typed, YearConventions(circa=circa), field=_YEARS),
            ),
            Ask(
                key="part_id",
                label="Part",
                choices=part_choices(self.shown.tool.parts, "the whole tool"),
                half=True,
                read=lambda part: part or None,
            ),
            Ask(
                key="sure",
                label="How sure",
                choices=list_choices("sureness"),
                holds="fairly_sure",
                half=True,
                read=_read_sure,
            ),
            Ask(
                key="basis",
                label="How it is known",
                choices=list_choices("bases"),
                holds=Basis.READ_OFF.value,
                half=True,
                read=Basis,
            ),
            Ask(key="source", label="Source of the years", hint="list, book or page, if any"),
        )

    @override
    def text_for(self, key: str) -> FormText:
        """Say what the form is for."""
        del key
        return FormText(name="new sign", adding="Enter the sign")

    @override
    def write_new(self, values: dict[str, object]) -> None:
        """Enter a sign."""
        span, form = values["years"], self.form
        if not isinstance(span, YearSpan) or form is None:
            return
        tool, add, typed = self.shown.tool.id, self.catalog.evidence.add, form.text_of("years")
        rest = {key: value for key, value in values.items() if key != "years"}

        def enter() -> Added[EvidenceId]:
            # The tables are read from their files the first time: not on the window's thread.
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

        self.bench.hand.add(enter, lambda _new: self.written(), self.refused)

    def _see(self) -> None:
        self.bench.go(DatingRoute(tool=self.shown.tool.id))

    def _fact(self, dating: DatingResult | None) -> RowCell:
        if dating is None:
            return RowCell(key="", text="Not dated: no sign with years is entered.", unknown=True)
        years, basis = format_short_estimate(dating.whole)
        words = ", ".join(filter(None, (f"for the {self._anchor(dating)}", basis)))
        return RowCell(key=_SEE, text=capital(years), strong=True, aside=words)

    def _anchor(self, dating: DatingResult) -> str:
        parts = self.shown.tool.parts
        return next((lower(p.name) for p in parts if p.code == dating.anchor), "tool")

    def _odd_words(self, dating: DatingResult) -> str:
        said = []
        odd = {part.part: part.later for part in dating.odd_parts}
        for part in odd_parts_unanswered(self.shown.tool, dating):
            years = _span_words(dating.parts[part.code])
            side = "later" if odd[part.code] else "earlier"
            said.append(f"{part.name} {years}: {side} than the {self._anchor(dating)}.")
        if not dating.whole.agreed:
            said.append("The signs contradict each other.")
        return " ".join(said)

    def _remark(self, count: int) -> str:
        if not count:
            return "no sign entered yet"
        all_evidence = "one sign" if count == 1 else f"{count} signs"
        against = self.shown.tool.line.known[4] is Completeness.DISAGREES
        return f"{all_evidence}, not all agree" if against else all_evidence


def _span_words(dated: DateEstimate) -> str:
    """Say the years that a part's own signs bound, else those that are likely."""
    if dated.earliest is not None and dated.latest is not None:
        return f"{dated.earliest} to {dated.latest}"
    return format_short_estimate(dated)[0]


def _read_seen(typed: str) -> str:
    if not typed.strip():
        raise InputError(
            "a sign is something that was seen.",
            remedy="Try patent date on the frog.",
            subject="seen",
        )
    return typed.strip()


def _read_sure(code: str) -> Decimal:
    return Decimal(str(open_list("sureness")[code].more["weight"]))
