"""Dated copies of the database in the catalog's own folder, and the rule by which they are kept."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Callable, Collection, Iterable
from pathlib import Path

from sqlalchemy import func, select

from planebench.catalog import sqlite
from planebench.catalog.opening import DATABASE
from planebench.catalog.store import Store
from planebench.catalog.tables import EditRow

ALL_OF_DAYS, WEEKS, MONTHS = 7, 8, 12
_NAME = re.compile(r"(\d{4}-\d\d-\d\d-\d{6})\.db")
_FORM = "%Y-%m-%d-%H%M%S"
_DAY = dt.timedelta(days=1)


def back_up_if_due(store: Store) -> Path | None:
    """Copy the database if the last copy is over a day old and something was written since.

    Then delete the copies that the rule does not keep. Return the new copy. Raises CatalogError when
    the disk cannot be written; then no copy was deleted.
    """
    folder = store.folder / "backups"
    now = store.clock()
    kept = dated_backups(folder)
    last = max(kept, default=None)
    if not _changed_since(store, last, now) or (last is not None and _wall(now) - last < _DAY):
        return None
    folder.mkdir(exist_ok=True)
    made = folder / f"{now:{_FORM}}.db"
    sqlite.snapshot(store.folder / DATABASE, made)
    kept[_wall(now)] = made
    for at in kept.keys() - to_keep(kept, _wall(now)):
        kept[at].unlink(missing_ok=True)
    return made


def dated_backups(folder: Path) -> dict[dt.datetime, Path]:
    """Return a folder's dated copies by the wall clock's time in their names."""
    if not folder.is_dir():
        return {}
    named = ((_NAME.fullmatch(path.name), path) for path in folder.iterdir())
    return {
        # The wall clock of the machine that wrote it, as people read it in the name.
        dt.datetime.strptime(match[1], _FORM): path  # noqa: DTZ007 -- compared with wall clocks only
        for match, path in named
        if match is not None
    }


def to_keep(times: Collection[dt.datetime], now: dt.datetime) -> frozenset[dt.datetime]:
    """Choose the copies to keep, all times by one wall clock.

    All of the last 7 days, the last of each of the last 8 calendar weeks (ISO 8601), the last of
    each of the last 12 calendar months, and the newest in any case.
    """
    recent = {at for at in times if now - at < ALL_OF_DAYS * _DAY}
    weekly = _last_of_each((at for at in times if _weeks_back(at, now) < WEEKS), _week)
    monthly = _last_of_each((at for at in times if _months_back(at, now) < MONTHS), _month)
    newest = {max(times)} if times else set()
    return frozenset(recent | weekly | monthly | newest)


def _last_of_each(
    times: Iterable[dt.datetime], period: Callable[[dt.datetime], object]
) -> set[dt.datetime]:
    last: dict[object, dt.datetime] = {}
    for at in times:
        last[period(at)] = max(at, last.get(period(at), at))
    return set(last.values())


def _week(at: dt.datetime) -> object:
    return at.isocalendar()[:2]


def _month(at: dt.datetime) -> object:
    return at.year, at.month


def _weeks_back(at: dt.datetime, now: dt.datetime) -> int:
    monday = now.date() - dt.timedelta(days=now.weekday())
    return (monday - (at.date() - dt.timedelta(days=at.weekday()))).days // 7


def _months_back(at: dt.datetime, now: dt.datetime) -> int:
    return 12 * (now.year - at.year) + now.month - at.month


def _wall(at: dt.datetime) -> dt.datetime:
    return at.replace(tzinfo=None, microsecond=0)


def _changed_since(store: Store, last: dt.datetime | None, now: dt.datetime) -> bool:
    with store.read() as session:
        newest = session.execute(select(func.max(EditRow.at))).scalar()
    if newest is None:
        return False
    return last is None or _wall(newest.astimezone(now.tzinfo)) >= last
