"""Reads the source files of the sample catalog: TOML tables with checked types."""

from __future__ import annotations

import datetime as dt
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal, InvalidOperation
from pathlib import Path

from planebench.errors import FileError


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """A table of a file; each getter returns the value of a key or raises FileError naming both.

    A missing key returns an empty text, None, False or an empty tuple.
    """

    file: Path
    table: Mapping[str, object]

    def text(self, key: str) -> str:
        """Return a text."""
        value = self.table.get(key, "")
        if not isinstance(value, str):
            raise self._wrong(key, "a text in quotes")
        return value

    def texts(self, key: str) -> tuple[str, ...]:
        """Return a list of texts."""
        value = self.table.get(key, [])
        if isinstance(value, list) and all(isinstance(item, str) for item in value):
            return tuple(value)
        raise self._wrong(key, "a list of texts")

    def flag(self, key: str) -> bool:
        """Return a true or false."""
        value = self.table.get(key, False)
        if not isinstance(value, bool):
            raise self._wrong(key, "true or false")
        return value

    def whole(self, key: str) -> int | None:
        """Return a whole number, such as a year or minutes."""
        value = self.table.get(key)
        if value is None or (isinstance(value, int) and not isinstance(value, bool)):
            return value
        raise self._wrong(key, "a whole number")

    def exact(self, key: str) -> Decimal | None:
        """Return a number written in quotes, so that its digits stay exact."""
        value = self.table.get(key)
        if value is None:
            return None
        try:
            return Decimal(self.text(key))
        except InvalidOperation as error:
            raise self._wrong(key, "a number in quotes") from error

    def spot(self, key: str) -> float:
        """Return a coordinate in a picture, 0 to 1."""
        value = self.table.get(key)
        if not isinstance(value, float):
            raise self._wrong(key, "a number from 0.0 to 1.0")
        return value

    def day(self, key: str) -> dt.date | None:
        """Return a date."""
        value = self.table.get(key)
        if value is None or (isinstance(value, dt.date) and not isinstance(value, dt.datetime)):
            return value
        raise self._wrong(key, "a date such as 2026-01-31")

    def entries(self, key: str) -> tuple[Entry, ...]:
        """Return the tables of a key, in their order."""
        value = self.table.get(key, [])
        if isinstance(value, list) and all(isinstance(item, dict) for item in value):
            return tuple(Entry(file=self.file, table=item) for item in value)
        raise self._wrong(key, f"tables, each beginning with [[{key}]]")

    def pairs(self, key: str) -> tuple[tuple[str, str], ...]:
        """Return a list of pairs of texts."""
        value = self.table.get(key, [])
        if isinstance(value, list) and all(_is_pair(item) for item in value):
            return tuple((first, second) for first, second in value)
        raise self._wrong(key, "a list of two names each")

    def named(self, key: str) -> Mapping[str, Entry]:
        """Return a table of tables; a plain text stands for a table with that `status`."""
        value = self.table.get(key, {})
        if not isinstance(value, dict):
            raise self._wrong(key, f"a table that begins with [{key}]")
        tables = {
            name: {"status": item} if isinstance(item, str) else item
            for name, item in value.items()
        }
        return {name: Entry(file=self.file, table=table) for name, table in tables.items()}

    def _wrong(self, key: str, wanted: str) -> FileError:
        return FileError(
            f"{self.file.name} cannot be used: “{key}” is {self.table.get(key)!r}.",
            remedy=f"Write {wanted} there.",
            subject=str(self.file),
        )


def read_entry(file: Path) -> Entry:
    """Return a TOML file's top table; raise FileError if it is missing or not TOML."""
    try:
        return Entry(file=file, table=tomllib.loads(file.read_text("utf-8")))
    except (OSError, ValueError) as error:
        raise FileError(
            f"{file.name} cannot be read: {error}.",
            remedy="Install the program again, or correct the file there.",
            subject=str(file),
        ) from error


def _is_pair(item: object) -> bool:
    return isinstance(item, list) and [type(word) for word in item] == [str, str]
