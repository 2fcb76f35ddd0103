"""After a crash the originals is put in order at opening, and only then."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from planebench.catalog.catalog import Catalog
from planebench.catalog.checking import check
from planebench.catalog.import_types import FileFate
from planebench.catalog.lock_file import IN_USE
from planebench.catalog.originals import Originals, sha256_of
from planebench.catalog.photo_import import import_photographs
from planebench.catalog.store import Clock
from tests.catalog.shots import shot


@pytest.fixture
def picture(tmp_path: Path) -> bytes:
    return shot(tmp_path / "PL-0001.jpg").read_bytes()


def crashed(folder: Path, picture: bytes) -> None:
    """Leave a catalog as a program does that dies between storing and recording."""
    originals = Originals(folder / "photos")
    originals.store(picture, sha256=sha256_of(picture), suffix=".jpg")
    (folder / "photos" / "ab").mkdir()
    (folder / "photos" / "ab" / "abcd.jpg.99.part").write_bytes(picture[:99])
    (folder / IN_USE).write_text(json.dumps({"process": 99}), "utf-8")


def opened(folder: Path, clock: Clock, tmp_path: Path) -> Catalog:
    return Catalog.open(folder, who="R. Fenn", clock=clock, cache=tmp_path / "cache")


def test_half_files_go_and_whole_ones_are_known_again(
    empty_folder: Path, clock: Clock, tmp_path: Path, picture: bytes
) -> None:
    crashed(empty_folder, picture)
    catalog = opened(empty_folder, clock, tmp_path)

    assert check(catalog) == ()
    assert [path.stem for path in catalog.originals.files()] == [sha256_of(picture)]
    assert catalog.photographs.unfiled() == ()
    assert catalog.history.next_undo() is None
    catalog.close()


def test_a_photograph_known_again_comes_in_from_the_card(
    empty_folder: Path, clock: Clock, tmp_path: Path, picture: bytes
) -> None:
    crashed(empty_folder, picture)
    catalog = opened(empty_folder, clock, tmp_path)
    result = import_photographs(catalog, [tmp_path / "PL-0001.jpg"])

    assert result.count(FileFate.NEW) == 1
    assert catalog.photographs.unfiled()[0].perceptual_hash is not None
    catalog.close()


def test_a_file_whose_bytes_are_not_what_its_name_says_is_left_to_be_told_of(
    empty_folder: Path, clock: Clock, tmp_path: Path, picture: bytes
) -> None:
    crashed(empty_folder, picture)
    path = empty_folder / "photos" / "ff" / f"{'f' * 64}.jpg"
    path.parent.mkdir()
    path.write_bytes(picture)
    catalog = opened(empty_folder, clock, tmp_path)

    assert [finding.subject for finding in check(catalog)] == [str(path.relative_to(empty_folder))]
    catalog.close()


def test_while_another_window_has_it_open_nothing_is_put_in_order(
    empty_folder: Path, clock: Clock, tmp_path: Path
) -> None:
    first = opened(empty_folder, clock, tmp_path)
    half = empty_folder / "photos" / "ab" / "abcd.jpg.99.part"
    half.parent.mkdir()
    half.write_bytes(b"on its way")
    second = opened(empty_folder, clock, tmp_path)

    assert half.exists()
    second.close()
    assert (empty_folder / IN_USE).exists()
    first.close()
    assert not (empty_folder / IN_USE).exists()


def test_two_windows_writing_by_turns_do_not_disturb_each_other(
    empty_folder: Path, clock: Clock, tmp_path: Path
) -> None:
    first = opened(empty_folder, clock, tmp_path)
    second = opened(empty_folder, clock, tmp_path)
    for number in range(5):
        first.batches.add(code=f"A{number}")
        second.batches.add(code=f"B{number}")

    assert len(first.batches.lines()) == 10
    second.close()
    first.close()
