"""The standards' grades of a share, in words; the tables are read once."""

from __future__ import annotations

from functools import cache

from planebench.catalog.measuring import RUST
from planebench.catalog.rating_tables import load_rating_tables
from planebench.catalog.reference import resources_folder
from planebench.trade.ratings import RatingTables, rate_share
from planebench.trade.shares import Share


def rating_words(finish: str, share: Share) -> str:
    """Say the grades that fit a finish: "ISO 10289: 5/- (7/- to 4/-)"; empty where none fits.

    `share` is the one kept, or with finish "rust" the one rusted. Raises FileError for a damaged
    table.
    """
    lost = share if finish == RUST else share.rest
    said = [
        f"{one.at.standard}: {one.said}" + (" (table from memory)" if one.at.from_memory else "")
        for one in rate_share(finish, lost, _tables())
    ]
    return f"By the standards: {'; '.join(said)}." if said else ""


@cache
def _tables() -> RatingTables:
    return load_rating_tables(resources_folder() / "ratings")
