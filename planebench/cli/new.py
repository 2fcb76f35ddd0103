"""planebench new: makes an empty catalog."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace

from planebench.catalog.catalog import Catalog
from planebench.cli.answer import Answer, Command
from planebench.cli.session import add_catalog, now, who


def _arguments(parser: ArgumentParser) -> None:
    add_catalog(parser)


def _run(args: Namespace) -> Answer:
    catalog = Catalog.make(args.catalog, who=who(), clock=now)
    catalog.close()
    folder = str(args.catalog.resolve())
    return Answer(data={"catalog": folder}, lines=(f"An empty catalog: {folder}",))


COMMAND = Command(name="new", summary="Make an empty catalog.", arguments=_arguments, run=_run)
