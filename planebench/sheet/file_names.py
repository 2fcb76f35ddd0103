"""File names from stock numbers: one name for one number on every file system."""

from __future__ import annotations

import hashlib

_LONGEST = 80
_TOLD_APART = 6


def safe_file_name(stock: str) -> str:
    """Return a stock number with only characters that every file system accepts.

    Where that changes it, a few digits of its hash follow, so that "A/1" and "A:1" never
    name one file.
    """
    kept = "".join(letter if letter.isalnum() or letter in "-_." else "-" for letter in stock)
    name = kept[:_LONGEST].strip(".") or "tool"
    if name == stock:
        return name
    digest = hashlib.sha256(stock.encode("utf-8", "surrogatepass")).hexdigest()
    return f"{name}-{digest[:_TOLD_APART]}"
