"""The alignment of a pair of photographs: computed, stored with the pair, used to carry over."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from planebench.catalog.catalog import Catalog
from planebench.catalog.changes import Changes
from planebench.catalog.ids import PairId
from planebench.catalog.photographs import PinPosition
from planebench.catalog.values import Json, Outline, Pair, Photograph
from planebench.photo.align import Alignment, AlignmentQuality, align_prepared, prepare_photo
from planebench.photo.outline import PixelOutline, Polygon, outline_from_json, outline_to_json
from planebench.photo.warp import FrameSize, Warp

Points = NDArray[np.float64]
StepReport = Callable[[int, int, str], object]
"""Called between steps with how many are done, of how many, and what is done next."""

# The warp is smooth: 32 nodes along the longer side store it well below a pixel of error, in a few
# kilobytes of JSON.
_NODES = 32
_STEPS = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class PairAlignment:
    """The alignment of a photograph before the work with one after, in upright pixels.

    `inliers` of `feature_count` features match; `median_error_px` is in pixels after. `nudge` is
    (x, y) in pixels after, as a person moved it.
    """

    warp: Warp
    inliers: int
    feature_count: int
    median_error_px: float
    quality: AlignmentQuality
    nudge: tuple[float, float] = (0.0, 0.0)

    def carry(self, points: Points) -> Points:
        """Map N x 2 points, in pixels, from the photograph before to the one after."""
        return np.asarray(self.warp.carry(points) + np.array(self.nudge))

    @property
    def matrix(self) -> NDArray[np.float64]:
        """The homography before to after, with the nudge."""
        move = np.array([[1, 0, self.nudge[0]], [0, 1, self.nudge[1]], [0, 0, 1.0]])
        return np.asarray(move @ self.warp.matrix)

    @property
    def nudged_warp(self) -> Warp:
        """The warp before to after, with the nudge."""
        return replace(self.warp, shifts=self.warp.shifts + np.array(self.nudge))

    def nudged(self, x: float, y: float) -> PairAlignment:
        """Return this alignment moved by (x, y) pixels of the photograph after."""
        return replace(self, nudge=(self.nudge[0] + x, self.nudge[1] + y))

    def to_json(self) -> Json:
        """Return what is stored with the pair."""
        return {
            "matrix": self.matrix.tolist(),
            "inliers": self.inliers,
            "feature_count": self.feature_count,
            "median_error_px": round(self.median_error_px, 3),
            "quality": self.quality.value,
            "nudge": list(self.nudge),
            "warp": {
                "matrix": self.warp.matrix.tolist(),
                "shifts": np.round(self.warp.shifts, 2).tolist(),
                "step": self.warp.step,
                "origin": list(self.warp.origin),
            },
        }


def alignment_from_json(data: Json | None) -> PairAlignment | None:
    """Return the stored alignment of a pair; None if there is none or it cannot be parsed."""
    if not data:
        return None
    try:
        return _parse(data)
    except (KeyError, TypeError, ValueError):
        return None


def _parse(data: Json) -> PairAlignment:
    kept = data["warp"]
    if not isinstance(kept, dict):
        raise TypeError
    nudge, origin = _floats(data["nudge"]), _floats(kept["origin"])
    return PairAlignment(
        warp=Warp(
            matrix=_floats(kept["matrix"]),
            shifts=_floats(kept["shifts"]),
            step=float(kept["step"]),
            origin=(float(origin[0]), float(origin[1])),
        ),
        inliers=int(str(data["inliers"])),
        feature_count=int(str(_either(data, "feature_count", "looked_for"))),
        median_error_px=float(str(data["median_error_px"])),
        quality=AlignmentQuality(str(_either(data, "quality", "trust"))),
        nudge=(float(nudge[0]), float(nudge[1])),
    )


def _either(data: Json, name: str, earlier: str) -> object:
    """Return a value by its name, or by the name that earlier versions stored it under."""
    return data[name] if name in data else data[earlier]


def describe_alignment(alignment: PairAlignment, after: Photograph) -> str:
    """Return the quality and the typical error: "Alignment good, typical error 0.5 mm"."""
    if alignment.quality is AlignmentQuality.NONE:
        return "The two photographs could not be aligned"
    mm_per_px = (after.scale or {}).get("mm_per_px")
    error = alignment.median_error_px
    size = f"{error:.1f} pixels"
    if isinstance(mm_per_px, int | float):
        size = f"{error * mm_per_px:.1f} mm"
    return f"Alignment {alignment.quality.value}, typical error {size}"


def align_photographs(
    catalog: Catalog, before: Photograph, after: Photograph, report: StepReport
) -> PairAlignment:
    """Align two photographs; takes a second or two. Raises FileError or MeasureError."""
    report(0, _STEPS, "Reading the two photographs")
    first = prepare_photo(catalog.pictures.full(before), "before")
    report(1, _STEPS, "Reading the two photographs")
    second = prepare_photo(catalog.pictures.full(after), "after")
    report(2, _STEPS, "Aligning the two photographs")
    return _compact(align_prepared(first, second), before)


def _compact(found: Alignment, before: Photograph) -> PairAlignment:
    """Return the alignment with only as many nodes as the smooth warp needs."""
    step = max(1, max(before.width, before.height) // _NODES)
    frame = FrameSize(left=0, top=0, width=before.width, height=before.height)
    return PairAlignment(
        warp=found.warp.regrid(frame, step),
        inliers=found.inliers,
        feature_count=found.feature_count,
        median_error_px=found.median_error_px,
        quality=found.quality,
    )


def carried(alignment: PairAlignment, polygons: Json, after: Photograph) -> Json:
    """Return an outline's polygons mapped to the photograph after, clipped to its frame."""
    most = np.array([after.width - 1.0, after.height - 1.0])

    def taken(ring: tuple[tuple[float, float], ...]) -> tuple[tuple[float, float], ...]:
        moved = np.clip(alignment.carry(np.array(ring)), 0, most)
        return tuple((float(x), float(y)) for x, y in moved)

    shape = outline_from_json(polygons)
    return outline_to_json(
        PixelOutline(
            polygons=tuple(
                Polygon(outer=taken(p.outer), holes=tuple(taken(hole) for hole in p.holes))
                for p in shape.polygons
            )
        )
    )


