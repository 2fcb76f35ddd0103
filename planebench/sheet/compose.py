"""Turns a tool's record into the content of its sheet."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

from planebench.catalog.catalog import Catalog
from planebench.catalog.ids import ToolId
from planebench.catalog.settings import CatalogSettings
from planebench.sheet.buyer_lists import inspection, not_checked, problems
from planebench.sheet.cautions import cautions_of
from planebench.sheet.changes_since_issue import changed_since
from planebench.sheet.content import Heading, Paper, SheetChoices, SheetContent
from planebench.sheet.dating_section import dating_of, made_words
from planebench.sheet.defects_section import defects_left_off, defects_of
from planebench.sheet.dimensions import cutter_note, cutter_of, measurements_of
from planebench.sheet.issue_check import findings_of
from planebench.sheet.outline_drawings import drawings_of
from planebench.sheet.photograph_choice import photographs_of
from planebench.sheet.phrases import sentence
from planebench.sheet.record_sections import (
    address_of,
    parts_of,
    status_words,
    work_not_recorded,
    work_of,
)
from planebench.sheet.sheet_source import SheetSource, load_source
from planebench.sheet.surface_bars import finish_bars, iron_bars
from planebench.trade.money import format_money
from planebench.trade.units import LengthUnit

_WOOD = "wooden"


def choices_from(settings: CatalogSettings) -> SheetChoices:
    """Return the choices set for the catalog."""
    inches = settings.length_unit == LengthUnit.INCH.value
    return SheetChoices(
        paper=Paper(settings.paper),
        first_unit=LengthUnit.INCH if inches else LengthUnit.MILLIMETER,
        standard_ratings=settings.ratings_on_sheet,
    )


def compose(
    catalog: Catalog,
    tool_id: ToolId,
    choices: SheetChoices | None = None,
    *,
    issued_on: dt.date | None = None,
) -> SheetContent:
    """Return what the sheet of one tool says now; a draft without a number unless `issued_on`.

    Without `choices` those set for the catalog are used. Raise CatalogError for an unknown tool.
    """
    chosen = choices_from(catalog.settings.read()) if choices is None else choices
    return content_of(load_source(catalog, tool_id, chosen), issued_on=issued_on)


def content_of(source: SheetSource, *, issued_on: dt.date | None) -> SheetContent:
    """Return the content of a sheet from a loaded record."""
    findings = findings_of(source) if issued_on is None else ()
    content = SheetContent(
        heading=_heading(source, issued_on),
        title=_title(source),
        summary=_summary(source),
        price=_price(source),
        to_settle=tuple(finding.words for finding in findings),
        photographs=photographs_of(source),
        finish=finish_bars(source),
        finish_columns=("First finish", "New finish", _bare_word(source)),
        problems=problems(source),
        not_checked=not_checked(source),
        inspection=inspection(source),
        defects=defects_of(source),
        defects_left_off=defects_left_off(source),
        iron=iron_bars(source),
        drawings=drawings_of(source),
        dating=dating_of(source),
        parts=parts_of(source),
        measurements=measurements_of(source),
        cutter=cutter_of(source),
        cutter_note=cutter_note(source),
        work=work_of(source),
        work_not_recorded=work_not_recorded(source),
        cautions=cautions_of(source),
        promise=source.settings.guarantee,
        address=address_of(source),
        choices=source.choices,
    )
    return replace(content, replaces=_replaces(source, content))


def _replaces(source: SheetSource, content: SheetContent) -> str:
    """Return which sheet this one replaces, and what changed since."""
    if not source.earlier:
        return "Replaces no earlier sheet."
    last = source.earlier[0]
    changed = changed_since(last.content, content)
    said = f"; changed: {', '.join(changed)}" if changed else ""
    return f"Replaces sheet {last.number:04}{said}."


def _heading(source: SheetSource, issued_on: dt.date | None) -> Heading:
    settings = source.settings
    issued = issued_on is not None
    return Heading(
        number=f"{source.number:04}" if issued else "",
        stock=source.tool.stock_number,
        issued="" if issued_on is None else source.day(issued_on),
        issued_on="" if issued_on is None else issued_on.isoformat(),
        drafted="" if issued else source.day(source.today),
        seller=settings.workshop or settings.person,
    )


def _title(source: SheetSource) -> str:
    tool = source.tool
    named = " ".join(word for word in (tool.maker, tool.model) if word)
    kind = source.kind.name if source.kind is not None else tool.line.title
    return ", ".join(part for part in (kind, named, tool.size) if part)


def _summary(source: SheetSource) -> str:
    maker = "" if source.tool.maker else "Maker not known."
    said = (maker, sentence(made_words(source)), status_words(source))
    return " ".join(part for part in said if part)


def _price(source: SheetSource) -> str:
    asking = source.tool.asking
    return "" if asking is None else format_money(asking, source.currency)


def _bare_word(source: SheetSource) -> str:
    is_wooden = source.kind is not None and source.kind.drawing == _WOOD
    return "Bare wood" if is_wooden else "Bare"
