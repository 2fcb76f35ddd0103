"""Issues a sheet: composes it, checks it, typesets it, and has the catalog keep it as it is."""

from __future__ import annotations

from dataclasses import dataclass

from planebench.catalog.catalog import Catalog
from planebench.catalog.changes import Changes
from planebench.catalog.ids import SheetId, ToolId
from planebench.catalog.issued_sheets import NewSheet
from planebench.errors import SheetError
from planebench.sheet.changes_since_issue import changed_since
from planebench.sheet.compose import choices_from, content_of
from planebench.sheet.content import SheetChoices, SheetContent
from planebench.sheet.fingerprint import content_json, fingerprint
from planebench.sheet.issue_check import findings_of
from planebench.sheet.pdf import SheetPress
from planebench.sheet.sheet_source import SheetSource, load_source


@dataclass(frozen=True, slots=True, kw_only=True)
class Issued:
    """An issued sheet: its id, content and PDF, and what the edit touched."""

    id: SheetId
    content: SheetContent
    pdf: bytes
    changes: Changes


def issue(
    catalog: Catalog,
    press: SheetPress,
    tool_id: ToolId,
    choices: SheetChoices | None = None,
    *,
    accept_missing: bool = False,
) -> Issued:
    """Issue a tool's sheet under the next number, dated by the catalog's clock.

    Readings that contradict each other must be settled first; what is merely missing may be
    accepted, and the sheet says so. Raise SheetError if something stands against it, if nothing
    changed since the last sheet or it cannot be made, CatalogError if it cannot be kept; nothing
    is written then.
    """
    at = catalog.now
    source = load_source(catalog, tool_id, choices or choices_from(catalog.settings.read()))
    _refuse_findings(source, accept_missing=accept_missing)
    content = content_of(source, issued_on=at.date())
    _refuse_unchanged(source, content)
    pdf = press.print([content], at=at).pdf
    kept = catalog.sheets.issue(
        NewSheet(
            tool=tool_id,
            number=int(content.heading.number),
            content=content_json(content),
            pdf=pdf,
            fingerprint=fingerprint(content),
        )
    )
    return Issued(id=kept.id, content=content, pdf=pdf, changes=kept.changes)


def _refuse_findings(source: SheetSource, *, accept_missing: bool) -> None:
    against = [one for one in findings_of(source) if one.blocks or not accept_missing]
    if not against:
        return
    stock = source.tool.stock_number
    blocked = any(one.blocks for one in against)
    raise SheetError(
        f"The sheet of {stock} cannot be issued yet. {' '.join(one.words for one in against)}",
        remedy="Settle what is named, then issue the sheet."
        if blocked
        else "Add what is missing, or accept that the sheet is issued without it.",
        subject=stock,
    )


def _refuse_unchanged(source: SheetSource, content: SheetContent) -> None:
    if not source.earlier:
        return
    last = source.earlier[0]
    if changed_since(last.content, content) or last.content.get("form") is None:
        return
    if content_json(content)["choices"] != last.content.get("choices"):
        return
    raise SheetError(
        f"Sheet {last.number:04} of {source.tool.stock_number} already says exactly this.",
        remedy="Use that sheet. A new number is given only when something changed.",
        subject=source.tool.stock_number,
    )
