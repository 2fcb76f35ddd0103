"""Issued condition sheets, each frozen as it was issued."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from planebench.catalog.files import is_plain_name, make_folder, write_whole
from planebench.catalog.ids import SheetId, ToolId, new_id
from planebench.catalog.originals import sha256_of
from planebench.catalog.repository import Added, Repository, get_row
from planebench.catalog.tables import IssuedSheetRow, ToolRow
from planebench.catalog.values import IssuedSheet, Json
from planebench.errors import CatalogError


@dataclass(frozen=True, slots=True, kw_only=True)
class NewSheet:
    """A sheet to be issued: `content` as JSON, the PDF's bytes, the content's fingerprint."""

    tool: ToolId
    number: int
    content: Json
    pdf: bytes
    fingerprint: str


class SheetRepository(Repository):
    """Sheets as they were issued; their files stand in the catalog's sheets/ folder."""

    def next_number(self) -> int:
        """Return the number that the next sheet will have."""
        with self._store.read() as session:
            return _next(session)

    def issue(self, new: NewSheet) -> Added[SheetId]:
        """Write a sheet's file, then its record; raise CatalogError if its number was taken."""
        with self._store.edit("sheet") as edit:
            if new.number != _next(edit.session):
                raise CatalogError(
                    f"Someone else issued sheet {new.number:04} in the meantime.",
                    remedy="Check the sheet, then issue it again; it will get the next number.",
                    subject=f"sheet {new.number:04}",
                )
            tool = get_row(edit.session, ToolRow, new.tool)
            name = f"{new.number:04}-{_file_words(tool.stock_number)}.pdf"
            self._write_file(name, new.pdf)
            row = IssuedSheetRow(
                id=new_id(),
                tool_id=new.tool,
                number=new.number,
                issued_at=edit.at,
                issued_by=self._store.who,
                file_name=name,
                fingerprint=new.fingerprint,
                pdf_sha256=sha256_of(new.pdf),
                content=new.content,
            )
            edit.session.add(row)
            edit.words = f"{tool.stock_number} sheet {new.number:04} issued"
        return Added(id=SheetId(row.id), changes=edit.changes)

    def of_tool(self, tool: ToolId) -> tuple[IssuedSheet, ...]:
        """List the sheets issued for a tool, newest first."""
        with self._store.read() as session:
            asked = (
                select(IssuedSheetRow)
                .where(IssuedSheetRow.tool_id == tool)
                .order_by(IssuedSheetRow.number.desc())
            )
            return tuple(_sheet(row) for row in session.scalars(asked))

    def with_fingerprint(self, digits: str) -> tuple[IssuedSheet, ...]:
        """Return the sheets whose fingerprint starts with some hexadecimal digits, newest first."""
        with self._store.read() as session:
            asked = (
                select(IssuedSheetRow)
                .where(IssuedSheetRow.fingerprint.startswith(digits, autoescape=True))
                .order_by(IssuedSheetRow.number.desc())
            )
            return tuple(_sheet(row) for row in session.scalars(asked))

    def path(self, sheet: IssuedSheet) -> Path:
        """Return where a sheet's file stands; raise CatalogError when its name leads elsewhere."""
        if not is_plain_name(sheet.file_name):
            raise CatalogError(
                f"The record of sheet {sheet.number:04} does not name a file in the catalog.",
                remedy="Restore the catalog from a backup; do not trust one from a stranger.",
                subject=f"sheet {sheet.number:04}",
            )
        return self._store.folder / "sheets" / sheet.file_name

    def _write_file(self, name: str, pdf: bytes) -> None:
        target = self._store.folder / "sheets" / name
        try:
            make_folder(target.parent)
            write_whole(target, pdf)
        except OSError as error:
            raise CatalogError(
                f"The sheet could not be written: {error.strerror}.",
                remedy="Free some space on the catalog’s disk, then issue the sheet again.",
                subject=str(target),
            ) from error


def _next(session: Session) -> int:
    last = session.execute(select(func.max(IssuedSheetRow.number))).scalar()
    return (last or 0) + 1


def _file_words(text: str) -> str:
    """Return a stock number as every file system takes it."""
    kept = "".join(c if c.isalnum() or c in "-_." else "-" for c in text)
    return kept[:80].strip(".") or "tool"


def _sheet(row: IssuedSheetRow) -> IssuedSheet:
    return IssuedSheet(
        id=SheetId(row.id),
        tool=ToolId(row.tool_id),
        number=row.number,
        issued_at=row.issued_at,
        issued_by=row.issued_by,
        file_name=row.file_name,
        fingerprint=row.fingerprint,
        content=row.content,
    )
