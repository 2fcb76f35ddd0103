"""Rows of the catalog's own memory: history, issued sheets, settings, kinds a user added."""

from __future__ import annotations

import datetime as dt

from sqlalchemy import Index, String, Text
from sqlalchemy.orm import Mapped, mapped_column

from planebench.catalog.ids import new_id
from planebench.catalog.tables.base import EditedRow, Json, Row, refers_to
from planebench.catalog.tables.columns import Instant


class CatalogInfoRow(Row):
    """One row: what this catalog is.

    `summary_version` tells by which rules the tools' worked-out columns were last filled.
    """

    __tablename__ = "catalog_info"
    id: Mapped[str] = mapped_column(String(32), primary_key=True)
    name: Mapped[str] = mapped_column(Text)
    created_at: Mapped[dt.datetime] = mapped_column(Instant)
    written_by: Mapped[str] = mapped_column(String(40))
    summary_version: Mapped[int] = mapped_column(default=0, server_default="0")


class EditRow(Row):
    """One edit. `action` is do, undo or redo; for the latter two `target_id` is the edit concerned.

    `undone_by` is the number of the edit that undid this one, null while it stands.
    Edits of one `run`, such as an import that wrote in many steps, are undone together.
    """

    __tablename__ = "edit"
    __table_args__ = (Index("ix_edit_action", "action", "undone_by"),)
    id: Mapped[str] = mapped_column(String(32), primary_key=True, default=new_id)
    number: Mapped[int] = mapped_column(unique=True)
    at: Mapped[dt.datetime] = mapped_column(Instant)
    who: Mapped[str] = mapped_column(Text)
    description: Mapped[str] = mapped_column(Text)
    action: Mapped[str] = mapped_column(String(4), default="do")
    target_id: Mapped[str | None] = mapped_column(refers_to("edit.id"))
    undone_by: Mapped[int | None]
    run: Mapped[str | None] = mapped_column(String(32), index=True)


class RunUnderWayRow(Row):
    """A run, such as an import, that a program is still writing; it cannot be undone meanwhile."""

    __tablename__ = "run_under_way"
    run: Mapped[str] = mapped_column(String(32), primary_key=True)
    machine: Mapped[str] = mapped_column(Text)
    process: Mapped[int]
    since: Mapped[dt.datetime] = mapped_column(Instant)


class ChangeRow(Row):
    """One row's change within an edit: its columns before and after; null where there is no row."""

    __tablename__ = "change"
    id: Mapped[str] = mapped_column(String(32), primary_key=True, default=new_id)
    edit_id: Mapped[str] = mapped_column(refers_to("edit.id"), index=True)
    position: Mapped[int]
    table_name: Mapped[str] = mapped_column(String(40))
    row_id: Mapped[str] = mapped_column(String(32), index=True)
    tool_id: Mapped[str | None] = mapped_column(String(32), index=True)
    old_values: Mapped[Json | None]
    new_values: Mapped[Json | None]


class IssuedSheetRow(EditedRow):
    """A condition sheet as it was issued: frozen content and its fingerprint, the PDF and its hash.

    `pdf_sha256` is null for sheets issued before hashes were kept.
    """

    __tablename__ = "issued_sheet"
    tool_id: Mapped[str] = mapped_column(refers_to("tool.id"), index=True)
    number: Mapped[int] = mapped_column(unique=True)
    issued_at: Mapped[dt.datetime] = mapped_column(Instant)
    issued_by: Mapped[str] = mapped_column(Text)
    file_name: Mapped[str] = mapped_column(Text)
    fingerprint: Mapped[str] = mapped_column(String(64))
    pdf_sha256: Mapped[str | None] = mapped_column(String(64))
    content: Mapped[Json]


class SettingRow(EditedRow):
    """One choice kept with the catalog; the row's id is the choice's name."""

    __tablename__ = "setting"
    value: Mapped[Json]


class OwnKindRow(EditedRow):
    """A kind of plane, or parts of one, that the user added; `definition` as in resources/kinds."""

    __tablename__ = "own_kind"
    code: Mapped[str] = mapped_column(String(60), unique=True)
    definition: Mapped[Json]
    binned_at: Mapped[dt.datetime | None] = mapped_column(Instant)


class OwnTableRow(EditedRow):
    """A table of dates or a type study that the user brought: its rows as they came."""

    __tablename__ = "own_table"
    purpose: Mapped[str] = mapped_column(String(40))
    name: Mapped[str] = mapped_column(Text)
    source: Mapped[str] = mapped_column(Text, default="")
    content: Mapped[Json]
    binned_at: Mapped[dt.datetime | None] = mapped_column(Instant)
