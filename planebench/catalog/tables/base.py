"""The ground of every table: a random id and, on rows that people edit, a version counter."""

from __future__ import annotations

import datetime as dt
from typing import ClassVar

from sqlalchemy import JSON, ForeignKey, MetaData, String
from sqlalchemy.orm import DeclarativeBase, Mapped, declared_attr, mapped_column
from typing_extensions import override

from planebench.catalog.ids import new_id
from planebench.catalog.tables.columns import Day

Json = dict[str, object]


def refers_to(column: str) -> ForeignKey:
    """Point to another table's row; checked when the edit is written, so that order is free."""
    return ForeignKey(column, deferrable=True, initially="DEFERRED")


class Row(DeclarativeBase):
    """Any table of the catalog."""

    metadata = MetaData(
        naming_convention={
            "ix": "ix_%(table_name)s_%(column_0_N_name)s",
            "uq": "uq_%(table_name)s_%(column_0_N_name)s",
            "fk": "fk_%(table_name)s_%(column_0_name)s",
            "pk": "pk_%(table_name)s",
        }
    )
    type_annotation_map: ClassVar = {Json: JSON, list[object]: JSON, dt.date: Day}


class EditedRow(Row):
    """A row that people edit: its changes go into the history and can be undone.

    `unwritten` names columns that are worked out from others and stay out of the history.
    """

    __abstract__ = True
    derived: ClassVar[frozenset[str]] = frozenset()

    id: Mapped[str] = mapped_column(String(32), primary_key=True, default=new_id, sort_order=-2)
    version: Mapped[int] = mapped_column(sort_order=-1)

    @declared_attr.directive
    @classmethod
    @override
    def __mapper_args__(cls) -> dict[str, object]:
        return {"version_id_col": cls.version}

    @override
    def __repr__(self) -> str:
        return f"<{self.__tablename__} {self.id}>"
