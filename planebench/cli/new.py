"""planebench new: make an empty catalog."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace

from planebench.catalog.catalog import Catalog
from planebench.cli.command import Command, CommandAnswer
from planebench.cli.open_catalog import add_catalog, now, person


def _arguments(parser: ArgumentParser) -> None:
    add_catalog(parser)


def _run(args: Namespace) -> CommandAnswer:
    catalog = Catalog.make(args.catalog, who=person(), clock=now)
    catalog.close()
    folder = str(args.catalog.resolve())
    return CommandAnswer(data={"catalog": folder}, lines=(f"Empty catalog made: {folder}",))


COMMAND = Command(name="new", summary="Make an empty catalog.", arguments=_arguments, run=_run)
