"""Issues a sheet: composes it, sets it, and has the catalog keep it as it is."""

from __future__ import annotations

from dataclasses import dataclass

from planebench.catalog.catalog import Catalog
from planebench.catalog.changes import Changes
from planebench.catalog.ids import SheetId, ToolId
from planebench.catalog.issued_sheets import NewSheet
from planebench.sheet.compose import compose
from planebench.sheet.content import SheetChoices, SheetContent
from planebench.sheet.fingerprint import fingerprint, to_json
from planebench.sheet.pdf import SheetPress


@dataclass(frozen=True, slots=True, kw_only=True)
class Issued:
    """An issued sheet: its id, what it says, its PDF, and what the edit touched."""

    id: SheetId
    content: SheetContent
    pdf: bytes
    changes: Changes


def issue(
    catalog: Catalog, press: SheetPress, tool_id: ToolId, choices: SheetChoices | None = None
) -> Issued:
    """Issue a tool's sheet under the next number, dated by the catalog's clock.

    Raises SheetError when it cannot be set, CatalogError when it cannot be kept; nothing is
    written then.
    """
    at = catalog.now
    content = compose(catalog, tool_id, choices, issued_on=at.date())
    pdf = press.print([content], at=at).pdf
    said = to_json(content)
    kept = catalog.sheets.issue(
        NewSheet(
            tool=tool_id,
            number=int(content.heading.number),
            content=said if isinstance(said, dict) else {},
            pdf=pdf,
            fingerprint=fingerprint(content),
        )
    )
    return Issued(id=kept.id, content=content, pdf=pdf, changes=kept.changes)
