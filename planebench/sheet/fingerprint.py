"""What an issued sheet is known by: the SHA-256 of its content in canonical JSON (RFC 8785)."""

from __future__ import annotations

import datetime as dt
import hashlib
import json
from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from enum import Enum
from pathlib import Path

import rfc8785

from planebench.catalog.values import Json
from planebench.sheet.content import SheetContent

_GROUP = 4


def to_json(value: object) -> object:
    """Return content as plain JSON values: objects, lists, text, numbers.

    File paths are left out: a photograph is known by the SHA-256 of its bytes.
    """
    if is_dataclass(value) and not isinstance(value, type):
        return _object({one.name: getattr(value, one.name) for one in fields(value)})
    if isinstance(value, frozenset):
        return sorted(str(to_json(part)) for part in value)
    if isinstance(value, tuple | list):
        return [to_json(part) for part in value]
    return _scalar(value)


def content_json(content: SheetContent) -> Json:
    """Return a sheet's content as the catalog keeps it."""
    said = to_json(content)
    return said if isinstance(said, dict) else {}


def canonical_json(content: SheetContent | Json) -> bytes:
    """Return content, or kept content, as canonical JSON in UTF-8 (RFC 8785)."""
    said = content_json(content) if isinstance(content, SheetContent) else content
    canonical: bytes = rfc8785.dumps(said)  # type: ignore[arg-type]  # plain JSON by to_json
    return canonical


def fingerprint(content: SheetContent | Json) -> str:
    """Return 64 hexadecimal digits: the SHA-256 of the canonical JSON.

    Content kept before there was a `form` is hashed as it was then.
    """
    if not isinstance(content, SheetContent) and "form" not in content:
        return _former_fingerprint(content)
    return hashlib.sha256(canonical_json(content)).hexdigest()


def fingerprint_groups(digest: str) -> tuple[str, ...]:
    """Return a fingerprint in groups of four digits, as it is printed and read aloud."""
    return tuple(digest[start : start + _GROUP] for start in range(0, len(digest), _GROUP))


def format_fingerprint(digest: str, groups: int = 2) -> str:
    """Return the first groups of a fingerprint for a small place: "2d8e 9124 …"."""
    return f"{' '.join(fingerprint_groups(digest)[:groups])} …"


def _former_fingerprint(kept: Json) -> str:
    """Hash content of the first form: sorted keys, no spaces, without the paper."""
    said = dict(kept)
    choices = said.get("choices")
    if isinstance(choices, Mapping):
        said["choices"] = {key: one for key, one in choices.items() if key != "paper"}
    text = json.dumps(said, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    return hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest()


def _object(parts: Mapping[str, object]) -> dict[str, object]:
    return {name: to_json(part) for name, part in parts.items() if not isinstance(part, Path)}


def _scalar(value: object) -> object:
    if isinstance(value, Enum):
        return value.value
    if isinstance(value, str):
        # Half a surrogate pair has no place in UTF-8; it can only come from a damaged text.
        return value.encode("utf-8", "replace").decode("utf-8")
    return value.isoformat() if isinstance(value, dt.date) else value
