"""The two lists on the first page: problems, and what was not checked; and who inspected what."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from decimal import Decimal

from planebench.catalog.reference import name_of, open_list
from planebench.catalog.values import Defect, Part
from planebench.sheet.content import ListLine
from planebench.sheet.dating_section import disagreements, years_of_part
from planebench.sheet.defect_sizes import format_size
from planebench.sheet.defects_section import defect_name, defects_on_sheet
from planebench.sheet.dimensions import not_measured
from planebench.sheet.photograph_choice import views_not_photographed
from planebench.sheet.phrases import capitalize_first, lower_first, sentence
from planebench.sheet.sheet_source import SheetSource
from planebench.sheet.surface_bars import about, new_finish_unknown, rust_now
from planebench.trade.record_dating import odd_part_keys, part_key
from planebench.trade.terms import PartStatus, Stage
from planebench.trade.wording import join_words

RUST_TOLD_FROM = Decimal("0.05")
"""Rust over this share of a surface is a problem; less stands in the table of bare iron only."""

_PART_LEADS = {
    PartStatus.MISSING: "missing",
    PartStatus.REPLACED: "replaced",
    PartStatus.NOT_ORIGINAL: "not original",
}
_DRAWN_PARTS = 3


def problems(source: SheetSource) -> tuple[ListLine, ...]:
    """Return everything wrong that is known, the worst first.

    Parts that are missing, replaced or of another date, new finish, treatments that change the
    tool, rust, then defects by severity. "None found." only after a completed inspection.
    """
    lines = (
        *_parts(source),
        *_dates(source),
        *_new_finish(source),
        *_treatments(source),
        *_rust(source),
        *_defects(source),
    )
    if lines:
        return lines
    if source.tool.defects_inspected:
        return (ListLine(lead="None found."),)
    return (
        ListLine(lead="None recorded.", words="The inspection is not complete; expect defects."),
    )


def not_checked(source: SheetSource) -> tuple[ListLine, ...]:
    """Return what nobody checked, measured or photographed, the most important first."""
    lines = (
        *_not_inspected(source),
        *_finishes_not_measured(source),
        *views_not_photographed(source),
        *_parts_not_checked(source),
        *_dimensions_not_measured(source),
    )
    return lines or (ListLine(lead="Nothing known to be left out."),)


def inspection(source: SheetSource) -> str:
    """Return which parts a completed inspection covered, or that it is not complete."""
    if not source.tool.defects_inspected:
        return "Inspection not complete; expect further defects."
    here = [p for p in source.tool.parts if p.status is not PartStatus.NOT_SEEN]
    present = [lower_first(p.name) for p in here if p.status is not PartStatus.MISSING]
    if not present:
        return "Inspected; which parts is not recorded. Nothing else found."
    # Who inspected it is not recorded, so nobody is named.
    return f"Inspected: {', '.join(present)}; nothing else found."


def _parts(source: SheetSource) -> Iterator[ListLine]:
    years = _replaced_years(source)
    for status, word in _PART_LEADS.items():
        for part in source.tool.parts:
            if part.status is status:
                said = (sentence(part.note), years.get(part.id, ""))
                yield ListLine(
                    lead=f"{part.name} {word}.",
                    words=" ".join(filter(None, said)),
                    defects=_foreign_part_numbers(source, part),
                )


def _foreign_part_numbers(source: SheetSource, part: Part) -> tuple[int, ...]:
    alike = (d for d in defects_on_sheet(source) if d.kind in {"replaced_part", "missing_part"})
    return tuple(defect.number for defect in alike if defect.part == part.id)


def _replaced_years(source: SheetSource) -> dict[str, str]:
    """Return a sentence for each part whose evidence is of another date than the tool's."""
    if source.dating is None:
        return {}
    odd = odd_part_keys(source.dating)
    return {
        part.id: f"Its evidence points to {years_of_part(source.dating.parts[part_key(part)])}."
        for part in source.tool.parts
        if part_key(part) in odd
    }


def _dates(source: SheetSource) -> Iterator[ListLine]:
    said = {p.name for p in source.tool.parts if p.status in _PART_LEADS}
    for name, words in disagreements(source):
        if name not in said:
            yield ListLine(lead=f"{name}:" if name else "", words=words)


def _new_finish(source: SheetSource) -> Iterator[ListLine]:
    for surface in source.tool.finished_surfaces:
        reading = source.reading_now(surface)
        if reading is None:
            continue
        finish, where = name_of("finishes", surface.finish), lower_first(surface.name)
        numbers = _numbers_of(source, "new_finish", surface.parts)
        if reading.new_finish is not None and reading.new_finish.value > 0:
            words = f"over losses on {about(reading.new_finish)} of the {where}."
            yield ListLine(lead=f"New {finish}", words=words, defects=numbers)
        elif new_finish_unknown(source, surface, reading):
            words = f"on the {where}; how much was not recorded."
            yield ListLine(lead=f"New {finish}", words=words, defects=numbers)


