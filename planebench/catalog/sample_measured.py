"""Measures the sample's outlined surfaces with the program's own judge, as a person would."""

from __future__ import annotations

import json
from collections.abc import Mapping
from decimal import Decimal
from functools import cache
from pathlib import Path

from planebench.catalog.catalog import Catalog
from planebench.catalog.ids import PhotographId, ToolId
from planebench.catalog.readings import NewReading
from planebench.catalog.reference import resources_folder
from planebench.catalog.values import Json, ReadingArea, Surface
from planebench.errors import MeasureError
from planebench.photo.coverage import Finish, Judge, Judging
from planebench.photo.coverage_reading import Reading
from planebench.photo.map_rings import rings_of
from planebench.photo.outline import outline_from_json
from planebench.trade.shares import Share
from planebench.trade.terms import Basis

_FINE = Decimal("0.0001")
_LOST, _CANNOT_TELL = 2, 3


def outlines_beside(picture: Path) -> dict[str, Json]:
    """Give the outlines drawn on a picture of the sample by the code of their surface."""
    file = picture.parent.parent / "outlines" / f"{picture.stem}.json"
    return dict(json.loads(file.read_text("utf-8"))) if file.is_file() else {}


def measure(
    catalog: Catalog, tool: ToolId, photograph: PhotographId, outlines: Mapping[str, Json]
) -> None:
    """Draw each outline, let it be judged without a stroke, and write the reading down.

    Raises MeasureError where a share could not be told.
    """
    record = catalog.tools.one(tool)
    taken = catalog.photographs.one(photograph)
    pixels = catalog.pictures.full(taken)
    for surface in record.surfaces:
        if surface.code not in outlines:
            continue
        polygons = outlines[surface.code]
        outline = catalog.outlines.add(
            photograph, surface.id, finish=surface.finish, polygons=polygons
        ).id
        judging = _judge().open(pixels, outline_from_json(polygons), Finish(surface.finish))
        reading = judging.read()
        share = _share(reading, surface)
        area = ReadingArea(
            outline=outline,
            photograph=photograph,
            kept_px=reading.kept_px,
            lost_px=reading.lost_px,
            cannot_tell_px=reading.cannot_tell_px,
            area_mm2=None,
            share=_drawn(judging, share),
        )
        catalog.readings.add(
            NewReading(
                tool=tool,
                surface=surface.id,
                stage=taken.stage,
                share=share,
                method="outlined on one photograph, judged with no stroke",
                areas=(area,),
            )
        )


@cache
def _judge() -> Judge:
    return Judge(resources_folder() / "judge")


def _share(reading: Reading, surface: Surface) -> Share:
    if reading.share is None or reading.low is None or reading.high is None:
        raise MeasureError(
            f"{surface.name} of the sample could not be measured: {reading.why_unmeasurable}.",
            remedy="Get the program anew; the sample's files are damaged.",
            subject=surface.name,
        )
    value, low, high = (
        Decimal(part).quantize(_FINE) for part in (reading.share, reading.low, reading.high)
    )
    return Share(value=value, low=min(low, value), high=max(high, value), basis=Basis.MEASURED)


def _drawn(judging: Judging, share: Share) -> Json:
    """Give what the sheet draws: rings of what was lost and of what could not be told."""
    judged = judging.map()
    whole = int((judged > 0).sum())
    return {
        "value": str(share.value),
        "low": str(share.low),
        "high": str(share.high),
        "lost": rings_of(judged == _LOST, whole),
        "new_finish": [],
        "cannot_tell": rings_of(judged == _CANNOT_TELL, whole),
    }
