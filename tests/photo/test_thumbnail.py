"""Thumbnails are upright, small and free of metadata."""

from __future__ import annotations

import io
from pathlib import Path

import pytest
from PIL import Image

from planebench.errors import FileError
from planebench.photo.thumbnail import make_thumbnail


def photograph(size: tuple[int, int], orientation: int) -> bytes:
    notes = Image.Exif()
    notes[274] = orientation
    stream = io.BytesIO()
    Image.new("RGB", size, (90, 60, 30)).save(stream, "JPEG", exif=notes)
    return stream.getvalue()


def test_a_thumbnail_is_turned_upright_and_carries_no_metadata(tmp_path: Path) -> None:
    path = tmp_path / "a.jpg"
    path.write_bytes(photograph((900, 600), 6))
    image = Image.open(io.BytesIO(make_thumbnail(path, 300)))

    assert image.size == (200, 300)
    assert not image.getexif()


def test_a_picture_smaller_than_asked_keeps_its_size() -> None:
    image = Image.open(io.BytesIO(make_thumbnail(photograph((90, 60), 1), 300, name="a")))

    assert image.size == (90, 60)


def test_a_file_cut_short_has_no_thumbnail() -> None:
    data = photograph((900, 600), 1)
    with pytest.raises(FileError, match="cut short") as told:
        make_thumbnail(data[: len(data) // 2], 100, name="PL-1.jpg")

    assert told.value.subject == "PL-1.jpg"
