"""Column types that keep values exact on every database: money, shares, instants, words."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, date, datetime
from decimal import Decimal
from enum import StrEnum
from typing import TypeVar

from sqlalchemy import Date, DateTime, Dialect, String
from sqlalchemy.types import TypeDecorator
from typing_extensions import override

from planebench.errors import CatalogError

ValueT = TypeVar("ValueT")


class _Checked(TypeDecorator[ValueT]):
    """A column whose damaged values are reported as such, instead of as a fault of the program."""

    __abstract__ = True

    @override
    def result_processor(
        self, dialect: Dialect, coltype: object
    ) -> Callable[[object], ValueT | None] | None:
        process = super().result_processor(dialect, coltype)

        def checked(value: object) -> ValueT | None:
            try:
                return process(value) if process is not None else value  # type: ignore[return-value]  # as stored
            except (ValueError, TypeError, ArithmeticError) as error:
                raise damaged(value) from error

        return checked


def damaged(value: object) -> CatalogError:
    """Return the error for a stored value that cannot be read."""
    return CatalogError(
        f"The database holds a value that cannot be read: {ascii(value)[:60]}.",
        remedy="Check the catalog; if it finds this too, restore a backup into a new folder.",
        subject="catalog.db",
    )


class Exact(_Checked[Decimal]):
    """A Decimal kept as its digits, since SQLite's numbers are binary."""

    impl = String(40)
    cache_ok = True

    @override
    def process_bind_param(self, value: Decimal | None, dialect: Dialect) -> str | None:
        return None if value is None else str(value)

    @override
    def process_result_value(self, value: str | None, dialect: Dialect) -> Decimal | None:
        return None if value is None else Decimal(value)


class Instant(_Checked[datetime]):
    """A point in time, zone-aware in the program and UTC in the database."""

    impl = DateTime(timezone=True)
    cache_ok = True

    @override
    def process_bind_param(self, value: datetime | None, dialect: Dialect) -> datetime | None:
        if value is None:
            return None
        if value.tzinfo is None:
            raise ValueError(f"an instant needs a time zone: {value!r}")
        return value.astimezone(UTC)

    @override
    def process_result_value(self, value: datetime | None, dialect: Dialect) -> datetime | None:
        if value is None:
            return None
        return value.replace(tzinfo=UTC) if value.tzinfo is None else value.astimezone(UTC)


class Word(_Checked[StrEnum]):
    """One of a fixed set of words, stored as itself."""

    impl = String(40)
    cache_ok = True

    def __init__(self, words: type[StrEnum]) -> None:
        super().__init__()
        self.words = words

    @override
    def process_bind_param(self, value: StrEnum | str | None, dialect: Dialect) -> str | None:
        return None if value is None else self.words(value).value

    @override
    def process_result_value(self, value: str | None, dialect: Dialect) -> StrEnum | None:
        return None if value is None else self.words(value)


class Day(_Checked[date]):
    """A calendar day."""

    impl = Date
    cache_ok = True
