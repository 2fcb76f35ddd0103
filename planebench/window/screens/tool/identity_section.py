"""Section 1: what it is: kind, maker and model, lengths, stock number, note."""

from __future__ import annotations

from decimal import Decimal
from typing import cast

from typing_extensions import override

from planebench.catalog.entries import DimensionFields
from planebench.catalog.ids import DimensionId
from planebench.catalog.reference import name_of, open_list
from planebench.catalog.tools import ToolFields
from planebench.catalog.values import Dimension
from planebench.trade.angles_and_weights import parse_degrees, parse_grams
from planebench.trade.terms import Basis, Completeness
from planebench.trade.units import LengthUnit, parse_length
from planebench.window.pieces.record_sections import RecordSection
from planebench.window.screens.tool.entry_form import Ask, EntryForm, FormText
from planebench.window.screens.tool.record_editor import RecordContext
from planebench.window.screens.tool.record_rows import RowCell
from planebench.window.screens.tool.record_wording import (
    list_choices,
    lower,
    measure_unit,
    measure_words,
    plus_minus_words,
    short_measure,
)
from planebench.window.screens.tool.section_panel import NEW, RecordSectionPanel

_KIND, _MAKER, _NUMBER, _NOTE = "kind", "maker", "number", "note"
_ASKED = ("sole_length", "cutter_width")
_SHORT = {"sole_length": "sole", "cutter_width": "cutter"}
_UNASKED = "ask "