def _numbers_of(source: SheetSource, kind: str, parts: Iterable[str]) -> tuple[int, ...]:
    ids = {part.id for part in source.tool.parts if part.code in set(parts)}
    alike = [d for d in defects_on_sheet(source) if d.kind == kind]
    return tuple(d.number for d in alike if d.part is None or d.part in ids)


def _treatments(source: SheetSource) -> Iterator[ListLine]:
    told = [work for work in source.tool.work if work.disclosed]
    names = dict.fromkeys(lower_first(name_of("treatments", work.kind)) for work in told)
    if names:
        yield ListLine(lead="Work that changes the tool:", words=f"{join_words(list(names))}.")


def _rust(source: SheetSource) -> Iterator[ListLine]:
    for surface, reading in rust_now(source):
        if reading.share.value > RUST_TOLD_FROM:
            when = " as found" if reading.stage is Stage.AS_FOUND else ""
            words = f"on {about(reading.share)} of the {lower_first(surface.name)}{when}."
            yield ListLine(lead="Rust", words=words)


def _defects(source: SheetSource) -> Iterator[ListLine]:
    """Yield the defects that no line above is about, the worst first."""
    told = {n for line in (*_parts(source), *_new_finish(source)) for n in line.defects}
    listed = (defect for defect in defects_on_sheet(source) if defect.number not in told)
    for defect in sorted(listed, key=lambda one: (-_severity(one), one.number)):
        words = _place_and_size(source, defect)
        yield ListLine(
            lead=defect_name(defect),
            words=f"({words})." if words else "",
            defects=(defect.number,),
        )


def _place_and_size(source: SheetSource, defect: Defect) -> str:
    part = lower_first(source.part_name(defect.part))
    size = format_size(defect.size, source.choices.first_unit)[:1]
    return ", ".join(filter(None, (part, defect.place, *size)))


def _severity(defect: Defect) -> float:
    """Return 0 for the mildest severity the list offers for this defect, 1 for the worst."""
    row = open_list("defects").get(defect.kind)
    offered = row.more.get("severities") if row is not None else None
    if not isinstance(offered, list) or len(offered) < 2:  # noqa: PLR2004 -- nothing to compare
        return 0.5
    return (
        offered.index(defect.severity) / (len(offered) - 1) if defect.severity in offered else 0.5
    )


def _not_inspected(source: SheetSource) -> Iterator[ListLine]:
    if not source.tool.defects_inspected:
        yield ListLine(lead="Defects:", words="not inspected to the end.")


def _finishes_not_measured(source: SheetSource) -> Iterator[ListLine]:
    finished = source.tool.finished_surfaces
    for surface in finished:
        found = source.tool.reading(surface.id, Stage.AS_FOUND)
        stale = source.may_have_changed and source.later_reading(surface) is None
        if stale and found is not None:
            yield ListLine(lead=f"{surface.name} now:", words="not measured since it was found.")
    unread = [lower_first(s.name) for s in finished if source.reading_now(s) is None]
    if unread:
        yield ListLine(lead="Finish not measured:", words=f"{join_words(unread)}.")


def _parts_not_checked(source: SheetSource) -> Iterator[ListLine]:
    unseen = [part for part in source.tool.parts if part.status is PartStatus.NOT_SEEN]
    asked = [part for part in unseen if not part.unasked]
    if asked:
        yield _asked_parts(source, asked)
    yield from _optional_parts(source, [part for part in unseen if part.unasked])


def _asked_parts(source: SheetSource, asked: Sequence[Part]) -> ListLine:
    if not source.tool.parts_seen:
        return ListLine(lead="Parts:", words="not checked one by one.")
    return ListLine(lead="Parts not checked:", words=f"{_names(asked)}.")


def _optional_parts(source: SheetSource, parts: Sequence[Part]) -> Iterator[ListLine]:
    if parts:
        model = " ".join(filter(None, (source.tool.maker, source.tool.model))) or "this model"
        words = f"none seen; not known if {model} had {'one' if len(parts) == 1 else 'them'}."
        yield ListLine(lead=f"{capitalize_first(_names(parts))}:", words=words)


def _names(parts: Iterable[Part]) -> str:
    names = [lower_first(part.name) for part in parts]
    if len(names) > _DRAWN_PARTS:
        return join_words([*names[:_DRAWN_PARTS], f"{len(names) - _DRAWN_PARTS} more"])
    return join_words(names)


def _dimensions_not_measured(source: SheetSource) -> Iterator[ListLine]:
    names = not_measured(source)
    if names:
        yield ListLine(lead="Not measured:", words=f"{join_words(names)}.")
