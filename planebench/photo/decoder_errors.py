"""Turns whatever a picture library raises into one FileError that a person can act on."""

from __future__ import annotations

import struct
import zlib
from collections.abc import Iterator
from contextlib import contextmanager

from planebench.errors import FileError

LARGEST_PIXELS = 500_000_000
_AGAIN = "Copy it from the camera again, then take it in again."


@contextmanager
def as_file_errors(name: str) -> Iterator[None]:
    """Let nothing but FileError out; `name` is the file it concerns."""
    try:
        yield
    except FileError:
        raise
    except FileNotFoundError as error:
        raise FileError(
            "The file is not there any more.",
            remedy="Look whether the card or disk was taken out, then take it in again.",
            subject=name,
        ) from error
    except PermissionError as error:
        raise FileError(
            "The file may not be read.",
            remedy="Allow your account to read it, then take it in again.",
            subject=name,
        ) from error
    except IsADirectoryError as error:
        raise FileError(
            "This is a folder, not a picture.", remedy="Choose the files in it.", subject=name
        ) from error
    except MemoryError as error:
        raise FileError(
            "The picture needs more memory than this computer has free.",
            remedy="Close other programs, or save the picture smaller and take that in.",
            subject=name,
        ) from error
    except Exception as error:
        # Decoders fail in any way they like on a damaged or hostile file; it is never ours.
        raise _damaged(error, name) from error


def refuse_too_large(width: int, height: int, *, name: str) -> None:
    """Raise FileError for a header that claims more than 500 megapixels, before any is decoded."""
    if width * height > LARGEST_PIXELS:
        megapixels = width * height / 1e6
        raise FileError(
            f"The picture claims {width} x {height} pixels, {megapixels:,.0f} megapixels;"
            f" at most {LARGEST_PIXELS // 1_000_000} are read.",
            remedy="Leave it out, or save it smaller and take that in.",
            subject=name,
        )
    if width < 1 or height < 1:
        raise FileError(
            f"The picture claims {width} x {height} pixels.", remedy=_AGAIN, subject=name
        )


def truncated_file_error(there: int, whole: int | None, *, how: str = "", name: str) -> FileError:
    """Make the error for a file cut short: bytes there, and bytes it should have if known.

    `how` says how well that is known: nothing, "about" or "at least".
    """
    unit, symbol = _unit(there, whole)
    sizes = _size(there, unit)
    if whole is not None and whole > there:
        sizes += f" of {how} {_size(whole, unit)}" if how else f" of {_size(whole, unit)}"
    return FileError(
        f"The file ends early: {sizes} {symbol} are there.", remedy=_AGAIN, subject=name
    )


def _damaged(error: Exception, name: str) -> FileError:
    if isinstance(error, (OSError, struct.error, zlib.error, EOFError)) and "runcat" in str(error):
        return FileError("The file ends early.", remedy=_AGAIN, subject=name)
    return FileError("The picture is damaged and cannot be read.", remedy=_AGAIN, subject=name)


def _unit(there: int, whole: int | None) -> tuple[int, str]:
    """Choose the largest unit that still tells the two sizes apart."""
    for unit, symbol in ((1_000_000, "MB"), (1000, "kB")):
        if there >= unit // 10 and (whole is None or _size(there, unit) != _size(whole, unit)):
            return unit, symbol
    return 1, "bytes"


def _size(size: int, unit: int) -> str:
    return f"{size:,}" if unit == 1 else f"{size / unit:,.1f}"
