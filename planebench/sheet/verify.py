"""Checks whether a sheet that came back is as it was issued, in content and in file."""

from __future__ import annotations

import io
import json
import re
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path

import pikepdf

from planebench.catalog.catalog import Catalog
from planebench.catalog.values import IssuedSheet, Json
from planebench.errors import FileError, InputError, SheetError
from planebench.sheet.fingerprint import canonical_json, fingerprint, fingerprint_groups

_SHEET_FILE = re.compile(r"sheet\d+\.json")
_HEX = re.compile(r"[0-9a-f]{8,64}")
_LEAST_DIGITS = 8
"""Two groups, as printed at the foot of each page: 1 in 4 billion by chance."""


class SheetVerdict(StrEnum):
    """What was found out about a sheet."""

    AS_ISSUED = "as_issued"
    OTHER_FILE = "other_file"
    SELF_CONSISTENT = "self_consistent"
    UNKNOWN = "unknown"
    CHANGED = "changed"


_WORDS = {
    SheetVerdict.AS_ISSUED: "This is the sheet as it was issued.",
    SheetVerdict.OTHER_FILE: (
        "What is attached says exactly what was issued, but the file is not the one kept: its "
        "pages may show something else. Rely on the kept file."
    ),
    SheetVerdict.SELF_CONSISTENT: (
        "The attached content is whole. Compare its fingerprint with the one the seller gives you."
    ),
    SheetVerdict.UNKNOWN: "No sheet with this fingerprint was issued from this catalog.",
    SheetVerdict.CHANGED: "The attached content was changed after the sheet was made.",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Verification:
    """What was found out about one sheet; number, stock and day are empty if not known."""

    verdict: SheetVerdict
    fingerprint: str
    number: str = ""
    stock: str = ""
    issued: str = ""

    @property
    def words(self) -> str:
        """The verdict in a sentence, led by the sheet it is about."""
        about = (
            f"Sheet {self.number} of {self.stock}, issued {self.issued}: " if self.number else ""
        )
        return f"{about}{_WORDS[self.verdict]}"

    @property
    def is_good(self) -> bool:
        """Whether nothing speaks against the sheet."""
        return self.verdict in {SheetVerdict.AS_ISSUED, SheetVerdict.SELF_CONSISTENT}


def verify_pdf(data: bytes, catalog: Catalog | None) -> tuple[Verification, ...]:
    """Check each sheet attached to a PDF, against a catalog's issued sheets if one is given.

    Raise SheetError if it is no PDF, or no issued sheet is attached to it.
    """
    attached = _attached(data)
    if not attached:
        raise SheetError(
            "No condition sheet is attached to this PDF.",
            remedy="Check the file as the seller sent it. A draft, or a scan, cannot be checked.",
        )
    return tuple(_verify_attached(raw, data, catalog) for raw in attached)


def read_sheet_file(path: Path) -> bytes:
    """Return the bytes of a sheet's file. Raise FileError if it cannot be read."""
    try:
        return path.read_bytes()
    except OSError as error:
        raise FileError(
            f"{path.name} could not be read: {error.strerror}.",
            remedy="Check that you may read it.",
            subject=str(path),
        ) from error


def verify_fingerprint(text: str, catalog: Catalog) -> Verification:
    """Check a fingerprint, whole or its first groups, against a catalog's issued sheets.

    Raise InputError for what is no fingerprint.
    """
    digits = "".join(text.casefold().replace("…", "").split())
    if not _HEX.fullmatch(digits):
        raise InputError(
            f"“{text.strip()[:80]}” is not a fingerprint.",
            remedy=f"Give at least the first {_LEAST_DIGITS} of its digits, 0 to 9 and a to f.",
            subject="fingerprint",
        )
    found = catalog.sheets.with_fingerprint(digits)
    if not found:
        return Verification(verdict=SheetVerdict.UNKNOWN, fingerprint=digits)
    return _of_kept(found[0], SheetVerdict.AS_ISSUED)


def format_verification(one: Verification) -> str:
    """Return the verdict and the fingerprint in groups of four."""
    return f"{one.words} Fingerprint {' '.join(fingerprint_groups(one.fingerprint))}."


def _attached(data: bytes) -> list[bytes]:
    try:
        with pikepdf.open(io.BytesIO(data)) as pdf:
            return [
                pdf.attachments[name].get_file().read_bytes()
                for name in sorted(pdf.attachments)
                if _SHEET_FILE.fullmatch(name)
            ]
    except pikepdf.PdfError as error:
        raise SheetError(
            "This file cannot be read as a PDF.", remedy="Check the file as the seller sent it."
        ) from error


def _verify_attached(raw: bytes, data: bytes, catalog: Catalog | None) -> Verification:
    content = _parsed(raw)
    if content is None or canonical_json(content) != raw:
        return Verification(verdict=SheetVerdict.CHANGED, fingerprint=fingerprint(content or {}))
    digest = fingerprint(content)
    if catalog is None:
        return _of_content(content, digest, SheetVerdict.SELF_CONSISTENT)
    found = catalog.sheets.with_fingerprint(digest)
    if not found:
        return _of_content(content, digest, SheetVerdict.UNKNOWN)
    return _of_kept(found[0], _compare_files(found[0], data, catalog))


def _compare_files(kept: IssuedSheet, data: bytes, catalog: Catalog) -> SheetVerdict:
    """Compare with the kept file, byte for byte."""
    path = catalog.sheets.path(kept)
    same = path.is_file() and path.read_bytes() == data
    return SheetVerdict.AS_ISSUED if same else SheetVerdict.OTHER_FILE


def _parsed(raw: bytes) -> Json | None:
    try:
        content = json.loads(raw)
    except ValueError:
        return None
    return content if isinstance(content, dict) and "form" in content else None


def _of_kept(kept: IssuedSheet, verdict: SheetVerdict) -> Verification:
    return _of_content(kept.content, kept.fingerprint, verdict)


def _of_content(content: Json, digest: str, verdict: SheetVerdict) -> Verification:
    heading = content.get("heading")
    said = heading if isinstance(heading, dict) else {}
    return Verification(
        verdict=verdict,
        fingerprint=digest,
        number=str(said.get("number", "")),
        stock=str(said.get("stock", "")),
        issued=str(said.get("issued", "")),
    )
