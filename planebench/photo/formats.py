"""Recognizes picture formats by their first bytes; the name is only a hint."""

from __future__ import annotations

import struct
from pathlib import PurePath
from typing import BinaryIO

from planebench.errors import FileError

_RAW = (
    ".3fr .arw .cr2 .cr3 .crw .dng .erf .iiq .kdc .mef .mos .mrw .nef .nrw .orf .pef .raf .raw"
    " .rw2 .rwl .sr2 .srf .srw .x3f"
)
_PLAIN = ".jpg .jpeg .jpe .jfif .png .tif .tiff .webp .heic .heif .hif .avif .bmp .dib"
RAW_SUFFIXES = frozenset(_RAW.split())
PICTURE_SUFFIXES = RAW_SUFFIXES | frozenset(_PLAIN.split())

# One disk block: all magic numbers and `ftyp` brands are in it.
_HEAD_BYTES = 4096
_HEIF_BRANDS = frozenset({b"heic", b"heix", b"heim", b"heis", b"hevc", b"mif1", b"msf1"})
_TAG_SUBFILE_TYPE, _TAG_SUB_IFDS, _TAG_DNG_VERSION = 254, 330, 50706
# More tags than any camera writes: a larger count is damage.
_MAX_TAGS = 4096
# Share of printable characters in a text file; pictures that decode as UTF-8 have far fewer.
_PRINTABLE_SHARE = 0.97
_UNKNOWN = "This is not a picture in a known format."
_CONVERT = "Leave it out, or save the picture as JPEG, PNG or TIFF and add that."


def recognize(stream: BinaryIO, *, name: str) -> str:
    """Return the format of a still picture: JPEG, PNG, TIFF, WEBP, HEIF, AVIF, BMP or RAW.

    The stream is left at its beginning. Raise FileError, saying what the file is, for others.
    """
    stream.seek(0)
    head = stream.read(_HEAD_BYTES)
    found = _by_magic(head) or _by_box(head)
    if found == "TIFF" and _is_raw(stream, name):
        found = "RAW"
    stream.seek(0)
    if found is None:
        refusal = _not_a_picture(head, name)
        if refusal.happened != _UNKNOWN or not _is_named_raw(name):
            raise refusal
        # Some cameras write bare sensor readings, without any header.
        found = "RAW"
    return found


def _by_magic(head: bytes) -> str | None:
    starts = (
        (b"\xff\xd8\xff", "JPEG"),
        (b"\x89PNG\r\n\x1a\n", "PNG"),
        (b"BM", "BMP"),
        (b"FUJIFILMCCD-RAW", "RAW"),
        (b"IIRO", "RAW"),
        (b"IIRS", "RAW"),
        (b"MMOR", "RAW"),
        (b"IIU\0", "RAW"),
        (b"\0MRM", "RAW"),
        (b"FOVb", "RAW"),
        (b"II\x1a\0\0\0HEAPCCDR", "RAW"),
        (b"II*\0", "TIFF"),
        (b"MM\0*", "TIFF"),
        (b"II+\0", "TIFF"),
        (b"MM\0+", "TIFF"),
    )
    if head[:4] == b"RIFF" and head[8:12] == b"WEBP":
        return "WEBP"
    if head.startswith(b"BM") and _reads_as_text(head):
        return None
    return next((name for magic, name in starts if head.startswith(magic)), None)


def _by_box(head: bytes) -> str | None:
    """Return the format by the brand of an ISO base media file (ISO/IEC 14496-12, `ftyp`)."""
    if head[4:8] != b"ftyp":
        return None
    length = min(int.from_bytes(head[:4], "big"), len(head))
    brands = {head[8:12], *(head[at : at + 4] for at in range(16, length - 3, 4))}
    if b"crx " in brands:
        return "RAW"
    if b"avif" in brands:
        return "AVIF"
    return "HEIF" if brands & _HEIF_BRANDS else None


def _is_raw(stream: BinaryIO, name: str) -> bool:
    """Return whether a TIFF is a camera's raw file, by its name or its first directory."""
    if _is_named_raw(name):
        return True
    tags = _first_directory(stream)
    reduced = bool(tags.get(_TAG_SUBFILE_TYPE, 0) & 1) and _TAG_SUB_IFDS in tags
    return _TAG_DNG_VERSION in tags or reduced


def _is_named_raw(name: str) -> bool:
    return PurePath(name).suffix.lower() in RAW_SUFFIXES


def _first_directory(stream: BinaryIO) -> dict[int, int]:
    """Return the value field of each tag in a TIFF's first directory (TIFF 6.0, section 2)."""
    stream.seek(0)
    header = stream.read(8)
    order = "<" if header[:2] == b"II" else ">"
    stream.seek(struct.unpack(order + "I", header[4:8].ljust(4, b"\0"))[0])
    counted = stream.read(2)
    if len(counted) < 2:  # noqa: PLR2004 -- the entry count is two bytes
        return {}
    count = min(struct.unpack(order + "H", counted)[0], _MAX_TAGS)
    entries = stream.read(12 * count)
    return {
        tag: value
        for tag, _kind, _number, value in struct.iter_unpack(
            order + "HHII", entries[: len(entries) // 12 * 12]
        )
    }


def _not_a_picture(head: bytes, name: str) -> FileError:
    remedy = _CONVERT
    if not head:
        happened = "The file is empty (0 bytes)."
        remedy = "Copy it from the camera again, then add it again."
    elif not any(head):
        happened = "The file holds only zeros: copying did not finish, or the card is damaged."
        remedy = "Copy it from the camera again, then add it again."
    elif head[4:8] in {b"ftyp", b"moov", b"mdat"} or head[8:12] == b"AVI ":
        happened = "This is a video, not a photograph."
        remedy = "Leave it out."
    elif head.startswith(b"%PDF"):
        happened = "This is a PDF, not a photograph."
    elif _reads_as_text(head):
        happened = "This is a text file, not a photograph."
        remedy = "Leave it out, or rename it."
    else:
        happened = _UNKNOWN
    return FileError(happened, remedy=remedy, subject=name)


def _reads_as_text(head: bytes) -> bool:
    if head[:2] in {b"\xff\xfe", b"\xfe\xff"}:
        return True
    if b"\0" in head:
        return False
    # A multi-byte character may be cut at the end of the head.
    text = head.decode("utf-8", errors="ignore")
    readable = sum(letter.isprintable() or letter.isspace() for letter in text)
    return len(text.encode()) >= len(head) - 3 and readable >= _PRINTABLE_SHARE * len(text)
