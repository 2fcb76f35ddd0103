"""Dated copies of the database in the catalog's own folder, and the rule by which they are kept."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Collection, Iterable
from pathlib import Path

from sqlalchemy import func, select

from planebench.catalog import sqlite
from planebench.catalog.backup_names import NAME_FORM, advice, dated_backups
from planebench.catalog.files import make_folder
from planebench.catalog.opening import DATABASE
from planebench.catalog.store import Store
from planebench.catalog.tables import EditRow
from planebench.errors import CatalogError

ALL_OF_DAYS, WEEKS, MONTHS = 7, 8, 12
FLOOR = 12
MOST_DELETED = 2
"""A clock set years ahead by mistake makes every copy look old. So a run deletes at most two, twice
the one it makes, and never leaves fewer than twelve: by the next day someone has set the clock."""
_DAY = dt.timedelta(days=1)


def back_up_if_due(store: Store) -> Path | None:
    """Copy the database if the last copy is over a day old and something was written since.

    Then delete the copies that the rule does not keep. Return the new copy. Raises CatalogError
    when the disk cannot be written; then no copy was deleted.
    """
    folder = store.folder / "backups"
    at = store.clock()
    now = _wall(at)
    kept = dated_backups(folder)
    newest_edit = _newest_edit(store, at.tzinfo)
    # A copy dated in the future was made by a clock that was wrong: it tells nothing about today.
    last = max((at for at in kept if at <= now + _DAY), default=None)
    if newest_edit is None or not _is_due(last, now, newest_edit):
        return None
    make_folder(folder)
    made = folder / f"{now:{NAME_FORM}}.db"
    sqlite.snapshot(store.folder / DATABASE, made)
    refuse_damaged(made, store.folder)
    kept[now] = made
    if newest_edit <= now + _DAY:
        # By a clock that runs behind the history nothing is thrown away.
        surplus = sorted(kept.keys() - to_keep(kept, now))
        for at in surplus[: min(MOST_DELETED, max(0, len(kept) - FLOOR))]:
            kept[at].unlink(missing_ok=True)
    return made


def refuse_damaged(copy: Path, catalog: Path) -> None:
    """Raise CatalogError, and remove the copy, when a copied database is not sound.

    The error names the newest dated copy made before.
    """
    engine = sqlite.open_database(copy)
    try:
        found = sqlite.integrity_findings(engine)
    finally:
        engine.dispose()
        sqlite.remove_log(copy)
    if not found:
        return
    copy.unlink(missing_ok=True)
    raise CatalogError(
        f"The database of {catalog.name} is damaged, so no backup was made of it: {found[0]}.",
        remedy=advice(catalog),
        subject=str(catalog / DATABASE),
    )


def to_keep(times: Collection[dt.datetime], now: dt.datetime) -> frozenset[dt.datetime]:
    """Choose the copies to keep, all times by one wall clock.

    All of the last 7 days, the last of each of the last 8 calendar weeks (ISO 8601), the last of
    each of the last 12 calendar months, and the newest in any case. Copies dated after `now` stay
    and do not count.
    """
    past = set(filter(now.__ge__, times))
    recent = {at for at in past if now - at < ALL_OF_DAYS * _DAY}
    weekly = _last_of_each((at for at in past if _weeks_back(at, now) < WEEKS), _week)
    monthly = _last_of_each((at for at in past if _months_back(at, now) < MONTHS), _month)
    newest = set(sorted(past)[-1:])
    return frozenset(set(times) - past | recent | weekly | monthly | newest)


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


def _is_due(last: dt.datetime | None, now: dt.datetime, newest_edit: dt.datetime) -> bool:
    """Return whether the last copy is over a day old and something was written since."""
    return last is None or (now - last >= _DAY and newest_edit >= last)


def _newest_edit(store: Store, zone: dt.tzinfo | None) -> dt.datetime | None:
    """Return the wall clock's time of the latest edit, None when there is none."""
    with store.read() as session:
        newest = session.execute(select(func.max(EditRow.at))).scalar()
    return None if newest is None else _wall(newest.astimezone(zone))
