"""Photographs that are dropped on a screen or pasted into it."""

from __future__ import annotations

import tempfile
from pathlib import Path

from PySide6.QtCore import QMimeData
from PySide6.QtGui import QImage

from planebench.errors import FileError


def files_in(data: QMimeData) -> tuple[str, ...]:
    """Return the paths of files and folders that are dropped or pasted."""
    return tuple(url.toLocalFile() for url in data.urls() if url.isLocalFile())


def holds_photographs(data: QMimeData) -> bool:
    """Return whether what is dropped or pasted can be taken in."""
    return bool(files_in(data)) or data.hasImage()


def bitmap_in(data: QMimeData) -> QImage | None:
    """Return a picture that was copied as such, None if there is none."""
    if not data.hasImage():
        return None
    image = data.imageData()
    return image if isinstance(image, QImage) and not image.isNull() else None


def keep_bitmap(image: QImage) -> str:
    """Write a copied picture into a file of its own, for taking it in; slow, so on a job.

    Raises FileError where it cannot be written.
    """
    folder = Path(tempfile.mkdtemp(prefix="planebench-pasted-"))
    path = folder / "pasted.png"
    if not image.save(str(path)):
        raise FileError(
            "The copied picture could not be written to a file.",
            remedy="See that there is room on the disk, or save it yourself and drop the file.",
            subject=str(path),
        )
    return str(path)
