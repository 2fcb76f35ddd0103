"""planebench demo: build the sample catalog of an invented workshop."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from pathlib import Path

from planebench.catalog.opening import DATABASE
from planebench.catalog.program_settings import usual_place
from planebench.catalog.reference import sample_source
from planebench.catalog.sample import SAMPLE_NAME, make_sample
from planebench.cli.command import Command, CommandAnswer


def _arguments(parser: ArgumentParser) -> None:
    parser.add_argument(
        "--into",
        type=Path,
        metavar="DIR",
        help="an empty or new folder; by default one in your documents",
    )


def _run(args: Namespace) -> CommandAnswer:
    folder: Path = args.into or usual_place() / SAMPLE_NAME
    if args.into is None and (folder / DATABASE).is_file():
        return CommandAnswer(
            data={"catalog": str(folder), "made": False},
            lines=(f"The sample catalog is already there: {folder}",),
        )
    folder.parent.mkdir(parents=True, exist_ok=True)
    tools = make_sample(folder, source=sample_source())
    return CommandAnswer(
        data={"catalog": str(folder), "made": True, "tools": tools},
        lines=(f"Sample catalog with {tools} tools: {folder}",),
    )


COMMAND = Command(
    name="demo",
    summary="Build the sample catalog of an invented workshop.",
    arguments=_arguments,
    run=_run,
)
