"""planebench flatness: work out how flat a sole is from readings in a CSV file."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from pathlib import Path

from planebench.cli.command import Answer, Command
from planebench.errors import FileError
from planebench.trade.flatness import Flatness, FlatnessVerdict, judge_flatness, measure_flatness
from planebench.trade.flatness_readings import parse_readings
from planebench.trade.sole_shape import ShapeOfSole, shape_of_sole

_PLACES = 12
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
        help="columns x_mm, y_mm, z_mm: along the sole, across it, height with the sole up",
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


def _run(args: Namespace) -> Answer:
    points = parse_readings(_text(args.readings))
    flatness = measure_flatness(points)
    within = flatness.within(args.step)
    shape = shape_of_sole(points, flatness, flat_below_mm=max(within, 1e-9))
    data = _data(flatness, shape) | {"readings": len(points), "within_mm": round(within, _PLACES)}
    lines = [
        f"Flatness {flatness.mz_mm:.3f} mm (minimum zone); {shape.shape.value}.",
        f"Least squares: {flatness.ls_mm:.3f} mm, up {flatness.peak_mm:.3f}, down {flatness.valley_mm:.3f}.",
        f"Twist {shape.twist_mm:+.3f} mm.",
    ]
    if args.tolerance is not None:
        verdict = judge_flatness(flatness, plus_minus_mm=args.tolerance, within_mm=within)
        data["verdict"] = verdict.value
        lines.append(f"The sole is {_VERDICTS[verdict].format(args.tolerance)}.")
    return Answer(data=data, lines=tuple(lines))


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
        "shape": shape.shape.value,
    }


COMMAND = Command(
    name="flatness",
    summary="Work out how flat a sole is from readings in a CSV file.",
    arguments=_arguments,
    run=_run,
)
