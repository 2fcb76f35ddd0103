"""Makes tools for unknown numbers on cards and files the photographs that wait for them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from planebench.catalog.catalog import Catalog
from planebench.catalog.ids import new_id
from planebench.catalog.intake_filing import Filed, after_intake
from planebench.catalog.intake_values import Destination, FileOutcome
from planebench.errors import CatalogError


def make_tools(
    catalog: Catalog, outcomes: Sequence[FileOutcome], *, to: Destination, kind: str
) -> Filed:
    """Make a tool for each unknown number of an intake and file its photographs anew, as one step.

    Without a batch the tools go into the newest one. Raises CatalogError when there is none.
    """
    batch = to.batch
    if batch is None:
        newest = catalog.batches.lines()
        if not newest:
            raise CatalogError(
                "There is no batch for these tools yet.",
                remedy="Write down the purchase first; their photographs wait here.",
                subject="batch",
            )
        batch = newest[0].batch.id
    wanted = replace(to, batch=batch, make_tools=kind)
    return after_intake(catalog, outcomes, run=new_id(), to=wanted)
