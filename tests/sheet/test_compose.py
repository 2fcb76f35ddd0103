"""What a sheet says of a record, full or bare."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal

import numpy as np

from planebench.catalog.catalog import Catalog
from planebench.catalog.ids import ToolId
from planebench.catalog.readings import NewReading
from planebench.sheet.compose import choices_from, compose
from planebench.sheet.content import Certainty, Crop, PartDrawing, SheetChoices, SheetEvidenceWeight
from planebench.trade.shares import Share
from planebench.trade.terms import Basis, PartStatus, Stage
from planebench.trade.units import LengthUnit
from tests.sheet.conftest import take_in
from tests.sheet.examples import FINISHED


def test_a_bare_record_says_that_nothing_is_known_and_never_nought(
    empty_shop: Catalog, new_tool: Callable[..., ToolId]
) -> None:
    content = compose(empty_shop, new_tool())

    assert content.title == "Smoothing plane"
    assert content.summary.startswith("Maker not known. Not dated.")
    assert content.photographs.missing == "Not photographed."
    assert "Parts: not checked one by one." in content.unknown
    assert "Not inspected for defects; expect some." in content.unknown
    assert {line.words for line in content.finish} == {"not measured"}
    assert content.dating.in_words == "When it was made is not known: no evidence is recorded."
    assert content.know_first
    assert "0%" not in str(content)


def test_a_measured_share_and_one_by_eye_are_drawn_and_told_apart(
    empty_shop: Catalog, told_tool: ToolId
) -> None:
    bed = compose(empty_shop, told_tool).finish[0]

    assert bed.certainty is Certainty.MEASURED
    assert (bed.words, bed.interval) == ("97%", "(95 to 99)")
    assert bed.note == "japanning; cross: 81% as found"
    assert bed.found == 81

    surface = empty_shop.tools.one(told_tool).surfaces[1].id
    by_eye = Share(
        value=Decimal("0.7"), low=Decimal("0.6"), high=Decimal("0.8"), basis=Basis.BY_EYE
    )
    empty_shop.readings.add(
        NewReading(tool=told_tool, surface=surface, stage=Stage.FINISHED, share=by_eye)
    )
    frog = compose(empty_shop, told_tool).finish[1]

    assert frog.certainty is Certainty.BY_EYE
    assert (frog.words, frog.basis) == ("about 70%", "by eye, R. Fenn")


def test_a_buyer_is_told_first_of_new_finish_treatments_and_foreign_parts(
    empty_shop: Catalog, told_tool: ToolId
) -> None:
    first = compose(empty_shop, told_tool).know_first

    assert "New japanning covers losses on 21% of the bed and cheeks." in first
    assert "Work that changes the tool: japanned anew." in first
    assert "The cutter is not original to it." in first
    assert "Cutter: 1934 to 1941, a later part." in first


def test_the_date_is_told_in_words_with_a_bar_for_each_evidence_and_the_later_part_in_rust(
    empty_shop: Catalog, told_tool: ToolId
) -> None:
    content = compose(empty_shop, told_tool)

    assert content.summary == (
        f"Made {content.dating.in_words.removeprefix('Made ')}, with a later cutter. "
        "Work on it is finished."
    )
    assert [evidence.words for evidence in content.dating.evidence] == [
        "1909 to 1918",
        "1934 to 1941",
    ]
    assert [evidence.trust for evidence in content.dating.evidence] == [
        SheetEvidenceWeight.FULL,
        SheetEvidenceWeight.DISAGREES,
    ]
    assert content.dating.disagreements == ("Cutter: 1934 to 1941, a later part",)
    assert content.dating.sources == "Sources: 1, 2 Halbeck type study, invented."
    assert content.dating.bands


def test_the_finished_photograph_stands_large_with_its_pin_and_its_pair_beside_it(
    empty_shop: Catalog, told_tool: ToolId
) -> None:
    photographs = compose(empty_shop, told_tool).photographs

    assert photographs.main is not None
    assert photographs.found is not None
    assert photographs.main.caption == ("Finished, from above. The numbers are the defects below.")
    assert photographs.found.caption == "As found, the same view."
    assert [pin.number for pin in photographs.main.pins] == [1]
    assert photographs.found.pins == ()


def test_a_defect_that_is_not_told_is_neither_listed_nor_numbered_on_a_photograph(
    empty_shop: Catalog, told_tool: ToolId
) -> None:
    chip = empty_shop.tools.one(told_tool).defects[0]
    empty_shop.defects.change(chip.id, disclosed=False, why_not_disclosed="dressed away")
    content = compose(empty_shop, told_tool)

    assert content.defects == ()
    assert content.no_defects == ("None recorded.")
    assert content.photographs.main is not None
    assert content.photographs.main.pins == ()


def test_the_scale_card_is_left_out_of_the_print_but_no_pin_is(
    empty_shop: Catalog, new_tool: Callable[..., ToolId]
) -> None:
    tool = new_tool()
    photograph = take_in(empty_shop, FINISHED, tool, Stage.FINISHED)
    height = empty_shop.photographs.one(photograph).height
    # A card 90 x 60 mm, 4 px a mm, whose top left corner lies at (300, 0.7 of the height).
    to_px = np.array([[4.0, 0, 300], [0, 4.0, 0.7 * height], [0, 0, 1]])
    matrix = np.linalg.inv(to_px).tolist()
    empty_shop.photographs.set_scale(photograph, {"kind": "card", "matrix_px_to_mm": matrix})
    main = compose(empty_shop, tool).photographs.main

    assert main is not None
    assert (main.crop.left, main.crop.top, main.crop.right) == (0.0, 0.0, 1.0)
    assert abs(main.crop.bottom - 0.7) < 1e-9

    empty_shop.photographs.set_scale(photograph, {"kind": "points", "px_per_mm": 4.0})
    unscaled = compose(empty_shop, tool).photographs.main

    assert unscaled is not None
    assert unscaled.crop == Crop()


def test_parts_are_told_by_what_is_known_and_inked_in_the_side_drawing(
    empty_shop: Catalog, told_tool: ToolId
) -> None:
    parts = compose(empty_shop, told_tool).parts
    groups = {group.label: group.names for group in parts.groups}
    seen = {shape.name: shape.seen for shape in parts.shapes}

    assert groups["Not original to it"] == "cutter"
    assert groups["Not seen"] == "adjusting wheel"
    assert seen["cutter"] is PartDrawing.NOT_ORIGINAL
    assert seen["adjusting_wheel"] is PartDrawing.NOT_SEEN
    assert seen["body"] is PartDrawing.SEEN


def test_a_missing_part_is_told_first(empty_shop: Catalog, told_tool: ToolId) -> None:
    knob = next(p for p in empty_shop.tools.one(told_tool).parts if p.code == "knob")
    empty_shop.parts.change(knob.id, status=PartStatus.MISSING)
    content = compose(empty_shop, told_tool)

    assert "The front knob is missing." in content.know_first


def test_lengths_stand_in_both_units_and_what_was_not_measured_is_named(
    empty_shop: Catalog, told_tool: ToolId
) -> None:
    content = compose(empty_shop, told_tool)
    length = content.measurements[0]

    assert (length.inches, length.millimeters) == ("9 11/32", "237.3 ± 0.5")
    assert "Not measured: sole width, cutter width and mouth opening." in content.unknown


def test_the_unit_chosen_first_leads_the_key_figure(empty_shop: Catalog, told_tool: ToolId) -> None:
    inches = compose(empty_shop, told_tool, SheetChoices())
    metric = compose(empty_shop, told_tool, SheetChoices(first_unit=LengthUnit.MILLIMETER))

    assert inches.figures[-1].value == "9 11/32 in"
    assert metric.figures[-1].value == "237.3 mm"


def test_standard_ratings_are_said_only_when_asked_for(
    empty_shop: Catalog, told_tool: ToolId
) -> None:
    choices = choices_from(empty_shop.settings.read())
    plain = compose(empty_shop, told_tool, choices)
    rated = compose(empty_shop, told_tool, replace(choices, standard_ratings=True))

    assert choices.standard_ratings is False
    assert plain.finish[0].rating == ""
    assert rated.finish[0].rating.startswith("ISO 4628-5: ")


def test_every_measured_share_keeps_its_interval_and_its_basis(
    empty_shop: Catalog, told_tool: ToolId
) -> None:
    figures = compose(empty_shop, told_tool).figures

    assert all(figure.interval and figure.basis for figure in figures)
    assert figures[0].basis == "measured; was about 81%"
    assert len(figures) <= 4


def test_a_sheet_is_a_draft_until_it_is_given_a_day(empty_shop: Catalog, told_tool: ToolId) -> None:
    draft = compose(empty_shop, told_tool)
    issued = compose(empty_shop, told_tool, issued_on=dt.date(2026, 5, 12))

    assert draft.heading.issued == ""
    assert issued.heading.issued == "12 May 2026"
    assert issued.price == "$165.00"


def test_lead_in_old_finish_and_the_sharp_cutter_are_cautioned_with_their_source(
    empty_shop: Catalog, told_tool: ToolId
) -> None:
    cautions = {one.name: one for one in compose(empty_shop, told_tool).cautions}

    assert "Sharp cutter" in cautions
    assert "Check your local rules" in cautions["Lead in old finish"].words
    assert cautions["Lead in old finish"].source.endswith("not checked against its text.)")


def test_work_that_is_written_down_is_told_though_the_state_still_says_as_found(
    empty_shop: Catalog, new_tool: Callable[..., ToolId]
) -> None:
    tool = new_tool()
    before = compose(empty_shop, tool).summary
    empty_shop.bench_log.add(tool, kind="clean", what="Wire wheel and oil")
    after = compose(empty_shop, tool).summary

    assert before.endswith("As found; no work was done on it.")
    assert after.endswith("Worked on since it was found: what was done stands under Work done.")


def test_a_part_that_bears_a_defect_was_seen(
    empty_shop: Catalog, new_tool: Callable[..., ToolId]
) -> None:
    tool = new_tool()
    parts = empty_shop.tools.one(tool).parts
    knob = next(part for part in parts if part.name == "Front knob")
    empty_shop.defects.add(tool, kind="crack", part_id=knob.id)
    groups = {one.label: one.names for one in compose(empty_shop, tool).parts.groups}

    assert groups["Seen"] == "front knob"
    assert "front knob" not in groups["Not seen"].split(", ")


def test_the_account_of_a_machine_is_not_printed_as_who_judged(
    empty_shop: Catalog, told_tool: ToolId
) -> None:
    surface = empty_shop.tools.one(told_tool).surfaces[1].id
    half = Share(value=Decimal("0.5"), low=Decimal("0.4"), high=Decimal("0.6"), basis=Basis.BY_EYE)
    empty_shop.readings.add(
        NewReading(tool=told_tool, surface=surface, stage=Stage.FINISHED, share=half)
    )
    settings = empty_shop.settings.read()
    empty_shop.settings.write(replace(settings, person="Another Person"))
    basis = compose(empty_shop, told_tool).finish[1].basis
    empty_shop.settings.write(settings)

    assert basis == "by eye"


def test_rosewood_named_in_a_note_brings_the_caution_of_its_trade(
    empty_shop: Catalog, new_tool: Callable[..., ToolId]
) -> None:
    tool = new_tool(note="Handle of rosewood, said the seller")
    names = [one.name for one in compose(empty_shop, tool).cautions]

    assert "Rosewood" in names
