"""The originals keeps originals as they came, whole or not at all."""

from __future__ import annotations

import os
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from planebench.catalog.originals import Originals, sha256_of
from planebench.errors import FileError

DATA = b"the bytes of a photograph" * 999
SHA256 = sha256_of(DATA)


@pytest.fixture
def originals(tmp_path: Path) -> Originals:
    return Originals(tmp_path / "photos")


def test_the_hash_is_that_of_the_standard() -> None:
    # FIPS 180-4, example of the message "abc".
    published = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"

    assert sha256_of(b"abc") == published


def test_bytes_come_back_as_they_were(originals: Originals) -> None:
    path = originals.store(DATA, sha256=SHA256, suffix=".jpg")

    assert path == originals.path(SHA256, ".jpg")
    assert originals.read(SHA256, ".jpg") == DATA
    assert list(originals.files()) == [path]


def test_a_file_that_is_whole_is_not_written_again(originals: Originals) -> None:
    path = originals.store(DATA, sha256=SHA256, suffix=".jpg")
    before = path.stat().st_mtime_ns
    originals.store(DATA, sha256=SHA256, suffix=".jpg")

    assert path.stat().st_mtime_ns == before


def test_a_damaged_file_of_the_same_size_is_made_whole(originals: Originals) -> None:
    path = originals.store(DATA, sha256=SHA256, suffix=".jpg")
    path.write_bytes(bytes(len(DATA)))
    originals.store(DATA, sha256=SHA256, suffix=".jpg")

    assert path.read_bytes() == DATA


def test_two_threads_storing_the_same_picture_do_not_disturb_each_other(
    originals: Originals,
) -> None:
    with ThreadPoolExecutor(8) as pool:
        stored = [
            pool.submit(originals.store, DATA, sha256=SHA256, suffix=".jpg") for _ in range(40)
        ]

    assert {future.result() for future in stored} == {originals.path(SHA256, ".jpg")}
    assert [path.read_bytes() for path in originals.files()] == [DATA]


def test_the_bytes_are_flushed_before_the_file_has_its_name(
    originals: Originals, monkeypatch: pytest.MonkeyPatch
) -> None:
    named_when_flushed: list[bool] = []
    flush = os.fsync

    def look(handle: int) -> None:
        named_when_flushed.append(originals.path(SHA256, ".jpg").exists())
        flush(handle)

    monkeypatch.setattr(os, "fsync", look)
    originals.store(DATA, sha256=SHA256, suffix=".jpg")

    assert False in named_when_flushed
    if os.name == "posix":
        # Its folder's entry is flushed once it has the name.
        assert named_when_flushed[-1]


def test_a_full_disk_leaves_nothing_under_the_name(
    originals: Originals, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(_handle: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(FileError, match="No space left on device"):
        originals.store(DATA, sha256=SHA256, suffix=".jpg")

    assert list(originals.files()) == []


def test_a_missing_original_is_told(originals: Originals) -> None:
    with pytest.raises(FileError, match="is missing from the catalog’s folder"):
        originals.read(SHA256, ".jpg")
