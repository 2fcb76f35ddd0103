"""What a command answers: values for a program, lines for a person, and how it ended."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from collections.abc import Callable, Mapping
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class CommandAnswer:
    """`data` is printed with --json, `lines` without; `exit_code` is 0 only on success."""

    data: Mapping[str, object]
    lines: tuple[str, ...] = ()
    exit_code: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Command:
    """A sub-command: its name, one line of help, its arguments and what it does.

    `run` raises PlanebenchError for what a person can mend; --json is added to every command.
    """

    name: str
    summary: str
    arguments: Callable[[ArgumentParser], None]
    run: Callable[[Namespace], CommandAnswer]
