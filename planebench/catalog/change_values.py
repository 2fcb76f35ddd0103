"""Values of columns as the history keeps them: plain JSON from which they can be had again."""

from __future__ import annotations

import datetime as dt
from decimal import Decimal

Plain = dict[str, object]
CATALOG_WIDE = frozenset({"setting", "own_kind", "own_table"})
STAYS = "issued_sheet"
"""A sheet is in a buyer's hands once it is issued: its number and file are not given away again."""


def to_plain(value: object) -> object:
    """Turn a column's value into JSON; dates, instants and exact numbers keep their kind."""
    if isinstance(value, Decimal):
        return {"exact": str(value)}
    if isinstance(value, dt.datetime):
        return {"instant": value.isoformat()}
    if isinstance(value, dt.date):
        return {"day": value.isoformat()}
    return value


def from_plain(value: object) -> object:
    """Undo `to_plain`."""
    if isinstance(value, dict) and len(value) == 1:
        if "exact" in value:
            return Decimal(str(value["exact"]))
        if "instant" in value:
            return dt.datetime.fromisoformat(str(value["instant"]))
        if "day" in value:
            return dt.date.fromisoformat(str(value["day"]))
    return value
