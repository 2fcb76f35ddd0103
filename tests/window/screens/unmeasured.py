"""A tool of the sample as it was before anything was measured on its photographs."""

from __future__ import annotations

from planebench.catalog.catalog import Catalog
from planebench.catalog.ids import ToolId


def forget_readings(catalog: Catalog, tool: ToolId) -> None:
    """Delete the readings of a tool and the outlines on its photographs."""
    record = catalog.tools.one(tool)
    for reading in record.readings:
        catalog.readings.bin(reading.id)
    for photograph in record.photographs:
        for outline in catalog.photographs.outlines(photograph.id):
            catalog.outlines.bin(outline.id)
