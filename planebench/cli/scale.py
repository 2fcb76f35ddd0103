"""planebench scale: read the scale card in a photograph."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from pathlib import Path

from planebench.cli.command import Command, CommandAnswer
from planebench.photo.card import CardReading, find_card
from planebench.photo.decode import decode_bytes, probe_bytes, read_bytes


def _arguments(parser: ArgumentParser) -> None:
    parser.add_argument("photograph", type=Path, help="a photograph with a scale card in it")
    parser.add_argument("--stock", help="the stock number that should be on the card")


def _run(args: Namespace) -> CommandAnswer:
    name = str(args.photograph)
    data = read_bytes(args.photograph)
    focal = probe_bytes(data, name=name).focal_px
    reading = find_card(decode_bytes(data, name=name), expected_stock=args.stock, focal_px=focal)
    if reading is None:
        return CommandAnswer(
            data={"card": False}, lines=("There is no scale card in this photograph.",)
        )
    return CommandAnswer(data=_data(reading), lines=_lines(reading))


def _data(reading: CardReading) -> dict[str, object]:
    white = reading.white_balance
    stops = reading.exposure_stops
    return {
        "card": True,
        "stock": reading.stock,
        "markers": reading.markers,
        "matrix_px_to_mm": [list(row) for row in reading.matrix_px_to_mm],
        "mm_per_px": reading.mm_per_px,
        "scale_error_percent": round(reading.scale_error * 100, 4),
        "residual_mm": round(reading.residual_mm, 4),
        "tilt_deg": round(reading.tilt_deg, 2),
        "white_balance": None if white is None else [round(factor, 4) for factor in white],
        "exposure_stops": None if stops is None else round(stops, 2),
        "sure": reading.sure,
        "warnings": list(reading.warnings),
    }


def _lines(reading: CardReading) -> tuple[str, ...]:
    whose = f"Tool {reading.stock}" if reading.stock else "Stock number not read"
    sure = "" if reading.sure else ", less certain"
    return (
        f"{whose}; {reading.markers} of 4 markers found.",
        f"{reading.mm_per_px:.4f} mm per pixel at the card’s center{sure}.",
        f"Camera tilted {reading.tilt_deg:.1f}°.",
        *(f"Note: {warning}" for warning in reading.warnings),
    )


COMMAND = Command(
    name="scale",
    summary="Read the scale card in a photograph: stock number, scale, tilt and light.",
    arguments=_arguments,
    run=_run,
)
