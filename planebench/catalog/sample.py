"""Builds the sample catalog from its source files, with the verbs that a person would use."""

from __future__ import annotations

import datetime as dt
import shutil
from collections.abc import Iterator
from pathlib import Path

from planebench.catalog.catalog import Catalog
from planebench.catalog.ids import ToolId
from planebench.catalog.own_tables import TYPE_STUDY
from planebench.catalog.sample_source import Entry, read_entry
from planebench.catalog.sample_tool import SampleEvent, SampleTool, day_of, events_of
from planebench.catalog.settings import CatalogSettings
from planebench.catalog.tools import NewTool
from planebench.errors import CatalogError

SAMPLE_NAME = "Sample, Wendholm workshop"
_EVENING = dt.time(18, 0, tzinfo=dt.UTC)
_MINUTE = dt.timedelta(minutes=1)


class _Clock:
    """The clock of the sample: the time at which something is said to be recorded."""

    def __init__(self, day: dt.date) -> None:
        self._now = dt.datetime.combine(day, _EVENING)

    def __call__(self) -> dt.datetime:
        return self._now

    def turn_to(self, day: dt.date) -> None:
        """Move to a day's evening, or a minute on if it is evening already."""
        evening = dt.datetime.combine(day, _EVENING)
        self._now = evening if evening > self._now else self._now + _MINUTE


def make_sample(folder: Path, *, source: Path, cache: Path | None = None) -> int:
    """Build the sample catalog in a folder that is empty or not there; return the number of tools.

    It is built next to the folder and moved there when complete; `cache` is where thumbnails of its
    photographs are stored, by default the system's cache folder. Raise CatalogError if something is
    there already, FileError if the sample's own files are damaged.
    """
    if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
        raise CatalogError(
            f"{folder.name} already exists and is not an empty folder.",
            remedy="Choose another name. Nothing was changed.",
            subject=str(folder),
        )
    # A catalog is named after its folder, so the unfinished one already has the right name.
    workspace = folder.with_name(f".{folder.name}.unfinished")
    unfinished = workspace / folder.name
    shutil.rmtree(workspace, ignore_errors=True)
    try:
        tools = _build(unfinished, source, cache)
        if folder.exists():
            folder.rmdir()
        unfinished.rename(folder)
    finally:
        shutil.rmtree(workspace, ignore_errors=True)
    return tools


def _build(folder: Path, source: Path, cache: Path | None) -> int:
    shop = read_entry(source / "workshop.toml")
    batches = [read_entry(source / "batches" / f"{code}.toml") for code in shop.texts("batches")]
    clock = _Clock(day_of(batches[0], "bought_on"))
    catalog = Catalog.make(folder, who=shop.text("owner"), clock=clock, cache=cache)
    try:
        _write_settings(catalog, shop)
        _add_type_studies(catalog, source / "type_studies")
        tools = [
            tool
            for batch in batches
            for tool in _add_batch(catalog, batch, source / "photographs", shop.text("currency"))
        ]
        events = [event for tool in tools for event in events_of(tool)]
        for event in sorted(events, key=_when):
            clock.turn_to(event.day)
            event.record()
    finally:
        catalog.close()
    return len(tools)


def _when(event: SampleEvent) -> dt.date:
    return event.day


def _write_settings(catalog: Catalog, shop: Entry) -> None:
    catalog.settings.write(
        CatalogSettings(
            workshop=shop.text("name"),
            person=shop.text("owner"),
            address=", ".join(shop.texts("address")),
            contact=shop.text("contact"),
            guarantee=shop.text("promise"),
            currency=shop.text("currency"),
        )
    )


def _add_type_studies(catalog: Catalog, folder: Path) -> None:
    for file in sorted(folder.glob("*.csv")):
        catalog.own_tables.add(TYPE_STUDY, file.read_text("utf-8"))


def _add_batch(
    catalog: Catalog, entry: Entry, pictures: Path, currency: str
) -> Iterator[SampleTool]:
    """Add a batch and its tools, one line each."""
    batch = catalog.batches.add(
        code=entry.text("code"),
        title=entry.text("title"),
        bought_on=entry.day("bought_on"),
        bought_from=entry.text("bought_from"),
        price=entry.exact("price"),
        premium=entry.exact("premium"),
        carriage=entry.exact("carriage"),
        currency=currency,
        note=entry.text("note"),
    )
    tools = entry.entries("tools")
    ids, _ = catalog.tools.add_lines(batch.id, [_line(tool) for tool in tools])
    for tool, tool_id in zip(tools, ids, strict=True):
        yield SampleTool(
            catalog=catalog, tool=ToolId(tool_id), entry=tool, pictures=pictures, currency=currency
        )


def _line(tool: Entry) -> NewTool:
    return NewTool(
        kind=tool.text("kind"),
        maker=tool.text("maker"),
        model=tool.text("model"),
        size=tool.text("size"),
        note=tool.text("note"),
        stock_number=tool.text("stock"),
    )
