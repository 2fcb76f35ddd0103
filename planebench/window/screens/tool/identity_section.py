"""Section 1: what it is: kind, maker and model, dimensions, stock number, note."""

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
from planebench.trade.units import LengthUnit, format_length, parse_length
from planebench.window.listed_suggestions import kind_suggestions
from planebench.window.pieces.record_sections import RecordSection
from planebench.window.screens.tool.entry_form import EntryForm
from planebench.window.screens.tool.form_fields import FormField, FormText, parse_listed
from planebench.window.screens.tool.record_editor import RecordContext
from planebench.window.screens.tool.record_rows import RowCell
from planebench.window.screens.tool.record_wording import (
    dimension_unit,
    format_dimension,
    format_short_dimension,
    format_tolerance,
    list_choices,
    lower_first,
)
from planebench.window.screens.tool.section_panel import NEW, RecordSectionPanel

_KIND, _MAKER, _NUMBER, _NOTE = "kind", "maker", "number", "note"
_ASKED = ("sole_length", "cutter_width")
_SHORT = {"sole_length": "sole", "cutter_width": "cutter"}
_NOT_MEASURED = "ask "


class IdentitySection(RecordSectionPanel):
    """Kind, maker and model, dimensions, stock number and note."""

    def __init__(self, section: RecordSection, record: RecordContext) -> None:
        super().__init__(section, record)
        self.add_act("add a dimension")

    @override
    def fill(self) -> None:
        """Show what is recorded, and what is not."""
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
        cells = [
            RowCell(key=_KIND, label="kind", text=kind.name if kind else tool.kind),
            maker,
            *self._dimension_cells(),
            RowCell(key=_NUMBER, label="stock number", text=tool.stock_number),
        ]
        note = tool.note.replace("\n", " ")
        cells.append(RowCell(key=_NOTE, label="note", text=note or "none", unknown=not note))
        self.rows.show_cells(cells)
        known = tool.line.known[0]
        remarks = {
            Completeness.COMPLETE: "all entered",
            Completeness.IN_PART: "basis of the maker missing",
        }
        self.section.set_remark(remarks.get(known, "not identified yet"))

    @override
    def form_fields(self, key: str) -> tuple[FormField, ...]:
        """Return the fields of a row."""
        tool = self.shown.tool
        if key == _KIND:
            return (self._kind_field(),)
        if key == _NUMBER:
            return (FormField(key="stock_number", label="Stock number", value=tool.stock_number),)
        if key == _NOTE:
            return (FormField(key="note", label="Note", lines=4, value=tool.note),)
        if key == _MAKER:
            return self._maker_fields()
        return self._dimension_fields(key)

    @override
    def form_text(self, key: str) -> FormText:
        """Return the title and actions of the form."""
        if key == NEW or key.startswith(_NOT_MEASURED):
            return FormText(name="new dimension", adding="Add dimension")
        known = {_KIND: "kind", _MAKER: "maker and model", _NUMBER: "stock number", _NOTE: "note"}
        deleting = "" if key in known else "Delete"
        return FormText(name=known.get(key, "dimension"), binning=deleting)

    @override
    def extend_form(self, form: EntryForm, key: str) -> None:
        """Match the example to what is measured."""
        del key
        if form.is_adding:
            form.chosen.connect(lambda _key: self._hint(form))

    @override
    def save_field(self, key: str, name: str, value: object) -> None:
        """Save one field of the tool or of a dimension."""
        tool, tools = self.shown.tool.id, self.catalog.tools
        if key == _KIND:
            self.record.editor.change(lambda: tools.set_kind(tool, str(value)), self.show_error)
        elif key in {_MAKER, _NUMBER, _NOTE}:
            fields = cast(ToolFields, {name: value})
            self.record.editor.change(lambda: tools.change(tool, **fields), self.show_error)
        else:
            self._save_dimension(key, name, value)

    @override
    def save_new(self, values: dict[str, object]) -> None:
        """Add a dimension."""
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
        self.record.editor.add(
            lambda: add(tool, **fields), lambda _new: self.close_saved(), self.show_error
        )

    @override
    def delete(self, key: str) -> None:
        """Delete a dimension."""
        if self._dimension(key) is not None:
            books = self.catalog.dimensions
            self.record.editor.change(lambda: books.bin(DimensionId(key)))

    def _dimension_cells(self) -> list[RowCell]:
        taken = self.shown.tool.dimensions
        order = list(open_list("dimensions"))
        cells = [
            (
                one.what,
                RowCell(
                    key=one.id,
                    deletable=True,
                    label=_label(one.what),
                    text=format_dimension(one, self.shown.unit),
                    short=format_short_dimension(one, self.shown.unit),
                    basis=one.basis.value,
                ),
            )
            for one in taken
        ]
        known = {one.what for one in taken}
        cells += [
            (
                what,
                RowCell(
                    key=f"{_NOT_MEASURED}{what}",
                    label=_label(what),
                    text="not measured",
                    unknown=True,
                ),
            )
            for what in _ASKED
            if what not in known
        ]
        cells.sort(key=lambda pair: order.index(pair[0]) if pair[0] in order else len(order))
        return [cell for _, cell in cells]

    def _dimension(self, key: str) -> Dimension | None:
        return next((one for one in self.shown.tool.dimensions if one.id == key), None)

    def _kind_field(self) -> FormField:
        kinds = kind_suggestions({kind.code: kind for kind in self.shown.kinds})
        return FormField(
            key="kind",
            label="Kind",
            listed=kinds,
            value=self.shown.tool.kind,
            hint="any word, or Down for the list",
            parse=parse_listed(kinds, "smoothing plane"),
        )

    def _maker_fields(self) -> tuple[FormField, ...]:
        tool = self.shown.tool
        basis = tool.identified_by.value if tool.identified_by is not None else ""
        return (
            FormField(key="maker", label="Maker", value=tool.maker, hint="as marked, or empty"),
            FormField(
                key="model", label="Model", value=tool.model, hint="as marked", half_width=True
            ),
            FormField(key="size", label="Size", value=tool.size, hint="9 in", half_width=True),
            FormField(
                key="identified_by",
                label="Basis",
                choices=list_choices("bases", "not identified yet"),
                value=basis,
                parse=lambda code: Basis(code) if code else None,
            ),
        )

    def _dimension_fields(self, key: str) -> tuple[FormField, ...]:
        one = self._dimension(key)
        what = one.what if one is not None else key.removeprefix(_NOT_MEASURED)
        first = what if what in open_list("dimensions") else "sole_length"
        basis = Basis.MEASURED if one is None else one.basis
        return (
            FormField(
                key="what",
                label="Dimension",
                choices=list_choices("dimensions"),
                value=first,
            ),
            FormField(
                key="value",
                label="Value",
                half_width=True,
                value="" if one is None else one.as_typed or format_dimension(one, self.shown.unit),
                hint=self._hint_for(first),
                parse=self._parse_value,
                reads_as=self._value_read_as,
            ),
            FormField(
                key="plus_minus",
                label="Tolerance (±)",
                half_width=True,
                value="" if one is None else format_tolerance(one.plus_minus),
                hint="0.5 mm, or empty",
                parse=self._parse_tolerance,
            ),
            FormField(
                key="basis",
                label="Basis",
                choices=list_choices("bases"),
                value=basis.value,
                parse=Basis,
            ),
        )

    def _unit(self) -> str:
        return dimension_unit(self.form.text_of("what")) if self.form is not None else "mm"

    def _parse_value(self, typed: str) -> object:
        field = "Value"
        if self._unit() == "deg":
            return parse_degrees(typed, field=field)
        if self._unit() == "g":
            return parse_grams(typed, field=field)
        return parse_length(typed, field=field, default_unit=self.shown.unit).mm

    def _value_read_as(self, typed: str) -> str:
        if not typed.strip() or self._unit() != "mm":
            return ""
        length = parse_length(typed, field="Value", default_unit=self.shown.unit)
        return format_length(length.mm, self.shown.unit)

    def _parse_tolerance(self, typed: str) -> Decimal | None:
        if not typed.strip(" ±"):
            return None
        field, plain = "Tolerance", typed.strip(" ±")
        if self._unit() == "deg":
            return parse_degrees(plain, field=field)
        if self._unit() == "g":
            return parse_grams(plain, field=field)
        return parse_length(plain, field=field, default_unit=LengthUnit.MILLIMETER).mm

    def _hint_for(self, what: str) -> str:
        unit = dimension_unit(what)
        if unit == "mm":
            return "9 11/32" if self.shown.unit is LengthUnit.INCH else "237.3"
        return "25" if unit == "deg" else "1150 g"

    def _hint(self, form: EntryForm) -> None:
        form.hint("value", self._hint_for(form.text_of("what")))

    def _save_dimension(self, key: str, name: str, value: object) -> None:
        fields: dict[str, object] = {name: value}
        if name == "value" and self.form is not None:
            fields["as_typed"] = self.form.text_of("value").strip()
        change, typed_fields = self.catalog.dimensions.change, cast(DimensionFields, fields)
        self.record.editor.change(lambda: change(DimensionId(key), **typed_fields), self.show_error)


def _label(what: str) -> str:
    return _SHORT.get(what) or lower_first(name_of("dimensions", what))
