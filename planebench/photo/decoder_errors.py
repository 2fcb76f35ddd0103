"""Turns whatever a picture library raises into a FileError that a person can act on."""

from __future__ import annotations

import struct
import zlib
from collections.abc import Iterator
from contextlib import contextmanager

from planebench.errors import FileError

# Five times the largest camera sensors; decoded, it needs 1.5 GB.
LARGEST_PIXELS = 500_000_000
_COPY_AGAIN = "Copy it from the camera again, then add it again."


@contextmanager
def as_file_errors(name: str) -> Iterator[None]:
    """Raise any error inside as a FileError; `name` is the file it concerns."""
    try:
        yield
    except FileError:
        raise
    except FileNotFoundError as error:
        raise FileError(
            "The file is gone.",
            remedy="Check whether the card or disk was removed, then add the photograph again.",
            subject=name,
        ) from error
    except PermissionError as error:
        raise FileError(
            "This account has no permission to read the file.",
            remedy="Give your account permission to read it, then add it again.",
            subject=name,
        ) from error
    except IsADirectoryError as error:
        raise FileError(
            "This is a folder, not a picture.", remedy="Choose the files in it.", subject=name
        ) from error
    except MemoryError as error:
        raise FileError(
            "The picture needs more memory than this computer has free.",
            remedy="Close other programs, or save a smaller picture and add that.",
            subject=name,
        ) from error
    except Exception as error:
        # Decoders fail in any way on a damaged or hostile file: the file is at fault.
        raise _damaged(error, name) from error


def refuse_too_large(width: int, height: int, *, name: str) -> None:
    """Raise FileError for a header that claims more than 500 megapixels, before any is decoded."""
    if width * height > LARGEST_PIXELS:
        megapixels = width * height / 1e6
        raise FileError(
            f"The picture claims {width} × {height} pixels, {megapixels:,.0f} megapixels;"
            f" {LARGEST_PIXELS // 1_000_000} is the limit.",
            remedy="Leave it out, or save a smaller picture and add that.",
            subject=name,
        )
    if width < 1 or height < 1:
        raise FileError(
            f"The picture claims {width} × {height} pixels.", remedy=_COPY_AGAIN, subject=name
        )


def truncated_file_error(length: int, whole: int | None, *, how: str = "", name: str) -> FileError:
    """Return the error for a file cut short: `length` bytes of `whole`, if that is known.

    `how` says how well it is known: "" for exactly, "about" or "at least".
    """
    unit, symbol = _unit(length, whole)
    sizes = _size(length, unit)
    if whole is not None and whole > length:
        sizes += f" of {how} {_size(whole, unit)}" if how else f" of {_size(whole, unit)}"
    return FileError(
        f"The file is cut short: it has {sizes} {symbol}.", remedy=_COPY_AGAIN, subject=name
    )


def _damaged(error: Exception, name: str) -> FileError:
    if isinstance(error, (OSError, struct.error, zlib.error, EOFError)) and "runcat" in str(error):
        return FileError("The file is cut short.", remedy=_COPY_AGAIN, subject=name)
    return FileError("The picture is damaged and cannot be read.", remedy=_COPY_AGAIN, subject=name)


def _unit(length: int, whole: int | None) -> tuple[int, str]:
    """Return the largest unit, in bytes, in which the two sizes still differ, and its symbol."""
    for unit, symbol in ((1_000_000, "MB"), (1000, "kB")):
        if length >= unit // 10 and (whole is None or _size(length, unit) != _size(whole, unit)):
            return unit, symbol
    return 1, "bytes"


def _size(size: int, unit: int) -> str:
    return f"{size:,}" if unit == 1 else f"{size / unit:,.1f}"
