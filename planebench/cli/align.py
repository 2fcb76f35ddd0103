"""planebench align: lays a photograph taken before on one taken after, and carries an outline."""

from __future__ import annotations

import json
from argparse import ArgumentParser, Namespace
from pathlib import Path

import numpy as np

from planebench.cli.answer import Answer, Command
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

_TELLS = {
    AlignmentQuality.GOOD: "Trust: good. The two lie well on each other.",
    AlignmentQuality.WEAK: "Trust: weak. Look at the carried outline before using it.",
    AlignmentQuality.NONE: "Trust: none. These may be two different planes, or another view of one; "
    "what was laid on is only a guess.",
}


def _arguments(parser: ArgumentParser) -> None:
    parser.add_argument("before", type=Path, help="the photograph taken before")
    parser.add_argument("after", type=Path, help="the photograph of the same view taken after")
    parser.add_argument("--outline", type=Path, help="an outline on the first, to be carried over")


def _run(args: Namespace) -> Answer:
    before, after = open_upright(args.before), open_upright(args.after)
    outline = None if args.outline is None else _read(args.outline)
    if outline is not None:
        check_outline(outline, (before.shape[1], before.shape[0]))
    laid = align(before, after)
    data: dict[str, object] = {
        "matrix": laid.matrix.tolist(),
        "inliers": laid.inliers,
        "median_error_px": round(laid.median_error_px, 2),
        "trust": laid.quality.value,
    }
    if outline is not None:
        data["outline"] = outline_to_json(_carried(laid, outline))
    return Answer(data=data, lines=_lines(laid))


def _lines(laid: Alignment) -> tuple[str, ...]:
    return (
        (
            f"{laid.inliers} points were found again in both photographs, "
            f"typically within {laid.median_error_px:.1f} pixels."
        ),
        _TELLS[laid.quality],
    )


def _carried(laid: Alignment, outline: PixelOutline) -> PixelOutline:
    """Carry each point by itself, so that a point moved by hand before is the same one after."""

    def over(ring: Ring) -> Ring:
        return tuple((float(x), float(y)) for x, y in np.round(laid.carry(np.array(ring)), 2))

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
            remedy="Check that the file is there and may be read.",
            subject=str(path),
        ) from error
    except ValueError as error:
        raise InputError(
            f"The outline {path.name} is not JSON.",
            remedy='Give {"polygons": [{"outer": [[x, y], ...], "holes": []}]}.',
            subject=str(path),
        ) from error
    return outline_from_json(data)


COMMAND = Command(
    name="align",
    summary="lay a photograph taken before on one taken after, and carry an outline over",
    arguments=_arguments,
    run=_run,
)
