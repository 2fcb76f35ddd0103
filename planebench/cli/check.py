"""planebench check: looks a whole catalog over."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace

from planebench.catalog.checking import check
from planebench.cli.answer import Answer, Command
from planebench.cli.session import add_catalog, open_for
from planebench.cli.told import findings_as_data, tell


def _arguments(parser: ArgumentParser) -> None:
    add_catalog(parser)


def _run(args: Namespace) -> Answer:
    photographs = 0

    def count(_done: int, total: int) -> None:
        nonlocal photographs
        photographs = total

    with open_for(args) as catalog:
        findings = check(catalog, report=count)
    tell(findings)
    summary = f"{photographs} photographs looked at. "
    summary += "Everything is in order." if not findings else f"{len(findings)} findings."
    return Answer(
        data={
            "sound": not findings,
            "photographs": photographs,
            "findings": findings_as_data(findings),
        },
        lines=(summary,),
        exit_code=1 if findings else 0,
    )


COMMAND = Command(
    name="check",
    summary="Look a catalog over: database, every photograph, sheets.",
    arguments=_arguments,
    run=_run,
)
