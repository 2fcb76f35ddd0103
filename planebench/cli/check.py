"""planebench check: check a whole catalog."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace

from planebench.catalog.checking import check
from planebench.cli.command import Command, CommandAnswer
from planebench.cli.findings_output import findings_as_data, print_findings
from planebench.cli.open_catalog import add_catalog, open_for


def _arguments(parser: ArgumentParser) -> None:
    add_catalog(parser)
    parser.add_argument(
        "--deep", action="store_true", help="read every stored value as well; takes longer"
    )


def _run(args: Namespace) -> CommandAnswer:
    photographs = 0

    def count(_done: int, total: int) -> None:
        nonlocal photographs
        photographs = total

    with open_for(args) as catalog:
        findings = check(catalog, deep=args.deep, report=count)
    print_findings(findings)
    summary = f"{photographs} photographs checked. "
    summary += "No problems found." if not findings else f"Problems found: {len(findings)}."
    return CommandAnswer(
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
    summary="Check a catalog: its database, every photograph, every issued sheet.",
    arguments=_arguments,
    run=_run,
)
