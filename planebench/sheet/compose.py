"""Turns a tool's record into what its sheet says."""

from __future__ import annotations

import datetime as dt

from planebench.catalog.catalog import Catalog
from planebench.catalog.ids import ToolId
from planebench.catalog.settings import CatalogSettings
from planebench.catalog.values import Tool
from planebench.sheet.buyer_notices import cautions_of, know_first, unknown
from planebench.sheet.content import Heading, KeyFigure, Paper, SheetChoices, SheetContent
from planebench.sheet.dating_section import dating_of, made_words
from planebench.sheet.finish_section import finish_figures, finish_of
from planebench.sheet.outline_drawings import drawings_of
from planebench.sheet.photograph_choice import photographs_of
from planebench.sheet.phrases import sentence
from planebench.sheet.record_sections import (
    address_of,
    defects_of,
    length_figure,
    measurements_of,
    no_defects_words,
    parts_of,
    replaces_words,
    work_of,
)
from planebench.sheet.sheet_source import SheetSource, load_source
from planebench.trade.days import format_day
from planebench.trade.money import format_money
from planebench.trade.terms import ToolStatus
from planebench.trade.units import LengthUnit

_MOST_FIGURES = 4
_STATUS_WORDS = {
    ToolStatus.AS_FOUND: "As found; no work was done on it.",
    ToolStatus.ON_BENCH: "Work on it is not finished.",
}


def choices_from(settings: CatalogSettings) -> SheetChoices:
    """Return the choices that are set for the catalog."""
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
    places_ahead: int = 0,
) -> SheetContent:
    """Say what the sheet of one tool says now; a draft unless `issued_on` is given.

    Without `choices` those set for the catalog hold. `places_ahead` counts drafts of one batch
    that would be issued before this one. Raises CatalogError for an unknown tool.
    """
    chosen = choices_from(catalog.settings.read()) if choices is None else choices
    source = load_source(catalog, tool_id, chosen)
    return SheetContent(
        heading=_heading(source, issued_on, source.number + places_ahead),
        title=_title(source),
        summary=_summary(source),
        price=_price(source),
        photographs=photographs_of(source),
        figures=_figures(source),
        know_first=know_first(source),
        unknown=unknown(source),
        defects=defects_of(source),
        no_defects=no_defects_words(source),
        finish=finish_of(source),
        drawings=drawings_of(source),
        dating=dating_of(source),
        parts=parts_of(source),
        measurements=measurements_of(source),
        work=work_of(source),
        cautions=cautions_of(source),
        promise=source.settings.guarantee,
        address=address_of(source),
        replaces=replaces_words(source),
        choices=chosen,
    )


def _heading(source: SheetSource, issued_on: dt.date | None, number: int) -> Heading:
    settings = source.settings
    return Heading(
        number=f"{number:04}",
        stock=source.tool.stock_number,
        issued="" if issued_on is None else format_day(issued_on),
        seller=settings.workshop or settings.person,
    )


def _title(source: SheetSource) -> str:
    tool = source.tool
    named = " ".join(word for word in (tool.maker, tool.model) if word)
    kind = source.kind.name if source.kind is not None else tool.line.title
    return ", ".join(part for part in (kind, named, tool.size) if part)


def _summary(source: SheetSource) -> str:
    tool = source.tool
    maker = "" if tool.maker else "Maker not known."
    return " ".join(part for part in (maker, sentence(made_words(source)), _state(tool)) if part)


def _state(tool: Tool) -> str:
    """Say how far the work is; what was written down of it counts more than the status set."""
    if tool.status is ToolStatus.AS_FOUND and tool.work:
        return "Worked on since it was found: what was done stands under Work done."
    if tool.status in _STATUS_WORDS:
        return _STATUS_WORDS[tool.status]
    return "Work on it is finished." if tool.work_finished else ""


def _price(source: SheetSource) -> str:
    asking = source.tool.asking
    return "" if asking is None else format_money(asking, source.currency)


def _figures(source: SheetSource) -> tuple[KeyFigure, ...]:
    length = length_figure(source)
    last = () if length is None else (length,)
    return (*finish_figures(source)[: _MOST_FIGURES - len(last)], *last)
