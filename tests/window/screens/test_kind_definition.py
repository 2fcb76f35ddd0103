"""A kind of one's own made from one of the program's keeps what that knows of surfaces."""

from __future__ import annotations

from planebench.catalog.reference import built_in_kinds, kind_from
from planebench.window.screens.kinds.kind_definition import TypedPart, definition_of


def parts_of(kind, *without):
    return [
        TypedPart(name=part.name, finish=part.finish, code=part.code)
        for part in kind.parts
        if part.code not in without
    ]


def test_bare_metal_and_the_views_that_show_a_surface_come_along():
    smoothing = built_in_kinds()["smoothing"]
    written = definition_of(smoothing, code="own", name="Own", parts=parts_of(smoothing))
    own = kind_from(written, own=True)

    assert own.surfaces == smoothing.surfaces
    assert own.bare == smoothing.bare
    assert own.surface("sole").views == ("sole",)


def test_what_lay_on_a_part_that_was_taken_out_goes_with_it():
    smoothing = built_in_kinds()["smoothing"]
    parts = parts_of(smoothing, "frog", "cap_iron")
    own = kind_from(definition_of(smoothing, code="own", name="Own", parts=parts), own=True)

    assert own.surface("frog") is None
    assert own.surface("cap_iron") is None
    assert own.surface("cutter") is not None


def test_a_kind_written_before_bare_metal_was_named_still_reads():
    smoothing = built_in_kinds()["smoothing"]
    written = definition_of(smoothing, code="own", name="Own", parts=parts_of(smoothing))
    del written["bare"]

    assert kind_from(written, own=True).bare == ()
