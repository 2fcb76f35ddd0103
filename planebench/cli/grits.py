"""planebench grits: compare abrasives by the size of their grains and check a sequence."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from collections.abc import Sequence

from planebench.catalog.abrasive_tables import grit_table
from planebench.cli.command import Command, CommandAnswer
from planebench.trade.abrasives import (
    Grit,
    GritStep,
    GritSystem,
    StepVerdict,
    check_sequence,
    convert,
    parse_grit,
    suggest_sequence,
)


def _arguments(parser: ArgumentParser) -> None:
    parser.add_argument(
        "grits",
        nargs="+",
        metavar="FROM",
        help="abrasives in the order of use: P150, JIS 1000, 15um, 0000",
    )
    parser.add_argument(
        "--system",
        choices=[system.value for system in GritSystem],
        help="what numbers without a name count in",
    )
    parser.add_argument(
        "--own", nargs="*", default=[], metavar="GRIT", help="abrasives at hand, to fill the gaps"
    )


def _run(args: Namespace) -> CommandAnswer:
    grits = _parsed(args.grits, args.system)
    owned = _parsed(args.own, args.system)
    steps = check_sequence(grits)
    better = suggest_sequence(grits[0], grits[-1], owned) if owned else ()
    return CommandAnswer(
        data={
            "grits": [_grit_data(grit) for grit in grits],
            "steps": [_step_data(step) for step in steps],
            "good": all(step.verdict is StepVerdict.GOOD for step in steps),
            "suggested": [grit.name for grit in better],
        },
        lines=(*map(_line, grits), *map(_step_line, steps), *_suggestion(better)),
    )


def _parsed(texts: Sequence[str], system: str | None) -> list[Grit]:
    default = None if system is None else GritSystem(system)
    return [parse_grit(text, grit_table(), system=default) for text in texts]


def _suggestion(better: Sequence[Grit]) -> tuple[str, ...]:
    names = ", ".join(grit.name for grit in better)
    return (f"With what you have: {names}.",) if better else ()


def _grit_data(grit: Grit) -> dict[str, object]:
    others = [s for s in GritSystem if s not in {grit.system, GritSystem.MICRON}]
    return {
        "name": grit.name,
        "system": grit.system.value,
        "grade": grit.grade,
        "um": round(grit.um, 3),
        "in_table": grit.in_table,
        "from_memory": grit.from_memory,
        "nearest": {s.value: convert(grit, s, grit_table()).grade for s in others},
    }


def _step_data(step: GritStep) -> dict[str, object]:
    return {
        "from": step.coarser.name,
        "to": step.finer.name,
        "ratio": round(step.ratio, 3),
        "to_remove_um": round(step.to_remove_um, 3),
        "verdict": step.verdict.value,
    }


def _line(grit: Grit) -> str:
    between = "" if grit.in_table else ", between two grades of the table"
    memory = ", from memory" if grit.from_memory else ""
    return f"{grit.name}: {grit.um:.3g} µm{between}{memory}"


def _step_line(step: GritStep) -> str:
    return (
        f"{step.coarser.name} to {step.finer.name}: ratio {step.ratio:.1f}, "
        f"about {step.to_remove_um:.2g} µm to remove, {step.verdict.value}"
    )


COMMAND = Command(
    name="grits",
    summary="Compare abrasives by grain size and check a sequence step by step.",
    arguments=_arguments,
    run=_run,
)
