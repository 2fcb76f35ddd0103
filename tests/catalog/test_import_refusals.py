"""Bad input: each file gets a message that names it, the rest comes in, and `check` stays clean."""

from __future__ import annotations

import os
import re
import struct
import threading
import zlib
from collections.abc import Callable
from pathlib import Path

import pytest

from planebench.catalog.catalog import Catalog
from planebench.catalog.checking import check
from planebench.catalog.import_reader import Reader
from planebench.catalog.import_types import FileFate
from planebench.catalog.originals import Originals
from planebench.catalog.photo_import import import_photographs
from planebench.errors import CatalogError, FileError
from tests.catalog.shots import rested, shot

Bad = Callable[[Path], Path]


def written(path: Path, data: bytes) -> Path:
    path.write_bytes(data)
    return rested(path)


def truncated(folder: Path) -> Path:
    whole = shot(folder / "PL-0153.jpg", size=(600, 400)).read_bytes()
    return written(folder / "PL-0153.jpg", whole[: len(whole) // 2])


def empty(folder: Path) -> Path:
    return written(folder / "empty.jpg", b"")


def text(folder: Path) -> Path:
    return written(folder / "notes.jpg", b"two knobs, one handle\n" * 20)


def zeros(folder: Path) -> Path:
    return written(folder / "zeros.jpg", bytes(5000))


def noise(folder: Path) -> Path:
    return written(folder / "noise.jpg", b"\xff\xd8\xff" + bytes(range(256)) * 9)


def huge(folder: Path) -> Path:
    """A PNG whose header claims 30,000 x 30,000 pixels (PNG, 11.2.2)."""
    head = struct.pack(">IIBBBBB", 30_000, 30_000, 8, 2, 0, 0, 0)
    data = b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(bytes(99)))
    return written(folder / "huge.png", data)


def chunk(kind: bytes, data: bytes) -> bytes:
    check = struct.pack(">I", zlib.crc32(kind + data))
    return struct.pack(">I", len(data)) + kind + data + check


def vanished(folder: Path) -> Path:
    path = folder / "vanished.jpg"
    path.symlink_to(folder / "nowhere.jpg")
    return path


def too_long(folder: Path) -> Path:
    return folder / f"{'long-' * 60}.jpg"


def no_name(folder: Path) -> Path:
    return folder / "nul\0.jpg"


TABLE: list[tuple[Bad, str]] = [
    (truncated, "cut short"),
    (empty, "is empty"),
    (text, "This is a text"),
    (zeros, "only zeros"),
    (noise, "damaged"),
    (huge, "30000 × 30000"),
    (vanished, "no such file|is gone"),
    (too_long, "cannot be the name"),
    (no_name, "cannot be the name"),
]


@pytest.mark.parametrize(("bad", "happened"), TABLE, ids=[bad.__name__ for bad, _ in TABLE])
def test_bad_input_is_told_by_name_and_the_rest_comes_in(
    empty_catalog: Catalog, tmp_path: Path, bad: Bad, happened: str
) -> None:
    folder = tmp_path / "card"
    good = [shot(folder / f"good-{number}.jpg", seed=number) for number in range(2)]
    path = bad(folder)

    result = import_photographs(empty_catalog, [good[0], path, good[1]])

    refused, *others = sorted(result.outcomes, key=lambda o: o.became != FileFate.REFUSED)
    assert [o.became for o in others] == [FileFate.NEW, FileFate.NEW]
    assert refused.became == FileFate.REFUSED
    assert refused.file.endswith(path.name)
    assert re.search(happened, refused.happened)
    assert refused.remedy
    assert check(empty_catalog) == ()


def test_a_file_that_may_not_be_read_is_told(empty_catalog: Catalog, tmp_path: Path) -> None:
    path = shot(tmp_path / "locked.jpg")
    path.chmod(0)
    if os.access(path, os.R_OK):
        pytest.skip("this account may read everything")

    assert "no permission to read" in import_photographs(empty_catalog, [path]).outcomes[0].happened


@pytest.mark.parametrize("name", ["🪚 Müller 鉋 рубанок.jpg", "ж" * 120 + ".jpg", "a\nb'\";--.jpg"])
def test_names_in_any_script_come_in_and_are_kept(
    empty_catalog: Catalog, tmp_path: Path, name: str
) -> None:
    import_photographs(empty_catalog, [shot(tmp_path / "card" / name).parent])

    assert [photo.original_name for photo in empty_catalog.photographs.unfiled()] == [name]


@pytest.mark.skipif(os.name != "posix", reason="only here names are bytes")
def test_a_name_that_is_no_text_comes_in(empty_catalog: Catalog, tmp_path: Path) -> None:
    shot(tmp_path / "a.jpg").rename(os.fsdecode(os.fsencode(tmp_path) + b"/caf\xe9.jpg"))
    result = import_photographs(empty_catalog, [tmp_path / os.fsdecode(b"caf\xe9.jpg")])

    assert result.outcomes[0].became == FileFate.NEW
    assert [photo.original_name for photo in empty_catalog.photographs.unfiled()] == [
        "caf\ufffd.jpg"
    ]


def test_a_card_pulled_out_on_the_way_refuses_only_what_was_not_read(
    empty_catalog: Catalog, tmp_path: Path
) -> None:
    paths = [shot(tmp_path / f"{number:02}.jpg", seed=number) for number in range(40)]
    # The folder is counted ahead, but each file is opened only when its turn comes.

    def pull(_progress: object) -> None:
        for path in paths:
            path.unlink(missing_ok=True)

    result = import_photographs(empty_catalog, [tmp_path], report=pull)

    assert result.count(FileFate.NEW) + result.count(FileFate.REFUSED) == 40
    assert result.count(FileFate.REFUSED) > 0
    assert {o.happened for o in result.outcomes if o.became == FileFate.REFUSED} == {
        "The file is gone."
    }
    assert check(empty_catalog) == ()


def test_a_full_disk_of_photographs_is_told_and_leaves_nothing_half(
    empty_catalog: Catalog, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    paths = [shot(tmp_path / f"{number}.jpg", seed=number) for number in range(3)]
    full = OSError(28, "No space left on device")
    store, fsync = Originals.store, os.fsync
    unlucky: set[int] = set()

    def sometimes(originals: Originals, data: bytes, *, sha256: str, suffix: str) -> Path:
        if data != paths[1].read_bytes():
            return store(originals, data, sha256=sha256, suffix=suffix)
        unlucky.add(threading.get_ident())
        try:
            return store(originals, data, sha256=sha256, suffix=suffix)
        finally:
            unlucky.clear()

    def flush(handle: int) -> None:
        # Others that write at the same moment find room.
        if threading.get_ident() in unlucky:
            raise full
        fsync(handle)

    monkeypatch.setattr(Originals, "store", sometimes)
    monkeypatch.setattr(os, "fsync", flush)
    result = import_photographs(empty_catalog, paths)
    refused = [o for o in result.outcomes if o.became == FileFate.REFUSED]

    assert [Path(o.file).name for o in refused] == ["1.jpg"]
    assert "No space left" in refused[0].happened
    assert check(empty_catalog) == ()


def test_a_full_disk_of_the_database_refuses_the_lot_and_drops_its_files(
    empty_catalog: Catalog, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = shot(tmp_path / "a.jpg")

    def full(*_args: object, **_named: object) -> None:
        raise CatalogError("The disk is full.", remedy="Free some space.")

    with monkeypatch.context() as disk:
        disk.setattr(empty_catalog.store, "edit", full)
        outcome = import_photographs(empty_catalog, [path]).outcomes[0]

    assert (outcome.became, outcome.happened) == (FileFate.REFUSED, "The disk is full.")
    assert list(empty_catalog.originals.files()) == []
    assert import_photographs(empty_catalog, [path]).count(FileFate.NEW) == 1


def test_a_file_too_large_to_be_a_photograph_is_not_read(
    empty_catalog: Catalog, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("planebench.catalog.import_reader.LARGEST_FILE", 100)
    reader = Reader(empty_catalog.originals, empty_catalog.pictures, (), find_cards=False)

    with pytest.raises(FileError, match="the limit is"):
        reader.read(shot(tmp_path / "a.jpg"))
