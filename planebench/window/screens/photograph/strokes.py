"""Strokes as values, and how they lie in the catalog."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import cv2
import numpy as np

from planebench.catalog.values import Json
from planebench.photo.outline import PixelOutline, Polygon
from planebench.window.pieces.hatching import Hatch
from planebench.window.pieces.photo_layers import Point

KINDS = ("kept", "lost", "cannot_tell")
_OF_RUST = {Hatch.KEPT: "clean", Hatch.LOST: "rusted"}


@dataclass(frozen=True, slots=True, kw_only=True)
class SetStroke:
    """A stroke: what it says (one of KINDS), its points and half its width in pixels."""

    kind: str
    points: tuple[Point, ...]
    radius: float


def judged_word(hatch: Hatch, *, rust: bool) -> str:
    """Return the word for what was judged: of a finish kept and lost, of metal clean and rusted."""
    return _OF_RUST.get(hatch, hatch.value) if rust else hatch.value


def reaches_into(stroke: SetStroke, outline: PixelOutline) -> bool:
    """Return whether any of a stroke lies on what an outline holds, not beside it or in its holes."""
    return any(_reaches(stroke, polygon) for polygon in outline.polygons)


def _reaches(stroke: SetStroke, polygon: Polygon) -> bool:
    outer, *holes = (
        np.array(ring, dtype=np.float32).reshape(-1, 1, 2)
        for ring in (polygon.outer, *polygon.holes)
    )
    for point in stroke.points:
        inside = cv2.pointPolygonTest(outer, point, measureDist=True)
        out_of_holes = [-cv2.pointPolygonTest(hole, point, measureDist=True) for hole in holes]
        if min([inside, *out_of_holes]) > -stroke.radius:
            return True
    return False


def strokes_to_json(strokes: Sequence[SetStroke], *, second_light: str = "") -> Json:
    """Write strokes by kind, each with its number in the order in which they were set.

    `second_light` is the id of the photograph that is judged together with the outline's own.
    """
    written: Json = {"second_light": second_light} if second_light else {}
    for kind in KINDS:
        of_kind = [
            {
                "points": [list(point) for point in stroke.points],
                "radius": stroke.radius,
                "number": number,
            }
            for number, stroke in enumerate(strokes, start=1)
            if stroke.kind == kind
        ]
        if of_kind:
            written[kind] = of_kind
    return written


def strokes_from_json(data: Mapping[str, object]) -> tuple[SetStroke, ...]:
    """Read strokes in the order in which they were set; those without a number come last."""
    found: list[tuple[float, SetStroke]] = []
    for kind in KINDS:
        rows = data.get(kind)
        for row in rows if isinstance(rows, list) else []:
            points = tuple((float(x), float(y)) for x, y in row["points"])
            stroke = SetStroke(kind=kind, points=points, radius=float(row["radius"]))
            found.append((float(row.get("number", "inf")), stroke))
    return tuple(stroke for _, stroke in sorted(found, key=lambda pair: pair[0]))
