"""Fills the tools' worked-out columns anew after the rules or words behind them have changed."""

from __future__ import annotations

from sqlalchemy import select

from planebench.catalog.store import Store
from planebench.catalog.summary import summarize
from planebench.catalog.tables import CatalogInfoRow, ToolRow

SUMMARY_VERSION = 1
"""To be raised with every change of what a tool's line, filters or search words say, so that
catalogs written before it do not go on showing the old words until each tool is next edited."""


def fill_summaries(store: Store) -> None:
    """Bring every tool's worked-out columns up to date, once for each version of the rules.

    They are no part of the record, so that the history does not tell of it.
    """
    with store.read() as session:
        if session.scalars(select(CatalogInfoRow.summary_version)).first() == SUMMARY_VERSION:
            return
    with store.edit("summaries") as edit:
        summarize(edit.session, set(edit.session.scalars(select(ToolRow.id))))
        for info in edit.session.scalars(select(CatalogInfoRow)):
            info.summary_version = SUMMARY_VERSION
