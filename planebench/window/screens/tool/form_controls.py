"""The control of each kind of form field."""

from __future__ import annotations

from planebench.errors import InputError
from planebench.window.pieces.choice_controls import CheckBox, DropDown
from planebench.window.pieces.field import Field, TextField
from planebench.window.pieces.suggestion_field import SuggestionField
from planebench.window.screens.tool.form_fields import YES, FormField, words_of

Control = Field | TextField | DropDown | CheckBox


def new_control(spec: FormField) -> Control:
    """Return the control of a field, showing its value."""
    if spec.choices is not None:
        drop = DropDown(spec.label, spec.choices, holds=spec.value)
        drop.setPlaceholderText(spec.hint)
        return drop
    if spec.is_checkbox:
        return CheckBox(spec.label, on=spec.value == YES)
    return _new_text_control(spec)


def _new_text_control(spec: FormField) -> Field | TextField:
    if spec.listed:
        listed = SuggestionField(
            spec.label, (one for _, one in spec.listed), hint=spec.hint, listed_only=True
        )
        listed.set_text(words_of(spec.listed, spec.value))
        return listed
    if spec.lines > 1:
        text = TextField(spec.label, lines=spec.lines, hint=spec.hint)
        text.set_text(spec.value)
        return text
    return Field(spec.label, text=spec.value, hint=spec.hint)


def without_field(error: InputError) -> InputError:
    """Return the error without the field's name, which the field adds itself."""
    start = f"{error.subject}: "
    happened = error.happened.removeprefix(start) if error.subject else error.happened
    return InputError(happened, remedy=error.remedy, subject=error.subject)
