"""The alignment of a pair of photographs: computed, stored with the pair, used to carry over."""

from __future__ import annotations

import json
import os
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass, replace
from pathlib import Path
from threading import get_ident

import numpy as np
from numpy.typing import NDArray

from planebench.catalog.catalog import Catalog
from planebench.catalog.changes import Changes
from planebench.catalog.ids import PairId
from planebench.catalog.values import Json, Pair, Photograph
from planebench.errors import InputError
from planebench.photo.align import Alignment, AlignmentQuality, align_prepared, prepare_photo
from planebench.photo.homography import fit_affine, fit_homography, transform
from planebench.photo.warp import FrameSize, Warp

Points = NDArray[np.float64]
StepReport = Callable[[int, int, str], object]
"""Called between steps with how many are done, of how many, and what is done next."""

# The warp is smooth: 32 nodes along the longer side store it well below a pixel of error, in a few
# kilobytes of JSON.
_NODES = 32
_STEPS = 3
# Three points fix an affine map.
_FEWEST_POINTS = 3
# Clicks that shrink one photograph to under a hundredth of its area were mixed up.
_LEAST_AREA = 0.01
# Part of the cached file's name: a change of how photographs are aligned makes it 2.
_CACHE_VERSION = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class PairAlignment:
    """The alignment of a photograph before the work with one after, in upright pixels.

    `inliers` of `feature_count` features match; `median_error_px` is in pixels after. `nudge` is
    (x, y) in pixels after, as a person moved it. With `by_points` it rests on
    points that a person clicked.
    """

    warp: Warp
    inliers: int
    feature_count: int
    median_error_px: float
    quality: AlignmentQuality
    nudge: tuple[float, float] = (0.0, 0.0)
    by_points: bool = False

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
            "by_points": self.by_points,
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
        by_points=bool(data.get("by_points")),
    )


def _either(data: Json, name: str, earlier: str) -> object:
    """Return a value by its name, or by the name that earlier versions stored it under."""
    return data[name] if name in data else data[earlier]


def describe_alignment(alignment: PairAlignment, after: Photograph) -> str:
    """Return the quality and the typical error: "Alignment good, typical error 0.5 mm"."""
    if alignment.quality is AlignmentQuality.NONE:
        return "The two photographs could not be aligned"
    if alignment.by_points:
        return f"Aligned by hand on {alignment.inliers} points"
    mm_per_px = (after.scale or {}).get("mm_per_px")
    error = alignment.median_error_px
    size = f"{error:.1f} pixels"
    if isinstance(mm_per_px, int | float):
        size = f"{error * mm_per_px:.1f} mm"
    return f"Alignment {alignment.quality.value}, typical error {size}"


def align_photographs(
    catalog: Catalog, before: Photograph, after: Photograph, report: StepReport
) -> PairAlignment:
    """Align two photographs; takes a second or two. Raises FileError or MeasureError.

    The result is cached beside the small pictures: looking at a pair is no edit of the catalog.
    """
    path = _cache_path(catalog, before, after)
    known = _cached(path)
    if known is not None:
        return known
    report(0, _STEPS, "Reading the two photographs")
    first = prepare_photo(catalog.pictures.full(before), "before")
    report(1, _STEPS, "Reading the two photographs")
    second = prepare_photo(catalog.pictures.full(after), "after")
    report(2, _STEPS, "Aligning the two photographs")
    alignment = _compact(align_prepared(first, second), before)
    _cache(path, alignment)
    return alignment


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


def align_by_points(before: Photograph, source: Points, target: Points) -> PairAlignment:
    """Return the alignment that maps clicked points, N x 2 in pixels before, to those after.

    Three points give an affine map, four and more a homography. Raises InputError if there are
    fewer, or if the points lie on a line.
    """
    fits = len(source) == len(target) >= _FEWEST_POINTS
    fit = fit_affine if len(source) == _FEWEST_POINTS else fit_homography
    matrix = fit(source, target) if fits else None
    if matrix is None or not _is_usable(matrix):
        raise InputError(
            "These points do not align the two photographs.",
            remedy="Click three or four points spread over the tool, in the same order on both.",
            subject="points",
        )
    step = float(max(before.width, before.height))
    errors = np.linalg.norm(transform(matrix, source) - target, axis=1)
    return PairAlignment(
        warp=Warp(matrix=matrix, shifts=np.zeros((2, 2, 2)), step=step),
        inliers=len(source),
        feature_count=len(source),
        median_error_px=float(np.median(errors)),
        quality=AlignmentQuality.WEAK,
        by_points=True,
    )


def _is_usable(matrix: NDArray[np.float64]) -> bool:
    """Return whether a map neither mirrors nor flattens: then the clicks were mixed up."""
    return bool(np.linalg.det(matrix[:2, :2]) > _LEAST_AREA)


def pair_alignment(catalog: Catalog, pair: Pair, report: StepReport) -> PairAlignment:
    """Return a pair's alignment: as a person set it, else as computed. Changes no record."""
    stored = alignment_from_json(pair.alignment)
    if stored is not None:
        return stored
    photographs = catalog.photographs.some((pair.before, pair.after))
    return align_photographs(catalog, photographs[pair.before], photographs[pair.after], report)


def save_alignment(catalog: Catalog, pair: PairId, alignment: PairAlignment) -> Changes:
    """Store the alignment of a pair that a person set or nudged."""
    return catalog.pairs.set_alignment(pair, alignment.to_json())


def _cached(path: Path) -> PairAlignment | None:
    try:
        return alignment_from_json(json.loads(path.read_text("utf-8")))
    except (OSError, ValueError):
        return None


def _cache(path: Path, alignment: PairAlignment) -> None:
    """Keep a computed alignment; where that fails it is computed again the next time."""
    part = path.with_name(f"{path.name}.{os.getpid()}-{get_ident()}.part")
    with suppress(OSError):
        path.parent.mkdir(parents=True, exist_ok=True)
        part.write_text(json.dumps(alignment.to_json()), "utf-8")
        part.replace(path)


def _cache_path(catalog: Catalog, before: Photograph, after: Photograph) -> Path:
    name = f"{before.sha256[:32]}-{after.sha256[:32]}-{_CACHE_VERSION}.json"
    return catalog.pictures.folder / "alignments" / name


def _floats(value: object) -> NDArray[np.float64]:
    return np.array(value, dtype=np.float64)
