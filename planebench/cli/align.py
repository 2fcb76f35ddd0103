"""planebench align: align a photograph taken before the work with one taken after."""

from __future__ import annotations

import json
from argparse import ArgumentParser, Namespace
from pathlib import Path

import numpy as np

from planebench.cli.command import Command, CommandAnswer
from planebench.errors import FileError, InputError
from planebench.photo.align import Alignment, AlignmentQuality, align
from planebench.photo.decode import open_upright
from planebench.photo.outline import (
    PixelOutline,
    Polygon,
    Ring,
    check_outline,
    outline_from_json,
    outline_to_json,
)

_QUALITY_WORDS = {
    AlignmentQuality.GOOD: "Alignment good.",
    AlignmentQuality.WEAK: "Alignment weak. Check the outline before using it.",
    AlignmentQuality.NONE: "No alignment. These may be two different planes, or different views "
    "of one; "
    "do not rely on the outline.",
}


def _arguments(parser: ArgumentParser) -> None:
    parser.add_argument("before", type=Path, help="the photograph taken before the work")
    parser.add_argument(
        "after", type=Path, help="the photograph of the same view taken after the work"
    )
    parser.add_argument(
        "--outline",
        type=Path,
        help="an outline on the first photograph, to carry over to the second",
    )


def _run(args: Namespace) -> CommandAnswer:
    before, after = open_upright(args.before), open_upright(args.after)
    outline = None if args.outline is None else _read(args.outline)
    if outline is not None:
        check_outline(outline, (before.shape[1], before.shape[0]))
    alignment = align(before, after)
    data: dict[str, object] = {
        "matrix": alignment.matrix.tolist(),
        "inliers": alignment.inliers,
        "median_error_px": round(alignment.median_error_px, 2),
        "trust": alignment.quality.value,
    }
    if outline is not None:
        data["outline"] = outline_to_json(_carried(alignment, outline))
    return CommandAnswer(data=data, lines=_lines(alignment))


def _lines(alignment: Alignment) -> tuple[str, ...]:
    return (
        (
            f"{alignment.inliers} matching points, "
            f"typical error {alignment.median_error_px:.1f} pixels."
        ),
        _QUALITY_WORDS[alignment.quality],
    )


def _carried(alignment: Alignment, outline: PixelOutline) -> PixelOutline:
    """Carry each point by itself, so that a point moved by hand before is the same one after."""

    def over(ring: Ring) -> Ring:
        return tuple((float(x), float(y)) for x, y in np.round(alignment.carry(np.array(ring)), 2))

    return PixelOutline(
        polygons=tuple(
            Polygon(outer=over(polygon.outer), holes=tuple(map(over, polygon.holes)))
            for polygon in outline.polygons
        )
    )


def _read(path: Path) -> PixelOutline:
    try:
        data = json.loads(path.read_text(encoding="utf-8"))
    except OSError as error:
        raise FileError(
            f"The outline {path.name} cannot be read.",
            remedy="Check that the file is there and that you may read it.",
            subject=str(path),
        ) from error
    except ValueError as error:
        raise InputError(
            f"The outline {path.name} is not JSON.",
            remedy='Write {"polygons": [{"outer": [[x, y], ...], "holes": []}]}.',
            subject=str(path),
        ) from error
    return outline_from_json(data)


COMMAND = Command(
    name="align",
    summary="Align a photograph taken before the work with one taken after; carry an outline over.",
    arguments=_arguments,
    run=_run,
)
