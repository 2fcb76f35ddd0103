"""What an issued sheet is known by: the SHA-256 of all it says, whatever paper carries it."""

from __future__ import annotations

import datetime as dt
import hashlib
import json
from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from enum import Enum
from pathlib import Path

from planebench.sheet.content import SheetContent

SHOWN_DIGITS = 10


def to_json(value: object) -> object:
    """Turn content into what JSON holds: objects, lists, text, numbers. Files are left out.

    A photograph is told by the SHA-256 of its bytes, not by where it lies.
    """
    if is_dataclass(value) and not isinstance(value, type):
        return _object({one.name: getattr(value, one.name) for one in fields(value)})
    if isinstance(value, frozenset):
        return sorted(str(to_json(part)) for part in value)
    if isinstance(value, tuple):
        return [to_json(part) for part in value]
    return _single(value)


def _object(parts: Mapping[str, object]) -> dict[str, object]:
    return {name: to_json(part) for name, part in parts.items() if not isinstance(part, Path)}


def _single(value: object) -> object:
    if isinstance(value, Enum):
        return value.value
    return value.isoformat() if isinstance(value, dt.date) else value


def canonical_json(content: SheetContent) -> str:
    """Write what the sheet says as JSON with sorted keys and no idle spaces, without the paper."""
    said = to_json(content)
    if isinstance(said, dict) and isinstance(said["choices"], Mapping):
        said["choices"] = {k: v for k, v in said["choices"].items() if k != "paper"}
    return json.dumps(said, sort_keys=True, separators=(",", ":"), ensure_ascii=False)


def fingerprint(content: SheetContent) -> str:
    """Return 64 hexadecimal digits: the SHA-256 of the canonical JSON in UTF-8."""
    return hashlib.sha256(canonical_json(content).encode("utf-8", "surrogatepass")).hexdigest()


def format_fingerprint(digest: str) -> str:
    """Write the first ten digits as they stand at the foot: 7c1e 9a44 d2."""
    first = digest[:SHOWN_DIGITS]
    return " ".join(first[start : start + 4] for start in range(0, len(first), 4))
