"""Makes tools for unknown numbers on cards and files the photographs that wait for them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from planebench.catalog.catalog import Catalog
from planebench.catalog.ids import new_id
from planebench.catalog.intake_batch import batch_for
from planebench.catalog.intake_filing import Filed, after_intake
from planebench.catalog.intake_values import Destination, FileOutcome


def make_tools(
    catalog: Catalog,
    outcomes: Sequence[FileOutcome],
    *,
    to: Destination,
    kind: str,
    stocks: Sequence[str],
) -> Filed:
    """Make tools of these unknown numbers and file the photographs of an intake anew, as one step.

    Without a batch the tools go into the one that their numbers speak of. Without numbers the
    photographs are filed under the tools that are there.
    """
    run = new_id()
    batch = to.batch
    if batch is None and stocks:
        batch = batch_for(catalog, stocks, run=run)
    wanted = replace(to, batch=batch, make_tools=kind)
    return after_intake(catalog, outcomes, run=run, to=wanted)
