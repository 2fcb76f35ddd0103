"""Makes tools for unknown numbers on cards and files the photographs that wait for them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from planebench.catalog.catalog import Catalog
from planebench.catalog.import_batch import batch_for
from planebench.catalog.import_filing import Filed, after_intake
from planebench.catalog.import_values import Destination, FileOutcome


@dataclass(frozen=True, slots=True, kw_only=True)
class Making:
    """Which tools are made, as edits of which run: of a kind, for numbers that no tool has."""

    run: str
    kind: str
    stocks: Sequence[str]


def make_tools(
    catalog: Catalog, outcomes: Sequence[FileOutcome], *, to: Destination, making: Making
) -> Filed:
    """Make tools of these unknown numbers and file the photographs of an intake anew, as one step.

    Without a batch the tools go into the one that their numbers speak of. Without numbers the
    photographs are filed under the tools that are there.
    """
    batch = to.batch
    if batch is None and making.stocks:
        batch = batch_for(catalog, making.stocks, run=making.run)
    wanted = replace(to, batch=batch, make_tools=making.kind)
    return after_intake(catalog, outcomes, run=making.run, to=wanted, first=False)
