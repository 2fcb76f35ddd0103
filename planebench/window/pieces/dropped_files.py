"""Photographs that are dropped on a screen or pasted."""

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
    """Return whether what is dropped or pasted can be imported."""
    return bool(files_in(data)) or data.hasImage()


def bitmap_in(data: QMimeData) -> QImage | None:
    """Return a picture copied as pixels, None if there is none."""
    if not data.hasImage():
        return None
    image = data.imageData()
    return image if isinstance(image, QImage) and not image.isNull() else None


def keep_bitmap(image: QImage) -> str:
    """Write a pasted picture to a file, to import it from there; slow, so call it on a job.

    Raise FileError where it cannot be written.
    """
    folder = Path(tempfile.mkdtemp(prefix="planebench-pasted-"))
    path = folder / "pasted.png"
    if not image.save(str(path)):
        raise FileError(
            "The pasted picture could not be written to a file.",
            remedy="Make room on the disk, or save the picture yourself and drop the file here.",
            subject=str(path),
        )
    return str(path)
