"""planebench coverage: how much of a finish is kept inside an outline on a photograph."""

from __future__ import annotations

import json
from argparse import ArgumentParser, Namespace
from collections.abc import Callable
from decimal import Decimal
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from planebench.catalog.rating_tables import load_rating_tables
from planebench.catalog.reference import resources_folder
from planebench.cli.command import Command, CommandAnswer
from planebench.errors import FileError
from planebench.photo.coverage import (
    CoverageReading,
    Finish,
    Judge,
    Span,
    Strokes,
    overlay,
    strokes_from_json,
)
from planebench.photo.decode import open_upright
from planebench.photo.outline import outline_from_json
from planebench.trade.ratings import rate

_ENDS: tuple[tuple[str, Callable[[Span], float]], ...] = (
    ("", lambda span: span.share),
    ("_low", lambda span: span.low),
    ("_high", lambda span: span.high),
)


def _arguments(parser: ArgumentParser) -> None:
    parser.add_argument("photo", type=Path, help="the photograph")
    parser.add_argument(
        "--outline",
        type=Path,
        required=True,
        metavar="FILE",
        help='the outline of the surface, a file with {"polygons": [{"outer": [[x, y], ...], '
        '"holes": []}]} in pixels of the photograph as it stands upright',
    )
    parser.add_argument(
        "--strokes",
        type=Path,
        metavar="FILE",
        help='what you say yourself, a file with {"kept": [{"points": [[x, y], ...], '
        '"radius": 12}], "lost": [], "cannot_tell": []}; on bare iron "bright", "rust" and '
        '"patina"; "whole": "rust" says it of the whole outline',
    )
    parser.add_argument(
        "--second-light", type=Path, help="the same view photographed under another light"
    )
    parser.add_argument("--finish", choices=[f.value for f in Finish], required=True)
    parser.add_argument("--overlay", type=Path, help="write the photograph, hatched, to this PNG")
    parser.add_argument(
        "--map",
        type=Path,
        help="write 0 outside, 1 kept or bright, 2 lost or rust, 3 can’t tell, 4 patina to a PNG",
    )


def _run(args: Namespace) -> CommandAnswer:
    outline = outline_from_json(_json(args.outline))
    strokes = Strokes() if args.strokes is None else strokes_from_json(_json(args.strokes))
    image = open_upright(args.photo)
    second = None if args.second_light is None else open_upright(args.second_light)
    finish = Finish(args.finish)
    judging = Judge(resources_folder() / "judge").open(image, outline, finish, second)
    reading = judging.read(strokes)
    judged = judging.map()
    if args.map is not None:
        _write(judged, args.map)
    if args.overlay is not None:
        _write(overlay(image, judged), args.overlay)
    return _answer(reading, judged, finish)


def _answer(reading: CoverageReading, judged: NDArray[np.uint8], finish: Finish) -> CommandAnswer:
    kept, lost, unsure, patina = (int(np.count_nonzero(judged == one)) for one in (1, 2, 3, 4))
    ratings = _ratings(reading, finish)
    data: dict[str, object] = {
        "share": _rounded(reading.share),
        "low": _rounded(reading.low),
        "high": _rounded(reading.high),
        "kept_px": kept,
        "lost_px": lost,
        "cannot_tell_px": unsure,
        "causes": {
            "cannot_tell": _rounded(reading.causes.cannot_tell),
            "outline": _rounded(reading.causes.outline),
            "judging": _rounded(reading.causes.judging),
        },
        "ratings": ratings,
        "advice": reading.advice,
        "asks_whole": reading.asks_whole,
    }
    if finish.is_iron:
        data |= {**_spans(reading), "patina_px": patina}
    if reading.why_unmeasurable is not None:
        data["why"] = reading.why_unmeasurable
        lines = (reading.why_unmeasurable, reading.advice)
        return CommandAnswer(data=data, lines=lines)
    return CommandAnswer(
        data=data, lines=(*_lines(reading, finish), *_told(ratings), reading.advice)
    )


def _spans(reading: CoverageReading) -> dict[str, object]:
    """Return the shares of bright iron and patina with their intervals, by name."""
    return {
        f"{name}{end}": None if span is None else _rounded(value(span))
        for name, span in (("bright", reading.bright), ("patina", reading.patina))
        for end, value in _ENDS
    }


def _lines(reading: CoverageReading, finish: Finish) -> tuple[str, ...]:
    share, low, high = (100 * float(v or 0) for v in (reading.share, reading.low, reading.high))
    word = "rusted" if finish.is_iron else "kept"
    said = (f"{finish.value.capitalize()}: {share:.1f}% {word} ({low:.0f} to {high:.0f}).",)
    spans = (("bright", reading.bright), ("patina", reading.patina))
    more = (
        f"{name.capitalize()}: {100 * s.share:.1f}% ({100 * s.low:.0f} to {100 * s.high:.0f})."
        for name, s in spans
        if s is not None
    )
    return (*said, *more)


def _told(ratings: dict[str, object]) -> tuple[str, ...]:
    return tuple(f"{standard}: {grade}" for standard, grade in ratings.items())


def _ratings(reading: CoverageReading, finish: Finish) -> dict[str, object]:
    if reading.share is None:
        return {}
    lost = reading.share if finish.is_iron else 1 - reading.share
    tables = load_rating_tables(resources_folder() / "ratings")
    percent = Decimal(str(round(100 * lost, 4)))
    return {r.standard: r.said for r in rate(finish.value, percent, tables)}


def _rounded(share: float | None) -> float | None:
    return None if share is None else round(share, 4)


def _json(path: Path) -> object:
    try:
        data: object = json.loads(path.read_text(encoding="utf-8"))
    except OSError as error:
        raise FileError(
            f"The file {path.name} cannot be read.",
            remedy="Check that it is there and may be read.",
            subject=str(path),
        ) from error
    except (ValueError, RecursionError) as error:
        raise FileError(
            f"The file {path.name} is not JSON.",
            remedy="Write the outline or the strokes as the help of this command says.",
            subject=str(path),
        ) from error
    return data


def _write(pixels: NDArray[np.uint8], path: Path) -> None:
    try:
        Image.fromarray(pixels).save(path, format="PNG")
    except OSError as error:
        raise FileError(
            f"The picture {path.name} cannot be written.",
            remedy="Choose a folder that exists and may be written to.",
            subject=str(path),
        ) from error


COMMAND = Command(
    name="coverage",
    summary="measure how much finish is kept, or how much iron is rusted, inside an outline",
    arguments=_arguments,
    run=_run,
)
