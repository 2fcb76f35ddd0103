"""Works out a tool's line, its filters and its search words whenever its record has changed."""

from __future__ import annotations

import unicodedata
from collections import Counter
from collections.abc import Iterator
from dataclasses import asdict

from sqlalchemy import select
from sqlalchemy.orm import Session

from planebench.catalog.records import records_of
from planebench.catalog.reference import Kind, built_in_kinds, kind_from, name_of
from planebench.catalog.tables import OwnKindRow, ToolRow
from planebench.catalog.tool_dating import date_of
from planebench.catalog.tool_lines import share_to
from planebench.catalog.values import EvidenceEntry, Part, Reading, Surface, Tool
from planebench.trade.dating import DatingResult
from planebench.trade.progress import RecordCounts, completeness_by_question, next_step
from planebench.trade.record_dating import disagrees, format_made, odd_parts_unanswered
from planebench.trade.terms import LATEST_FIRST, Basis, Completeness, PartStatus, Stage, ToolStatus
from planebench.trade.tool_photographs import latest_photograph

CHUNK = 400


def summarize(session: Session, tool_ids: set[str]) -> None:
    """Bring the worked-out columns of these tools up to date."""
    for chunk in _chunks(sorted(tool_ids), CHUNK):
        session.flush()
        kinds = kinds_in(session)
        records = records_of(session, chunk)
        rows = session.scalars(select(ToolRow).where(ToolRow.id.in_(chunk)))
        for row in rows:
            _write(row, records[row.id], kinds.get(row.kind))


def kinds_in(session: Session) -> dict[str, Kind]:
    """Return all kinds by code: the program's, then the user's own, which may replace them."""
    kinds = dict(built_in_kinds())
    for row in session.scalars(select(OwnKindRow).where(OwnKindRow.binned_at.is_(None))):
        kinds[row.code] = kind_from(row.definition, own=True)
    return kinds


def fold(text: str) -> str:
    """Return text for searching: lower case, accents off, so that "Müller" is found by "muller"."""
    plain = unicodedata.normalize("NFKD", text.casefold())
    return "".join(letter for letter in plain if not unicodedata.combining(letter))


def _write(row: ToolRow, tool: Tool, kind: Kind | None) -> None:
    dating = date_of(tool)
    counts = count_record(tool, dating, kind)
    answers = completeness_by_question(counts)
    main, was = _main_readings(tool)
    made, made_basis = format_made(tool, dating)
    row.summary = {
        "title": _title(tool, kind),
        "subtitle": _subtitle(tool),
        "latest_photograph": latest_photograph(tool.photographs),
        "main_share": share_to(None if main is None else main.share),
        "main_was": share_to(None if was is None else was.share),
        "made": made,
        "made_basis": made_basis,
        "known": [answer.value for answer in answers],
        "next": asdict(next_step(counts)),
    }
    row.no_finished_photograph = counts.finished == 0
    row.not_dated = counts.evidence_with_years == 0
    row.not_measured = bool(counts.main_surface) and not counts.main_measured
    row.parts_disagree = answers[4] == Completeness.DISAGREES
    row.search_text = fold(" ".join(_words(tool, kind)))


def count_record(tool: Tool, dating: DatingResult | None, kind: Kind | None) -> RecordCounts:
    """Count what has been entered of a tool."""
    asked = [part for part in tool.parts if not part.optional]
    read = [_current(tool, surface) for surface in tool.finished_surfaces]
    main = next(iter(read), None)
    odd = _odd_names(tool, dating)
    stages = Counter(photo.stage for photo in tool.photographs)
    return RecordCounts(
        status=tool.status,
        identified=any((tool.maker, tool.identified_by)),
        maker=tool.maker,
        parts_asked=len(asked),
        parts_said=sum(map(_is_said, asked)),
        surfaces=len(tool.finished_surfaces),
        measured=sum(map(_is_measured, read)),
        by_eye=sum(map(_is_by_eye, read)),
        main_surface=_finish_word(tool),
        main_measured=_is_measured(main),
        main_by_eye=_is_by_eye(main),
        defects=len(tool.defects),
        defects_inspected=tool.defects_inspected,
        evidence_with_years=sum(map(_has_years, tool.evidence)),
        disagree=_disagrees(tool, dating),
        later_part=odd[0],
        work=len(tool.work),
        work_finished=tool.work_finished,
        has_price=tool.asking is not None,
        has_sold_price=tool.sold_for is not None,
        comparables=len(tool.comparables),
        photographs=len(tool.photographs),
        as_found=stages[Stage.AS_FOUND],
        finished=stages[Stage.FINISHED],
        missing_finished_view=_view_without_after(tool, kind),
    )


