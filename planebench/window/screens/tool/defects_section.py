"""Section 4: defects, each with its balloon, and whether the buyer is told."""

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
from planebench.window.screens.tool.entry_form import NO, YES, Ask, EntryForm, FormText
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
    """One line a defect.

    Signals: `pin_wanted(str)` with the defect whose pin is to be set on the photograph.
    """

    pin_wanted = Signal(str)

    def __init__(self, place: RecordSection, bench: RecordContext) -> None:
        super().__init__(place, bench)
        self._pin_next = False
        self.add_title_button("write down a defect")
        self.looked = CheckBox("Looked over: nothing else to write down")
        self.looked.clicked.connect(self._say_looked)
        place.column.addWidget(self.looked)

    @override
    def fill(self) -> None:
        """Show each defect with its size or how bad it is."""
        tool = self.shown.tool
        facts = [self._fact(defect) for defect in tool.defects]
        none = RowCell(key="", text="None written down.", unknown=True)
        self.rows.show_facts(facts or [none])
        self.looked.setChecked(tool.defects_inspected)
        self.looked.setVisible(not tool.defects_inspected or not tool.defects)
        self.place.set_remark(self._remark())

    def light(self, defect: str | None) -> None:
        """Ring the balloon of one defect, or of none."""
        for key, row in self.rows.rows.items():
            row.set_lit(lit=key == defect)

    @override
    def asks_for(self, key: str) -> tuple[Ask, ...]:
        """Ask what is wrong, where, how much, and whether the buyer is told."""
        one = self._defect(key) or _blank()
        told = YES if one.disclosed else NO
        return (
            *_kind_asks(one),
            Ask(
                key="part_id",
                label="Part",
                choices=part_choices(self.shown.tool.parts, "the whole tool"),
                holds=one.part or "",
                half=True,
                read=lambda part: part or None,
            ),
            Ask(key="place", label="Where on it", hint="at the mouth", holds=one.place, half=True),
            *_size_asks(one),
            Ask(key="note", label="Note", holds=one.note),
            Ask(
                key="disclosed",
                label="The buyer is told of it",
                check=True,
                holds=told,
                read=lambda on: on == YES,
            ),
            Ask(
                key="why_not_disclosed",
                label="Why the buyer is not told",
                hint="gone since: filled and flattened",
                holds=one.why_not_disclosed,
                hidden=told == YES,
            ),
        )

    @override
    def text_for(self, key: str) -> FormText:
        """Say what the form is for."""
        one = self._defect(key)
        if one is None:
            return FormText(name="new defect", adding="Write it down")
        return FormText(name=f"defect {one.number}", binning="Into the bin")

    @override
    def dress(self, form: EntryForm, key: str) -> None:
        """Offer the words that go with each kind, and a pin on the photograph."""
        form.chosen.connect(lambda name: self._chosen(form, name))
        pin = ActionButton(
            "Write it down and set its pin" if form.is_adding else "Set its pin", icon="pin"
        )
        pin.clicked.connect(lambda: self._pin(form, key))
        form.add_title_button(pin)

    @override
    def keep(self, key: str, name: str, value: object) -> None:
        """Write one thing of a defect; it is left untold only with a reason."""
        fields: dict[str, object] = {name: value}
        if name == "disclosed" and value is False:
            return
        if name == "disclosed":
            fields["why_not_disclosed"] = ""
        if name == "why_not_disclosed":
            fields["disclosed"] = not value
        if name == "kind":
            fields["severity"] = _first_severity(str(value))
        change, given = self.catalog.defects.change, cast(DefectFields, fields)
        self.bench.hand.change(lambda: change(DefectId(key), **given), self.refused)

    @override
    def write_new(self, values: dict[str, object]) -> None:
        """Write down a defect."""
        if not values["disclosed"] and not values["why_not_disclosed"]:
            self._ask_reason()
            return
        tool, add = self.shown.tool.id, self.catalog.defects.add
        fields = cast(DefectFields, values)
        self.bench.hand.add(lambda: add(tool, **fields), self._added, self.refused)

    @override
    def put_away(self, key: str) -> None:
        """Put a defect in the bin."""
        if key and key != NEW:
            self.bench.hand.change(lambda: self.catalog.defects.bin(DefectId(key)))

    def _added(self, defect: DefectId) -> None:
        self.written()
        if self._pin_next:
            self._pin_next = False
            self.pin_wanted.emit(defect)

    def _ask_reason(self) -> None:
        if self.form is not None:
            self._pin_next = False
            self.form.refuse(
                InputError(
                    "a buyer is told unless there is a reason.",
                    remedy="Write the reason, or tell the buyer.",
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
            form.show_ask("why_not_disclosed", shown=form.text_of("disclosed") != YES)
            if form.text_of("disclosed") != YES:
                form.controls["why_not_disclosed"].setFocus()

    def _say_looked(self) -> None:
        tool, on = self.shown.tool.id, self.looked.isChecked()
        change = self.catalog.tools.change
        self.bench.hand.change(lambda: change(tool, defects_inspected=on))

    def _defect(self, key: str) -> Defect | None:
        return next((one for one in self.shown.tool.defects if one.id == key), None)

    def _fact(self, defect: Defect) -> RowCell:
        return RowCell(
            key=defect.id,
            text=defect_words(defect, self.shown.part(defect.part)),
            balloon=defect.number,
            remark=defect.size or defect.severity.replace("_", " ") or "size not known",
            warned="" if defect.disclosed else "not told",
        )

    def _remark(self) -> str:
        tool = self.shown.tool
        if not tool.defects:
            return "looked over, none" if tool.defects_inspected else "not looked for yet"
        kept = sum(not defect.disclosed for defect in tool.defects)
        told = "all told to buyer" if not kept else f"{kept} not told to buyer"
        return f"{len(tool.defects)}, {told}"


def _severities(kind: str) -> Choices:
    row = open_list("defects").get(kind)
    words = row.more.get("severities", ()) if row is not None else ()
    offered = [str(word) for word in words] if isinstance(words, list) else []
    return (("", "not said"), *((word, word) for word in offered))


def _first_severity(kind: str) -> str:
    offered = _severities(kind)
    return offered[1][0] if len(offered) > 1 else ""


def _blank() -> Defect:
    """Return what a new defect is until something else is said."""
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


def _kind_asks(one: Defect) -> tuple[Ask, ...]:
    kinds = list_choices("defects")
    words = _severities(one.kind)
    if one.severity and one.severity not in dict(words):
        words = (*words, (one.severity, one.severity.replace("_", " ")))
    return (
        Ask(key="kind", label="What is wrong", choices=kinds, holds=one.kind, half=True),
        Ask(key="severity", label="How bad", choices=words, holds=one.severity, half=True),
    )


def _size_asks(one: Defect) -> tuple[Ask, ...]:
    return (
        Ask(key="size", label="Size", hint="1.7 × 1.6 mm", holds=one.size, half=True),
        Ask(
            key="size_basis",
            label="Size is known",
            choices=list_choices("bases"),
            holds=one.size_basis.value,
            half=True,
            read=Basis,
        ),
    )
