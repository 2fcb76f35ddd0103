"""What a sheet says of a record, full or bare, statement by statement."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal

import numpy as np
import pytest

from planebench.catalog.catalog import Catalog
from planebench.catalog.ids import PartId, ToolId
from planebench.sheet.compose import choices_from, compose
from planebench.sheet.content import (
    Crop,
    ListLine,
    PartDrawing,
    SheetChoices,
    SheetContent,
    SheetEvidenceWeight,
)
from planebench.sheet.defect_sizes import format_size
from planebench.trade.terms import Basis, PartStatus, Stage, ToolStatus
from planebench.trade.units import LengthUnit
from tests.sheet.conftest import take_in
from tests.sheet.examples import FINISHED

NewToolMade = Callable[..., ToolId]


def lines(listed: tuple[ListLine, ...]) -> list[str]:
    return [" ".join(filter(None, (line.lead, line.words))) for line in listed]


def problems(content: SheetContent) -> list[str]:
    return lines(content.problems)


def unchecked(content: SheetContent) -> list[str]:
    return lines(content.not_checked)


def part_of(catalog: Catalog, tool: ToolId, code: str) -> PartId:
    return next(part.id for part in catalog.tools.one(tool).parts if part.code == code)


def test_a_bare_record_says_that_nothing_is_known_and_never_nought(
    empty_shop: Catalog, new_tool: NewToolMade
) -> None:
    content = compose(empty_shop, new_tool())

    assert content.title == "Smoothing plane"
    assert content.summary == "Maker not known. When it was made is not known. As found."
    assert content.photographs.missing == "No photographs."
    assert problems(content) == ["None recorded. The inspection is not complete; expect defects."]
    assert "Parts: not checked one by one." in unchecked(content)
    assert content.inspection == "Inspection not complete; expect further defects."
    assert {bar.shares[0].words for one in content.finish for bar in one.bars} == {"not measured"}
    assert content.work_not_recorded == "Work: not recorded."
    assert "0%" not in str(content)


def test_a_completed_inspection_says_which_parts_it_covered(
    empty_shop: Catalog, new_tool: NewToolMade
) -> None:
    tool = new_tool()
    for code in ("body", "knob"):
        empty_shop.parts.change(part_of(empty_shop, tool, code), status=PartStatus.PRESENT)
    empty_shop.tools.change(tool, defects_inspected=True)
    content = compose(empty_shop, tool)

    assert content.inspection == "Inspected: body, front knob; nothing else found."
    assert problems(content) == ["None found."]


def test_only_the_seller_can_say_that_no_work_was_done(
    empty_shop: Catalog, new_tool: NewToolMade
) -> None:
    tool = new_tool()
    before = compose(empty_shop, tool)
    empty_shop.bench_log.add(tool, kind="clean", what="Brushed and wiped")
    after = compose(empty_shop, tool)

    assert "no work" not in str(before).casefold()
    assert before.summary.endswith("As found.")
    assert after.summary.endswith("Worked on since it was found.")


def test_problems_lead_with_foreign_parts_then_new_finish_and_treatments(
    empty_shop: Catalog, told_tool: ToolId
) -> None:
    said = problems(compose(empty_shop, told_tool))

    assert said[0] == "Cutter not original. Its evidence points to 1934 to 1941."
    assert said[1] == "New japanning over losses on 21% of the bed and cheeks."
    assert said[2] == "Work that changes the tool: japanned again."
    assert said[3].startswith("Chip, slight (rear edge of the mouth, 0.067 × 0.063 in)")


@pytest.mark.parametrize(
    ("status", "lead"),
    [
        (PartStatus.MISSING, "Front knob missing."),
        (PartStatus.REPLACED, "Front knob replaced."),
        (PartStatus.NOT_ORIGINAL, "Front knob not original."),
    ],
)
def test_a_part_that_is_not_its_own_is_a_problem(
    empty_shop: Catalog, told_tool: ToolId, status: PartStatus, lead: str
) -> None:
    empty_shop.parts.change(part_of(empty_shop, told_tool, "knob"), status=status)

    assert lead in problems(compose(empty_shop, told_tool))


def test_a_later_part_that_nobody_decided_on_is_a_problem_and_not_drawn_as_original(
    empty_shop: Catalog, told_tool: ToolId
) -> None:
    cutter = part_of(empty_shop, told_tool, "cutter")
    empty_shop.parts.change(cutter, status=PartStatus.PRESENT)
    content = compose(empty_shop, told_tool)
    drawn = {shape.name: shape.seen for shape in content.parts.shapes}
    groups = {group.label: group.names for group in content.parts.groups}

    assert "Cutter: 1934 to 1941, a later part" in problems(content)
    assert drawn["cutter"] is PartDrawing.NOT_ORIGINAL
    assert groups["Replaced or not original"] == "cutter (1934 to 1941)"
    assert "cutter" not in groups["Original"].split(", ")
    assert content.cutter_note == "its date does not match the rest"


def test_a_part_nobody_checked_is_never_said_to_be_missing_or_not_seen(
    empty_shop: Catalog, told_tool: ToolId
) -> None:
    content = compose(empty_shop, told_tool)
    groups = {group.label: group.names for group in content.parts.groups}
    drawn = {shape.name: shape.seen for shape in content.parts.shapes}

    assert groups["Not checked"] == "adjusting wheel"
    assert "Parts not checked: adjusting wheel." in unchecked(content)
    assert drawn["adjusting_wheel"] is PartDrawing.NOT_CHECKED
    assert drawn["body"] is PartDrawing.SEEN
    assert groups["Original"].endswith("; judged by form and finish")


def test_optional_parts_are_asked_and_what_is_unknown_is_said(
    empty_shop: Catalog, new_tool: NewToolMade
) -> None:
    tool = new_tool(maker="Halbeck & Son", model="pattern K")
    said = next(line for line in unchecked(compose(empty_shop, tool)) if "none seen" in line)

    assert said.startswith("Lateral lever, ")
    assert said.endswith("none seen; not known if Halbeck & Son pattern K had them.")


def test_a_part_that_has_a_defect_was_seen(empty_shop: Catalog, new_tool: NewToolMade) -> None:
    tool = new_tool()
    knob = part_of(empty_shop, tool, "knob")
    empty_shop.defects.add(tool, kind="crack", part_id=knob)
    groups = {one.label: one.names for one in compose(empty_shop, tool).parts.groups}

    assert groups["Original"] == "front knob; judged by form and finish"
    assert "front knob" not in groups["Not checked"].split(", ")


def test_the_date_is_in_words_with_a_bar_for_each_piece_of_evidence(
    empty_shop: Catalog, told_tool: ToolId
) -> None:
    content = compose(empty_shop, told_tool)
    dating = content.dating

    assert content.summary == f"{dating.in_words}, with a later cutter."
    assert [one.words for one in dating.evidence] == ["1909 to 1918", "1934 to 1941"]
    assert [one.trust for one in dating.evidence] == [
        SheetEvidenceWeight.FULL,
        SheetEvidenceWeight.DISAGREES,
    ]
    assert dating.disagreements == ("Cutter: 1934 to 1941, a later part",)
    assert dating.sources == "Source of 1 and 2: Halbeck type study, invented."


@pytest.mark.parametrize("status", ["memory", "common practice, no source", "not checked"])
def test_a_source_that_was_not_checked_is_not_cited_to_a_buyer(
    empty_shop: Catalog, new_tool: NewToolMade, status: str
) -> None:
    tool = new_tool(maker="Halbeck & Son")
    body = part_of(empty_shop, tool, "body")
    empty_shop.evidence.add(
        tool, part_id=body, seen="Foundry mark", not_before=1909, not_after=1918,
        sure=Decimal("0.9"), source="Price list of 1911", source_status=status,
    )  # fmt: skip
    content = compose(empty_shop, tool)

    assert content.dating.sources == ""
    for note in ("from memory", "no source", "not checked against", "written down"):
        assert note not in str(content)


def test_a_type_study_of_one_maker_is_named_as_an_assumption_where_the_maker_is_unknown(
    empty_shop: Catalog, new_tool: NewToolMade
) -> None:
    unknown, known = new_tool(), new_tool(maker="Halbeck & Son")
    for tool in (unknown, known):
        empty_shop.evidence.add(
            tool, part_id=part_of(empty_shop, tool, "body"), kind="type_study", seen="Variant 5",
            not_before=1909, not_after=1918, sure=Decimal("0.9"),
        )  # fmt: skip

    assert "The maker is not known: evidence 1 rests on" in str(compose(empty_shop, unknown).dating)
    assert "The maker is not known" not in str(compose(empty_shop, known).dating)


def test_evidence_at_odds_is_named_in_one_sentence(
    empty_shop: Catalog, new_tool: NewToolMade
) -> None:
    tool = new_tool()
    for number, first in enumerate((1900, 1920, 1940)):
        empty_shop.evidence.add(
            tool, part_id=part_of(empty_shop, tool, "body"), seen=f"mark {number}",
            not_before=first, not_after=first + 2, sure=Decimal("0.9"),
        )  # fmt: skip
    content = compose(empty_shop, tool)

    assert content.dating.disagreements == ("Evidence 1, 2 and 3 cannot all be right.",)
    assert "; the evidence does not agree." in content.summary


def test_a_defect_kept_off_the_sheet_is_named_by_number_with_the_reason(
    empty_shop: Catalog, told_tool: ToolId
) -> None:
    chip = empty_shop.tools.one(told_tool).defects[0]
    empty_shop.defects.change(chip.id, disclosed=False, why_not_disclosed="dressed away")
    content = compose(empty_shop, told_tool)

    assert content.defects == ()
    assert content.defects_left_off == "1 defect is not shown: 1, dressed away."
    assert content.photographs.main is not None
    assert content.photographs.main.pins == ()
    assert "defects below" not in content.photographs.main.caption


@pytest.mark.parametrize(
    ("kind", "since"),
    [("wood_repair", "As found; worked on since: wood repaired or glued."), ("wax", "")],
)
def test_a_mended_defect_says_so_and_care_alone_mends_nothing(
    empty_shop: Catalog, new_tool: NewToolMade, kind: str, since: str
) -> None:
    tool = new_tool()
    handle = part_of(empty_shop, tool, "handle")
    empty_shop.defects.add(tool, kind="break", severity="large", part_id=handle)
    empty_shop.bench_log.add(tool, kind=kind, what="Horn", part_id=handle)

    assert compose(empty_shop, tool).defects[0].since == since


def test_a_defect_has_a_close_up_centered_on_its_pin(
    empty_shop: Catalog, told_tool: ToolId
) -> None:
    close = compose(empty_shop, told_tool).defects[0].close_up

    assert close is not None
    crop = close.photograph.crop
    assert (crop.left + crop.right) / 2 == pytest.approx(0.6)
    assert (crop.top + crop.bottom) / 2 == pytest.approx(0.4)
    assert close.photograph.alternative == "Close-up of defect 1, now: Chip, slight, tool."
    assert close.bar_mm is None


def test_lengths_stand_in_both_units_each_with_its_own_margin(
    empty_shop: Catalog, told_tool: ToolId
) -> None:
    content = compose(empty_shop, told_tool)
    length = content.measurements[0]

    assert (length.inches, length.millimeters) == ("9 11/32 in ±1/32", "237.3 mm ±0.5")
    assert length.basis == "measured"
    assert "Not measured: sole width, mouth opening and cutter width." in unchecked(content)


def test_a_small_opening_is_written_in_thousandths(
    empty_shop: Catalog, new_tool: NewToolMade
) -> None:
    tool = new_tool()
    empty_shop.dimensions.add(
        tool, what="mouth_opening", value=Decimal(1), plus_minus=Decimal("0.2"),
        basis=Basis.MEASURED,
    )  # fmt: skip
    mouth = next(m for m in compose(empty_shop, tool).measurements if m.of == "Mouth opening")

    assert (mouth.inches, mouth.millimeters) == ("0.039 in ±0.008", "1 mm ±0.2")


def test_days_follow_the_paper(empty_shop: Catalog, told_tool: ToolId) -> None:
    day = dt.date(2026, 5, 12)
    letter = compose(empty_shop, told_tool, SheetChoices(), issued_on=day)
    metric = SheetChoices(paper=SheetChoices().paper.__class__.A4, first_unit=LengthUnit.MILLIMETER)
    a4 = compose(empty_shop, told_tool, metric, issued_on=day)

    assert letter.heading.issued == "May 12, 2026"
    assert a4.heading.issued == "12 May 2026"
    assert letter.work[0].day == "May 1"
    assert a4.work[0].day == "1 May"


def test_a_draft_has_no_number_until_it_is_issued(empty_shop: Catalog, told_tool: ToolId) -> None:
    draft = compose(empty_shop, told_tool)
    issued = compose(empty_shop, told_tool, issued_on=dt.date(2026, 5, 12))

    assert (draft.heading.number, draft.heading.issued) == ("", "")
    assert draft.heading.drafted == "May 12, 2026"
    assert len(issued.heading.number) == 4
    assert issued.price == "$165.00"


def test_cautions_are_the_buyers_and_cite_nothing(empty_shop: Catalog, told_tool: ToolId) -> None:
    said = lines(compose(empty_shop, told_tool).cautions)

    assert said[0].startswith("Sharp cutter:")
    assert said[1] == "Old finish may hold lead: do not sand or heat it, and wash your hands."
    assert not any(word in " ".join(said) for word in ("CFR", "license", "permit", "Source"))


def test_rosewood_named_in_a_note_brings_the_caution_of_its_trade(
    empty_shop: Catalog, new_tool: NewToolMade
) -> None:
    tool = new_tool(note="Handle of rosewood, said the seller")

    assert "Rosewood:" in [one.lead for one in compose(empty_shop, tool).cautions]


def test_work_that_changes_the_tool_comes_first_and_is_named(
    empty_shop: Catalog, new_tool: NewToolMade
) -> None:
    tool = new_tool()
    empty_shop.bench_log.add(tool, kind="wax", what="two thin coats")
    empty_shop.bench_log.add(tool, kind="wire_wheel", what="rust off the sole", disclosed=True)
    empty_shop.bench_log.add(tool, kind="wire_wheel", what="Wire wheel on the frog", disclosed=True)
    work = compose(empty_shop, tool).work

    assert [one.changes_tool for one in work] == [True, True, False]
    assert {one.what for one in work} == {
        "Wire wheel: rust off the sole",
        "Wire wheel on the frog",
        "Two thin coats",
    }


def test_work_not_finished_is_said_and_its_status_too(
    empty_shop: Catalog, told_tool: ToolId
) -> None:
    empty_shop.tools.change(told_tool, status=ToolStatus.ON_BENCH, work_finished=False)

    assert compose(empty_shop, told_tool).summary.endswith("Work on it is not finished.")


def test_the_scale_card_is_left_out_of_the_print_but_no_pin_is(
    empty_shop: Catalog, new_tool: NewToolMade
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


def test_standard_ratings_are_said_only_when_asked_for(
    empty_shop: Catalog, told_tool: ToolId
) -> None:
    choices = choices_from(empty_shop.settings.read())
    rated = compose(empty_shop, told_tool, replace(choices, standard_ratings=True))

    assert choices.standard_ratings is False
    assert compose(empty_shop, told_tool, choices).finish[0].rating == ""
    assert "memory" not in rated.finish[0].rating


@pytest.mark.parametrize(
    ("typed", "lines_"),
    [
        ("1.7 x 1.6 mm", ("0.067 × 0.063 in", "1.7 × 1.6 mm")),
        # One size, one fineness: 3.3 mm alone would be 1/8 in.
        ("3.3 x 0.9 mm", ("0.130 × 0.035 in", "3.3 × 0.9 mm")),
        ("about 20 x 25 mm", ("about 25/32 × 63/64 in", "about 20 × 25 mm")),
        ("1/2", ("1/2",)),
        ("18% of the face", ("18% of the face",)),
        ("", ()),
    ],
)
def test_a_defect_s_size_stands_in_both_units(typed: str, lines_: tuple[str, ...]) -> None:
    assert format_size(typed, LengthUnit.INCH) == lines_
    assert format_size(typed, LengthUnit.MILLIMETER) == lines_[::-1]
