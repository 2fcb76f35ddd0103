"""planebench date: date a tool from a file of evidence."""

from __future__ import annotations

import json
import sys
from argparse import ArgumentParser, Namespace
from collections.abc import Mapping, Sequence
from pathlib import Path

from planebench.catalog.dating_tables import dating_tables
from planebench.cli.command import Command, CommandAnswer
from planebench.errors import FileError, InputError
from planebench.trade.date_estimate import format_sureness
from planebench.trade.dating import DateEstimate, DatingResult, Evidence, date_tool
from planebench.trade.evidence_parsing import read_evidence, read_production


def _arguments(parser: ArgumentParser) -> None:
    parser.add_argument(
        "evidence",
        help='a file with {"parts": {"body": [{"kind": "years", "value": "1913/1918"}]}}; '
        "- reads standard input",
    )
    parser.add_argument("--tables", type=Path, help="a folder with your own clues.csv")


def _run(args: Namespace) -> CommandAnswer:
    evidence = _load(args.evidence)
    tables = dating_tables(args.tables)
    all_evidence = read_evidence(_parts(evidence), tables)
    production_years = evidence.get("production")
    production = (
        None if production_years in (None, "") else read_production(str(production_years), tables)
    )
    dating = date_tool(all_evidence, production, tables.settings)
    return CommandAnswer(data=_data(dating), lines=tuple(_lines(dating)))


def _load(name: str) -> Mapping[str, object]:
    try:
        text = sys.stdin.read() if name == "-" else Path(name).read_text("utf-8")
    except (OSError, UnicodeDecodeError) as error:
        raise FileError(
            f"{name} cannot be read: {error}.", remedy="Use the path of a JSON file.", subject=name
        ) from error
    try:
        evidence = json.loads(text)
    except (ValueError, RecursionError) as error:
        raise InputError(
            f"{name} is not JSON: {error}.",
            remedy='Write {"parts": {"body": [{"kind": "years", "value": "1913/1918"}]}}.',
            subject=name,
        ) from error
    if not isinstance(evidence, dict):
        raise _malformed("evidence", "Write one object with “parts” in it.")
    return evidence


def _parts(evidence: Mapping[str, object]) -> dict[str, list[Mapping[str, object]]]:
    parts = evidence.get("parts")
    if not isinstance(parts, dict):
        raise _malformed("parts", "Write “parts”, each with a list of entries.")
    return {str(part): _entries(str(part), entries) for part, entries in parts.items()}


def _entries(part: str, entries: object) -> list[Mapping[str, object]]:
    if not isinstance(entries, list):
        raise _malformed(part, f"Write the entries of {part} as a list.")
    for number, entry in enumerate(entries, start=1):
        if not isinstance(entry, dict):
            raise _malformed(f"{part}-{number}", "Write each entry as an object with a kind.")
    return entries


def _malformed(subject: str, remedy: str) -> InputError:
    return InputError(
        f"The evidence file is not in the right form at {subject}.", remedy=remedy, subject=subject
    )


def _data(dating: DatingResult) -> dict[str, object]:
    tool = _dated(dating.whole) | {
        "assembled": dating.assembled,
        "later_parts": list(dating.later_parts),
        "earlier_parts": list(dating.earlier_parts),
    }
    parts = {part: _dated(dated) | {"assembled": False} for part, dated in dating.parts.items()}
    return {
        "parts": parts,
        "tool": tool,
        "entries": {evidence.id: _entry(evidence) for evidence in dating.evidence},
    }


def _dated(dated: DateEstimate) -> dict[str, object]:
    return {
        "earliest": dated.earliest,
        "latest": dated.latest,
        "range90": None if dated.range90 is None else list(dated.range90),
        "ranges": [list(run) for run in dated.ranges],
        "held": round(dated.held, 4),
        "edtf": dated.edtf,
        "in_words": dated.in_words,
        "conflicts": [list(pair) for pair in dated.conflicts],
        "weights": {name: round(weight, 4) for name, weight in dated.weights.items()},
    }


def _entry(evidence: Evidence) -> dict[str, object]:
    return {
        "read_as": evidence.read_as,
        "not_before": evidence.not_before,
        "not_after": evidence.not_after,
        "counts": evidence.counts,
        "sure": evidence.sure,
        "looseness": evidence.looseness,
        "alternatives": list(evidence.alternatives),
        "source": evidence.source,
        "status": evidence.status,
    }


def _lines(dating: DatingResult) -> Sequence[str]:
    lines = [f"Tool: made {_made(dating.whole)}."]
    lines += [f"{part}: made {_made(dated)}." for part, dated in dating.parts.items()]
    if dating.assembled:
        odd = ", ".join(f"{p.part} {'later' if p.later else 'earlier'}" for p in dating.odd_parts)
        lines.append(f"Assembled from parts of different dates: {odd}.")
    lines += [f"{' and '.join(pair)} contradict each other." for pair in dating.whole.conflicts]
    return [*lines, *_most_telling(dating)]


def _made(dated: DateEstimate) -> str:
    doubt = f", {format_sureness(dated)}" if dated.falls_short else ""
    return f"{dated.in_words}{doubt}"


def _most_telling(dating: DatingResult) -> Sequence[str]:
    telling = [name for name in dating.most_telling if dating.whole.weights[name] > 0]
    return [f"Narrows the date most: {', '.join(telling[:3])}."] if telling else []


COMMAND = Command(
    name="date", summary="Date a tool from a file of evidence.", arguments=_arguments, run=_run
)