def _odd_names(tool: Tool, dating: DatingResult | None) -> tuple[str, ...]:
    """Name the parts of another date that nobody explained; one empty name when there is none."""
    odd = () if dating is None else odd_parts_unanswered(tool, dating)
    return tuple(part.name.lower() for part in odd) or ("",)


def _disagrees(tool: Tool, dating: DatingResult | None) -> bool:
    return dating is not None and disagrees(tool, dating)


def _is_said(part: Part) -> bool:
    return part.status != PartStatus.NOT_SEEN


def _is_by_eye(reading: Reading | None) -> bool:
    return reading is not None and not _is_measured(reading)


def _is_measured(reading: Reading | None) -> bool:
    return reading is not None and reading.share.basis == Basis.MEASURED


def _finish_word(tool: Tool) -> str:
    main = next(iter(tool.finished_surfaces), None)
    return "" if main is None else name_of("finishes", main.finish)


def _has_years(evidence: EvidenceEntry) -> bool:
    return evidence.not_before is not None or evidence.not_after is not None


def _current(tool: Tool, surface: Surface) -> Reading | None:
    readings = (tool.reading(surface.id, stage) for stage in LATEST_FIRST)
    return next((found for found in readings if found is not None), None)


def _main_readings(tool: Tool) -> tuple[Reading | None, Reading | None]:
    main = next(iter(tool.finished_surfaces), None)
    if main is None:
        return None, None
    now = _current(tool, main)
    was = tool.reading(main.id, Stage.AS_FOUND)
    return now, (was if was is not None and was is not now else None)


def _title(tool: Tool, kind: Kind | None) -> str:
    return kind.name if kind is not None else tool.kind.replace("_", " ").capitalize()


def _subtitle(tool: Tool) -> str:
    named = " ".join(word for word in (tool.maker, tool.model, tool.size) if word)
    if named:
        return named
    looked_at = (
        tool.identified_by is not None or tool.status != ToolStatus.AS_FOUND or tool.parts_seen
    )
    return "no maker’s mark seen" if looked_at else "not looked at yet"


def _view_without_after(tool: Tool, kind: Kind | None) -> str:
    expected = () if kind is None else kind.views
    found, after = _views(tool, Stage.AS_FOUND), _views(tool, Stage.FINISHED)
    wanted = [view for view in expected if view in found - after]
    return name_of("views", wanted[0]) if wanted else ""


def _views(tool: Tool, stage: Stage) -> set[str]:
    return {photo.view for photo in tool.photographs if photo.stage == stage}


def _words(tool: Tool, kind: Kind | None) -> Iterator[str]:
    yield from (tool.stock_number, _title(tool, kind), tool.maker, tool.model, tool.size)
    yield from (tool.note, tool.sold_to)
    for part in tool.parts:
        yield part.note
    for defect in tool.defects:
        yield from (name_of("defects", defect.kind), defect.place, defect.note, defect.size)
    for evidence in tool.evidence:
        yield from (evidence.seen, evidence.years, evidence.source, evidence.note)
    for work in tool.work:
        yield from (work.what, work.materials)
    for reading in tool.readings:
        yield reading.note
    for comparable in tool.comparables:
        yield from (comparable.what, comparable.where, comparable.note)
    for photo in tool.photographs:
        yield from (photo.caption, photo.original_name)


def _chunks(items: list[str], size: int) -> Iterator[list[str]]:
    for start in range(0, len(items), size):
        yield items[start : start + size]
