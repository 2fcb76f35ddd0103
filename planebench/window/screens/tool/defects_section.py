"""Section 4: defects, each with its numbered pin, and whether the buyer is told."""

from __future__ import annotations

from typing import cast

from PySide6.QtCore import Signal
from typing_extensions import override

from planebench.catalog.entries import DefectFields
from planebench.catalog.ids import DefectId
from planebench.catalog.reference import open_list
from planebench.catalog.values import Defect
from planebench.errors import InputError
from planebench.trade.terms import Basis
from planebench.window.pieces.buttons import ActionButton
from planebench.window.pieces.choice_controls import CheckBox
from planebench.window.pieces.record_sections import RecordSection
from planebench.window.screens.tool.entry_form import EntryForm
from planebench.window.screens.tool.form_fields import NO, YES, FormField, FormText
from planebench.window.screens.tool.record_editor import RecordContext
from planebench.window.screens.tool.record_rows import RowCell
from planebench.window.screens.tool.record_wording import (
    Choices,
    defect_words,
    list_choices,
    part_choices,
)
from planebench.window.screens.tool.section_panel import NEW, RecordSectionPanel

_FIRST = "chip"


class DefectsSection(RecordSectionPanel):
    """One row per defect.

    Signals: `pin_wanted(str)` with the defect to pin on the photograph.
    """

    pin_wanted = Signal(str)

    def __init__(self, section: RecordSection, record: RecordContext) -> None:
        super().__init__(section, record)
        self._pin_next = False
        self.add_act("add a defect")
        self.inspected = CheckBox("Inspection complete: no other defects")
        self.inspected.clicked.connect(self._save_inspected)
        section.column.addWidget(self.inspected)

    @override
    def fill(self) -> None:
        """Show each defect with its size or severity."""
        tool = self.shown.tool
        cells = [self._cell(defect) for defect in tool.defects]
        none = RowCell(key="", text="None recorded.", unknown=True)
        self.rows.show_cells(cells or [none])
        self.inspected.setChecked(tool.defects_inspected)
        self.section.set_remark(self._remark())

    def light(self, defect: str | None) -> None:
        """Highlight the pin number of one defect, or of none."""
        for key, row in self.rows.rows.items():
            row.set_lit(lit=key == defect)

    @override
    def form_fields(self, key: str) -> tuple[FormField, ...]:
        """Return fields for kind, place, size and whether the buyer is told."""
        one = self._defect(key) or _blank()
        told = YES if one.disclosed else NO
        return (
            *_kind_fields(one),
            FormField(
                key="part_id",
                label="Part",
                choices=part_choices(self.shown.tool.parts, "whole tool"),
                value=one.part or "",
                half_width=True,
                parse=lambda part: part or None,
            ),
            FormField(
                key="place",
                label="Where",
                hint="at the mouth",
                value=one.place,
                half_width=True,
            ),
            *_size_fields(one),
            FormField(key="note", label="Note", value=one.note),
            FormField(
                key="disclosed",
                label="Tell the buyer",
                is_checkbox=True,
                value=told,
                parse=lambda on: on == YES,
            ),
            FormField(
                key="why_not_disclosed",
                label="Why the buyer is not told",
                hint="repaired since: filled and flattened",
                value=one.why_not_disclosed,
                hidden=told == YES,
            ),
        )

    @override
    def form_text(self, key: str) -> FormText:
        """Return the title and actions of the form."""
        one = self._defect(key)
        if one is None:
            return FormText(name="new defect", adding="Add defect")
        return FormText(name=f"defect {one.number}", binning="Delete")

    @override
    def extend_form(self, form: EntryForm, key: str) -> None:
        """Offer the severities of each kind, and a pin on the photograph."""
        form.chosen.connect(lambda name: self._chosen(form, name))
        pin = ActionButton(
            "Add and pin on photograph" if form.is_adding else "Pin on photograph", icon="pin"
        )
        pin.clicked.connect(lambda: self._pin(form, key))
        form.add_act(pin)

    @override
    def save_field(self, key: str, name: str, value: object) -> None:
        """Save one field of a defect; hiding it from the buyer needs a reason."""
        fields: dict[str, object] = {name: value}
        if name == "disclosed" and value is False:
            return
        if name == "disclosed":
            fields["why_not_disclosed"] = ""
        if name == "why_not_disclosed":
            fields["disclosed"] = not value
        if name == "kind":
            fields["severity"] = _first_severity(str(value))
        change, typed_fields = self.catalog.defects.change, cast(DefectFields, fields)
        self.record.editor.change(lambda: change(DefectId(key), **typed_fields), self.show_error)

    @override
    def save_new(self, values: dict[str, object]) -> None:
        """Add a defect."""
        if not values["disclosed"] and not values["why_not_disclosed"]:
            self._ask_reason()
            return
        tool, add = self.shown.tool.id, self.catalog.defects.add
        fields = cast(DefectFields, values)
        self.record.editor.add(lambda: add(tool, **fields), self._added, self.show_error)

    @override
    def delete(self, key: str) -> None:
        """Delete a defect."""
        if key and key != NEW:
            self.record.editor.change(lambda: self.catalog.defects.bin(DefectId(key)))

    def _added(self, defect: DefectId) -> None:
        self.close_saved()
        if self._pin_next:
            self._pin_next = False
            self.pin_wanted.emit(defect)

    def _ask_reason(self) -> None:
        if self.form is not None:
            self._pin_next = False
            self.form.refuse(
                InputError(
                    "a reason is needed.",
                    remedy="Enter the reason, or tick “Tell the buyer”.",
                    subject="why_not_disclosed",
                )
            )

    def _pin(self, form: EntryForm, key: str) -> None:
        if form.is_adding:
            self._pin_next = True
            form.submit()
        else:
            self.pin_wanted.emit(key)

    def _chosen(self, form: EntryForm, name: str) -> None:
        if name == "kind":
            kind = form.text_of("kind")
            form.offer("severity", _severities(kind), _first_severity(kind))
        if name == "disclosed":
            form.set_field_visible("why_not_disclosed", shown=form.text_of("disclosed") != YES)
            if form.text_of("disclosed") != YES:
                form.controls["why_not_disclosed"].setFocus()

    def _save_inspected(self) -> None:
        tool, on = self.shown.tool.id, self.inspected.isChecked()
        change = self.catalog.tools.change
        self.record.editor.change(lambda: change(tool, defects_inspected=on))

    def _defect(self, key: str) -> Defect | None:
        return next((one for one in self.shown.tool.defects if one.id == key), None)

    def _cell(self, defect: Defect) -> RowCell:
        return RowCell(
            key=defect.id,
            deletable=True,
            text=defect_words(defect, self.shown.part(defect.part)),
            balloon=defect.number,
            remark=defect.size or defect.severity.replace("_", " ") or "size not measured",
            warned="" if defect.disclosed else "not disclosed",
        )

    def _remark(self) -> str:
        tool = self.shown.tool
        if not tool.defects:
            return "inspected, none found" if tool.defects_inspected else "not inspected yet"
        hidden = sum(not defect.disclosed for defect in tool.defects)
        told = "all disclosed" if not hidden else f"{hidden} not disclosed"
        return f"{len(tool.defects)}, {told}"


