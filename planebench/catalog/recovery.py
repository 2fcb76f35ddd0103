"""Puts the originals in order after a crash: half-written files go, whole ones are recorded."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import islice
from pathlib import Path

from sqlalchemy import select

from planebench.catalog.files import PART_SUFFIX, hash_of_file
from planebench.catalog.import_reader import moment_of
from planebench.catalog.originals import Originals
from planebench.catalog.store import Store
from planebench.catalog.tables import OriginalRow
from planebench.errors import FileError
from planebench.photo.decode import probe

_CHUNK = 200


def reconcile(store: Store, originals: Originals) -> int:
    """Delete files that were half written and record whole ones that no record knows.

    Return how many were recorded. To be done only while nobody else writes in the catalog. A file
    that is not what its name says is left for `check` to report.
    """
    recorded = 0
    unknown = _unknown(store, originals)
    while chunk := list(islice(unknown, _CHUNK)):
        with store.edit("files found") as edit:
            for path in chunk:
                row = _row(path)
                if row is not None:
                    row.stored_at = edit.at
                    edit.session.add(row)
                    recorded += 1
    return recorded


def _unknown(store: Store, originals: Originals) -> Iterator[Path]:
    with store.read() as session:
        known = set(session.scalars(select(OriginalRow.sha256)))
    for path in originals.files():
        if path.suffix == PART_SUFFIX:
            path.unlink(missing_ok=True)
        elif path.stem not in known:
            yield path


def _row(path: Path) -> OriginalRow | None:
    try:
        sha256 = hash_of_file(path)
        facts = probe(path)
    except (OSError, FileError):
        return None
    if sha256 != path.stem or path.parent.name != sha256[:2]:
        return None
    return OriginalRow(
        sha256=sha256,
        suffix=path.suffix,
        size=facts.size_bytes,
        format=facts.format,
        width=facts.width,
        height=facts.height,
        taken_at=moment_of(facts),
        camera=facts.exif.camera,
    )
