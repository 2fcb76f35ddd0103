"""Bursts and copies among photographs, the one to keep named first."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from sqlalchemy import select

from planebench.catalog.ids import PhotographId
from planebench.catalog.store import Store
from planebench.catalog.tables import OriginalRow, PhotographRow
from planebench.photo.near_duplicates import Fingerprints, group_near_duplicates

# Beyond so many photographs comparing each with each would take longer than it is worth.
MOST_COMPARED = 20_000
_CHUNK = 200
_ROUGH_DIGITS = 16


def look_alikes(
    store: Store, photographs: Sequence[PhotographId]
) -> tuple[tuple[PhotographId, ...], ...]:
    """Gather those of these photographs that show the same; the best of each group is first.

    The best is the largest, and of equals the sharpest. Lone ones are left out.
    """
    if len(photographs) > MOST_COMPARED:
        return ()
    seen = list(_glimpses(store, photographs))
    return tuple(
        # The best is named first and not again.
        tuple(seen[place][0] for place in dict.fromkeys((group.best, *group.members)))
        for group in group_near_duplicates([glimpse for _, glimpse in seen])
    )


def _glimpses(
    store: Store, photographs: Sequence[PhotographId]
) -> Iterator[tuple[PhotographId, Fingerprints]]:
    with store.read() as session:
        for start in range(0, len(photographs), _CHUNK):
            asked = (
                select(PhotographRow.id, OriginalRow)
                .join(OriginalRow, OriginalRow.sha256 == PhotographRow.sha256)
                .where(PhotographRow.id.in_(photographs[start : start + _CHUNK]))
                .where(OriginalRow.perceptual_hash.is_not(None))
            )
            for photograph, row in session.execute(asked):
                yield PhotographId(photograph), _glimpse(row)


def _glimpse(row: OriginalRow) -> Fingerprints:
    looks = row.perceptual_hash or ""
    return Fingerprints(
        rough=int(looks[:_ROUGH_DIGITS], 16),
        fine=int(looks[_ROUGH_DIGITS:], 16),
        pixels=row.width * row.height,
        sharpness=row.sharpness or 0.0,
        taken_at=row.taken_at,
    )