def _severities(kind: str) -> Choices:
    row = open_list("defects").get(kind)
    words = row.more.get("severities", ()) if row is not None else ()
    offered = [str(word) for word in words] if isinstance(words, list) else []
    return (("", "not given"), *((word, word) for word in offered))


def _first_severity(kind: str) -> str:
    offered = _severities(kind)
    return offered[1][0] if len(offered) > 1 else ""


def _blank() -> Defect:
    """Return the starting values of a new defect."""
    return Defect(
        id=DefectId(""),
        version=0,
        part=None,
        number=0,
        kind=_FIRST,
        severity=_first_severity(_FIRST),
        place="",
        size="",
        size_basis=Basis.BY_EYE,
        note="",
        disclosed=True,
        why_not_disclosed="",
    )


def _kind_fields(one: Defect) -> tuple[FormField, ...]:
    kinds = list_choices("defects")
    words = _severities(one.kind)
    if one.severity and one.severity not in dict(words):
        words = (*words, (one.severity, one.severity.replace("_", " ")))
    return (
        FormField(
            key="kind", label="What is wrong", choices=kinds, value=one.kind, half_width=True
        ),
        FormField(
            key="severity", label="Severity", choices=words, value=one.severity, half_width=True
        ),
    )


def _size_fields(one: Defect) -> tuple[FormField, ...]:
    return (
        FormField(key="size", label="Size", hint="1.7 × 1.6 mm", value=one.size, half_width=True),
        FormField(
            key="size_basis",
            label="Basis of size",
            choices=list_choices("bases"),
            value=one.size_basis.value,
            half_width=True,
            parse=Basis,
        ),
    )
