"""Small copies are kept outside the catalog, made anew when damaged, and bounded in size."""

from __future__ import annotations

import io
import os
import time
from pathlib import Path

import pytest
from PIL import Image

from planebench.catalog.catalog import Catalog
from planebench.catalog.photo_import import import_photographs
from planebench.catalog.picture_cache import PictureCache
from planebench.catalog.values import Photograph
from planebench.errors import FileError
from tests.catalog.shots import shot


@pytest.fixture
def photograph(empty_catalog: Catalog, tmp_path: Path) -> Photograph:
    import_photographs(empty_catalog, [shot(tmp_path / "a.jpg", size=(1200, 800))])
    return empty_catalog.photographs.unfiled()[0]


def size_of(data: bytes) -> tuple[int, int]:
    return Image.open(io.BytesIO(data)).size


def entries(folder: Path) -> list[Path]:
    return sorted(path for path in folder.rglob("*") if path.is_file())


def test_thumbnails_are_there_once_a_photograph_came_in(
    empty_catalog: Catalog, photograph: Photograph, tmp_path: Path
) -> None:
    names = [path.name for path in entries(tmp_path / "cache")]

    assert names == [f"{photograph.sha256}-160.jpg", f"{photograph.sha256}-320.jpg"]
    assert size_of(empty_catalog.pictures.thumbnail(photograph, 160))[0] == 160


def test_copies_have_the_size_asked_for_and_no_more_than_the_original(
    empty_catalog: Catalog, photograph: Photograph
) -> None:
    pictures = empty_catalog.pictures

    assert size_of(pictures.thumbnail(photograph)) == (320, 213)
    assert size_of(pictures.preview(photograph, 600)) == (600, 400)
    assert size_of(pictures.preview(photograph, 2400)) == (1200, 800)
    assert pictures.full(photograph).shape == (800, 1200, 3)


def test_a_copy_that_is_kept_is_not_made_again(
    empty_catalog: Catalog, photograph: Photograph
) -> None:
    made = empty_catalog.pictures.preview(photograph)
    empty_catalog.originals.path(photograph.sha256, ".jpg").unlink()

    assert empty_catalog.pictures.preview(photograph) == made
    with pytest.raises(FileError, match="is missing from the catalog’s folder"):
        empty_catalog.pictures.preview(photograph, 500)


@pytest.mark.parametrize("damage", [b"", b"\xff\xd8", b"x" * 9000])
def test_a_damaged_copy_is_made_anew(
    empty_catalog: Catalog, photograph: Photograph, tmp_path: Path, damage: bytes
) -> None:
    whole = empty_catalog.pictures.thumbnail(photograph, 500)
    (path,) = (path for path in entries(tmp_path / "cache") if path.name.endswith("-500.jpg"))
    path.write_bytes(damage or path.read_bytes()[:-40])

    assert empty_catalog.pictures.thumbnail(photograph, 500) == whole


def test_a_single_changed_bit_is_noticed(
    empty_catalog: Catalog, photograph: Photograph, tmp_path: Path
) -> None:
    whole = empty_catalog.pictures.thumbnail(photograph, 500)
    (path,) = (path for path in entries(tmp_path / "cache") if path.name.endswith("-500.jpg"))
    data = bytearray(path.read_bytes())
    data[len(data) // 2] ^= 1
    path.write_bytes(bytes(data))

    assert empty_catalog.pictures.thumbnail(photograph, 500) == whole


def test_the_copies_unused_for_longest_go_when_it_is_full(
    empty_catalog: Catalog, photograph: Photograph, tmp_path: Path
) -> None:
    folder = tmp_path / "small cache"
    pictures = PictureCache(empty_catalog.originals, folder, largest=60_000)
    for edge in range(200, 500, 10):
        pictures.preview(photograph, edge)
        long_ago = time.time() - 1000 + edge
        os.utime(
            folder / photograph.sha256[:2] / f"{photograph.sha256}-{edge}.jpg", (long_ago,) * 2
        )
    kept = {path.name for path in entries(folder)}

    assert sum(path.stat().st_size for path in entries(folder)) <= 70_000
    assert f"{photograph.sha256}-490.jpg" in kept
    assert f"{photograph.sha256}-200.jpg" not in kept


def test_a_place_that_cannot_be_written_only_costs_time(
    empty_catalog: Catalog, photograph: Photograph, tmp_path: Path
) -> None:
    (tmp_path / "a file").write_text("in the way", "utf-8")
    pictures = PictureCache(empty_catalog.originals, tmp_path / "a file" / "cache")

    assert size_of(pictures.thumbnail(photograph)) == (320, 213)