class WhatItIs(RecordSectionPanel):
    """Kind, maker and model, lengths, stock number and note."""

    def __init__(self, place: RecordSection, bench: RecordContext) -> None:
        super().__init__(place, bench)
        self.add_title_button("add a length")

    @override
    def fill(self) -> None:
        """Show what is known, and say what is not."""
        tool, kind = self.shown.tool, self.shown.kind
        named = " ".join(filter(None, (tool.maker, tool.model, tool.size)))
        unknown = "no mark seen" if tool.identified_by is not None else "not known yet"
        maker = RowCell(
            key=_MAKER,
            label="maker, model",
            text=named or unknown,
            unknown=not named,
            basis=tool.identified_by.value if tool.identified_by is not None else "",
        )
        facts = [
            RowCell(key=_KIND, label="kind", text=kind.name if kind else tool.kind),
            maker,
            *self._lengths(),
            RowCell(key=_NUMBER, label="stock number", text=tool.stock_number),
        ]
        note = tool.note.replace("\n", " ")
        facts.append(RowCell(key=_NOTE, label="note", text=note or "none", unknown=not note))
        self.rows.show_facts(facts)
        known = tool.line.known[0]
        remarks = {
            Completeness.COMPLETE: "all entered",
            Completeness.IN_PART: "say how the maker is known",
        }
        self.place.set_remark(remarks.get(known, "not identified yet"))

    @override
    def asks_for(self, key: str) -> tuple[Ask, ...]:
        """Return the questions of a line."""
        tool = self.shown.tool
        if key == _KIND:
            choices = tuple((kind.code, kind.name) for kind in self.shown.kinds)
            return (Ask(key="kind", label="Kind", choices=choices, holds=tool.kind),)
        if key == _NUMBER:
            return (Ask(key="stock_number", label="Stock number", holds=tool.stock_number),)
        if key == _NOTE:
            return (Ask(key="note", label="Note", lines=4, holds=tool.note),)
        if key == _MAKER:
            return self._maker_asks()
        return self._length_asks(key)

    @override
    def text_for(self, key: str) -> FormText:
        """Say what the form is for."""
        if key == NEW or key.startswith(_UNASKED):
            return FormText(name="new length", adding="Write it down")
        known = {_KIND: "kind", _MAKER: "maker and model", _NUMBER: "stock number", _NOTE: "note"}
        binning = "" if key in known else "Into the bin"
        return FormText(name=known.get(key, "length"), binning=binning)

    @override
    def dress(self, form: EntryForm, key: str) -> None:
        """Change the hint with what is measured."""
        del key
        if form.is_adding:
            form.chosen.connect(lambda _key: self._hint(form))

    @override
    def keep(self, key: str, name: str, value: object) -> None:
        """Write one thing of the tool or of a length."""
        tool, tools = self.shown.tool.id, self.catalog.tools
        if key == _KIND:
            self.bench.hand.change(lambda: tools.set_kind(tool, str(value)), self.refused)
        elif key in {_MAKER, _NUMBER, _NOTE}:
            fields = cast(ToolFields, {name: value})
            self.bench.hand.change(lambda: tools.change(tool, **fields), self.refused)
        else:
            self._keep_length(key, name, value)

    @override
    def write_new(self, values: dict[str, object]) -> None:
        """Write a new length."""
        form, tool = self.form, self.shown.tool.id
        if form is None:
            return
        fields = cast(
            DimensionFields,
            {
                "what": values["what"],
                "value": values["value"],
                "as_typed": form.text_of("value").strip(),
                "plus_minus": values["plus_minus"],
                "basis": values["basis"],
            },
        )
        add = self.catalog.dimensions.add
        self.bench.hand.add(lambda: add(tool, **fields), lambda _new: self.written(), self.refused)

    @override
    def put_away(self, key: str) -> None:
        """Put a length in the bin."""
        if self._length(key) is not None:
            books = self.catalog.dimensions
            self.bench.hand.change(lambda: books.bin(DimensionId(key)))

    def _lengths(self) -> list[RowCell]:
        taken = self.shown.tool.dimensions
        order = list(open_list("dimensions"))
        facts = [
            (
                one.what,
                RowCell(
                    key=one.id,
                    label=_label(one.what),
                    text=measure_words(one, self.shown.unit),
                    short=short_measure(one, self.shown.unit),
                    basis=one.basis.value,
                ),
            )
            for one in taken
        ]
        known = {one.what for one in taken}
        facts += [
            (
                what,
                RowCell(
                    key=f"{_UNASKED}{what}", label=_label(what), text="not measured", unknown=True
                ),
            )
            for what in _ASKED
            if what not in known
        ]
        facts.sort(key=lambda pair: order.index(pair[0]) if pair[0] in order else len(order))
        return [fact for _, fact in facts]

    def _length(self, key: str) -> Dimension | None:
        return next((one for one in self.shown.tool.dimensions if one.id == key), None)

    def _maker_asks(self) -> tuple[Ask, ...]:
        tool = self.shown.tool
        basis = tool.identified_by.value if tool.identified_by is not None else ""
        return (
            Ask(key="maker", label="Maker", holds=tool.maker, hint="as marked, or empty"),
            Ask(key="model", label="Model", holds=tool.model, hint="No. 23", half=True),
            Ask(key="size", label="Size", holds=tool.size, hint="9 in", half=True),
            Ask(
                key="identified_by",
                label="How it is known",
                choices=list_choices("bases", "not identified yet"),
                holds=basis,
                read=lambda code: Basis(code) if code else None,
            ),
        )

    def _length_asks(self, key: str) -> tuple[Ask, ...]:
        one = self._length(key)
        what = one.what if one is not None else key.removeprefix(_UNASKED)
        first = what if what in open_list("dimensions") else "sole_length"
        basis = Basis.MEASURED if one is None else one.basis
        return (
            Ask(
                key="what",
                label="What was measured",
                choices=list_choices("dimensions"),
                holds=first,
            ),
            Ask(
                key="value",
                label="How much",
                half=True,
                holds="" if one is None else one.as_typed or measure_words(one, self.shown.unit),
                hint=self._hint_for(first),
                read=self._read_value,
            ),
            Ask(
                key="plus_minus",
                label="Give or take",
                half=True,
                holds="" if one is None else plus_minus_words(one.plus_minus),
                hint="0.5 mm, or empty",
                read=self._read_margin,
            ),
            Ask(
                key="basis",
                label="How it is known",
                choices=list_choices("bases"),
                holds=basis.value,
                read=Basis,
            ),
        )

    def _unit(self) -> str:
        return measure_unit(self.form.text_of("what")) if self.form is not None else "mm"

    def _read_value(self, typed: str) -> object:
        field = "How much"
        if self._unit() == "deg":
            return parse_degrees(typed, field=field)
        if self._unit() == "g":
            return parse_grams(typed, field=field)
        return parse_length(typed, field=field, default_unit=self.shown.unit).mm

    def _read_margin(self, typed: str) -> Decimal | None:
        if not typed.strip(" ±"):
            return None
        field, plain = "Give or take", typed.strip(" ±")
        if self._unit() == "deg":
            return parse_degrees(plain, field=field)
        if self._unit() == "g":
            return parse_grams(plain, field=field)
        return parse_length(plain, field=field, default_unit=LengthUnit.MILLIMETER).mm

    def _hint_for(self, what: str) -> str:
        unit = measure_unit(what)
        if unit == "mm":
            return "9 11/32" if self.shown.unit is LengthUnit.INCH else "237.3"
        return "25" if unit == "deg" else "1150 g"

    def _hint(self, form: EntryForm) -> None:
        form.hint("value", self._hint_for(form.text_of("what")))

    def _keep_length(self, key: str, name: str, value: object) -> None:
        fields: dict[str, object] = {name: value}
        if name == "value" and self.form is not None:
            fields["as_typed"] = self.form.text_of("value").strip()
        change, given = self.catalog.dimensions.change, cast(DimensionFields, fields)
        self.bench.hand.change(lambda: change(DimensionId(key), **given), self.refused)


def _label(what: str) -> str:
    return _SHORT.get(what) or lower(name_of("dimensions", what))