def carry_outlines(
    catalog: Catalog, alignment: PairAlignment, outlines: tuple[Outline, ...], after: Photograph
) -> tuple[int, Changes]:
    """Copy outlines to the photograph after where it has none of that surface and finish.

    Returns how many were copied.
    """
    there = {(one.surface, one.finish) for one in catalog.photographs.outlines(after.id)}
    changes, count = Changes(), 0
    for outline in outlines:
        if (outline.surface, outline.finish) in there:
            continue
        polygons = carried(alignment, outline.polygons, after)
        added = catalog.outlines.add(
            after.id, outline.surface, finish=outline.finish, polygons=polygons
        )
        changes, count = changes | added.changes, count + 1
    return count, changes


def carry_pins(
    catalog: Catalog, alignment: PairAlignment, before: Photograph, after: Photograph
) -> tuple[int, Changes]:
    """Copy the pins that the photograph after does not have yet. Returns how many."""
    there = {(pin.defect, pin.evidence) for pin in catalog.photographs.pins(after.id)}
    size = np.array([before.width, before.height])
    size_after = np.array([after.width, after.height])
    changes, count = Changes(), 0
    for pin in catalog.photographs.pins(before.id):
        if (pin.defect, pin.evidence) in there:
            continue
        ends = np.array([[pin.x, pin.y], [pin.balloon_x, pin.balloon_y]]) * size
        (x, y), (balloon_x, balloon_y) = np.clip(alignment.carry(ends) / size_after, 0, 1).tolist()
        spot = PinPosition(x=x, y=y, balloon_x=balloon_x, balloon_y=balloon_y)
        if pin.defect is not None:
            changes |= catalog.pins.add_defect(after.id, pin.defect, spot).changes
        elif pin.evidence is not None:
            changes |= catalog.pins.add_evidence(after.id, pin.evidence, spot).changes
        count += 1
    return count, changes


def pair_alignment(
    catalog: Catalog, pair: Pair, report: StepReport
) -> tuple[PairAlignment, Changes]:
    """Return a pair's alignment; compute and store it if there is none yet."""
    known = alignment_from_json(pair.alignment)
    if known is not None:
        return known, Changes()
    photographs = catalog.photographs.some((pair.before, pair.after))
    alignment = align_photographs(
        catalog, photographs[pair.before], photographs[pair.after], report
    )
    return alignment, save_alignment(catalog, pair.id, alignment)


def save_alignment(catalog: Catalog, pair: PairId, alignment: PairAlignment) -> Changes:
    """Store a pair's alignment."""
    return catalog.pairs.set_alignment(pair, alignment.to_json())


def _floats(value: object) -> NDArray[np.float64]:
    return np.array(value, dtype=np.float64)
