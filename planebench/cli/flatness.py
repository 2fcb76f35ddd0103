"""planebench flatness: work out how flat a sole is from readings in a CSV file."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from collections.abc import Mapping, Sequence
from pathlib import Path

import numpy as np

from planebench.cli.command import Command, CommandAnswer
from planebench.errors import FileError
from planebench.trade.flatness import (
    Flatness,
    FlatnessVerdict,
    SolePoints,
    iron_to_remove,
    judge_flatness,
    measure_flatness,
)
from planebench.trade.flatness_readings import has_gaps, parse_gaps, parse_readings
from planebench.trade.sole_shape import (
    ShapeOfSole,
    mouth_above_line,
    shape_of_sole,
    straightness,
)
from planebench.trade.straightedge import GapReading, SoleHeights, heights_from_gaps

_PLACES = 12
_LEAST_ON_LINE = 3
_VERDICTS = {
    FlatnessVerdict.WITHIN: "within ±{0:g} mm",
    FlatnessVerdict.OUTSIDE: "not within ±{0:g} mm",
    FlatnessVerdict.TOO_CLOSE: "too close to ±{0:g} mm to call",
}


def _arguments(parser: ArgumentParser) -> None:
    parser.add_argument(
        "readings",
        type=Path,
        metavar="READINGS.csv",
        help="columns x_mm, y_mm, z_mm: along the sole, across it, height with the sole up; or "
        "line, x_mm, y_mm, goes_mm, stops_mm: gaps under a straightedge on two equal pads",
    )
    parser.add_argument(
        "--mouth", type=float, metavar="MM", help="where the mouth is, along the sole"
    )
    parser.add_argument(
        "--tolerance", type=float, metavar="MM", help="a tolerance either side of the mean plane"
    )
    parser.add_argument(
        "--step",
        type=float,
        metavar="MM",
        default=0.0,
        help="the step between two leaves of the gauge, or divisions of the dial",
    )


def _run(args: Namespace) -> CommandAnswer:
    text = _text(args.readings)
    gaps = parse_gaps(text) if has_gaps(text) else {}
    found = heights_from_gaps(gaps) if gaps else None
    points = parse_readings(text) if found is None else found.points
    flatness = measure_flatness(points)
    within = flatness.within(args.step)
    shape = shape_of_sole(points, flatness, flat_below_mm=max(within, 1e-9))
    data = _data(flatness, shape) | {"readings": len(points), "within_mm": round(within, _PLACES)}
    lines = _lines(flatness, shape)
    if found is not None:
        data |= _line_data(found, gaps)
        lines += [f"Line {name} disagrees with the others." for name in found.doubtful_lines]
    if args.mouth is not None:
        toe, heel = float(points[:, 0].min()), float(points[:, 0].max())
        above = mouth_above_line(points, toe=toe, mouth=args.mouth, heel=heel)
        data["mouth_above_mm"] = round(above, _PLACES)
        lines.append(f"The mouth stands {above:+.3f} mm from the line between toe and heel.")
    if args.tolerance is not None:
        verdict = judge_flatness(flatness, plus_minus_mm=args.tolerance, within_mm=within)
        off = iron_to_remove(flatness, zone_mm=2 * args.tolerance)
        data |= {"verdict": verdict.value, "to_remove_mm": np.round(off, _PLACES).tolist()}
        lines.append(f"The sole is {_VERDICTS[verdict].format(args.tolerance)}.")
    return CommandAnswer(data=data, lines=tuple(lines))


def _lines(flatness: Flatness, shape: ShapeOfSole) -> list[str]:
    peak, valley = flatness.peak_mm, flatness.valley_mm
    return [
        f"Flatness {flatness.mz_mm:.3f} mm (minimum zone); {shape.shape.value}.",
        f"Least squares: {flatness.ls_mm:.3f} mm, up {peak:.3f}, down {valley:.3f}.",
        f"Twist {shape.twist_mm:+.3f} mm.",
    ]


def _line_data(found: SoleHeights, gaps: Mapping[str, Sequence[GapReading]]) -> dict[str, object]:
    """Return the straightness of each line, and which lines disagree with the others."""
    heights = {(x, y): z for x, y, z in found.points.tolist()}
    lines: dict[str, object] = {}
    for name, readings in gaps.items():
        places = np.array([reading.place for reading in readings])
        along = np.linalg.norm(places - places[0], axis=1)
        up = np.array([heights[reading.place] for reading in readings])
        lines[name] = {
            "straightness_mm": _straightness(along, up),
            "disagreement_mm": round(found.disagreement_mm[name], _PLACES),
        }
    return {"lines": lines, "doubtful_lines": list(found.doubtful_lines)}


def _straightness(along: SolePoints, up: SolePoints) -> float | None:
    """Return the straightness of a line; None under three places, which show no bend."""
    return round(straightness(along, up), _PLACES) if len(along) >= _LEAST_ON_LINE else None


def _text(path: Path) -> str:
    try:
        return path.read_text("utf-8-sig")
    except (OSError, UnicodeDecodeError) as error:
        raise FileError(
            f"{path.name} cannot be read: {error}.",
            remedy="Use the path of a CSV file.",
            subject=str(path),
        ) from error


def _data(flatness: Flatness, shape: ShapeOfSole) -> dict[str, object]:
    return {
        "mz_flatness_mm": round(flatness.mz_mm, _PLACES),
        "ls_flatness_mm": round(flatness.ls_mm, _PLACES),
        "flt_p_mm": round(flatness.peak_mm, _PLACES),
        "flt_v_mm": round(flatness.valley_mm, _PLACES),
        "flt_q_mm": round(flatness.rms_mm, _PLACES),
        "twist_mm": round(shape.twist_mm, _PLACES),
        "rise_along_mm": round(shape.rise_along_mm, _PLACES),
        "rise_across_mm": round(shape.rise_across_mm, _PLACES),
        "shape": shape.shape.value,
    }


COMMAND = Command(
    name="flatness",
    summary="Work out how flat a sole is from readings in a CSV file.",
    arguments=_arguments,
    run=_run,
)
