"""Which files of a folder are taken in, whatever the folder is like."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from itertools import islice
from pathlib import Path

import pytest

from planebench.catalog.import_walk import CHUNK, FileWalk
from tests.catalog.shots import shot


def names(walk: FileWalk) -> list[str]:
    return [file.path.name for file in walk if file.trouble is None]


def touched(path: Path) -> Path:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.touch()
    return path


def test_folders_are_gone_through_to_the_bottom_in_order(tmp_path: Path) -> None:
    for name in ("b.jpg", "a.JPG", "z/2.heic", "z/1.png", "m/deep/er/c.nef"):
        touched(tmp_path / name)

    assert names(FileWalk([tmp_path])) == ["a.JPG", "b.jpg", "c.nef", "1.png", "2.heic"]


def test_hidden_and_system_files_are_left_alone(tmp_path: Path) -> None:
    for name in (".hidden.jpg", "._a.jpg", "@eaDir/a.jpg", "__MACOSX/a.jpg", "Thumbs.db", "a.jpg"):
        touched(tmp_path / name)

    assert names(FileWalk([tmp_path])) == ["a.jpg"]


def test_what_is_no_picture_is_passed_over_and_counted(tmp_path: Path) -> None:
    (tmp_path / "notes.txt").write_text("dear", "utf-8")
    touched(tmp_path / "film.mp4")
    touched(tmp_path / "a.jpg")
    walk = FileWalk([tmp_path])

    assert names(walk) == ["a.jpg"]
    assert walk.skipped == 2


def test_a_picture_without_a_suffix_is_known_by_its_first_bytes(tmp_path: Path) -> None:
    shot(tmp_path / "a.jpg").rename(tmp_path / "IMG0001")

    assert names(FileWalk([tmp_path])) == ["IMG0001"]


def test_a_file_that_was_named_is_given_whatever_its_name(tmp_path: Path) -> None:
    assert names(FileWalk([touched(tmp_path / ".odd.txt")])) == [".odd.txt"]


@pytest.mark.skipif(os.name != "posix", reason="links need no rights here")
def test_a_loop_of_links_ends(tmp_path: Path) -> None:
    touched(tmp_path / "inner" / "a.jpg")
    (tmp_path / "inner" / "up").symlink_to(tmp_path, target_is_directory=True)
    (tmp_path / "inner" / "again").symlink_to(tmp_path / "inner", target_is_directory=True)

    assert names(FileWalk([tmp_path])) == ["a.jpg"]


@pytest.mark.skipif(os.name != "posix", reason="pipes have no names here")
def test_a_pipe_is_not_waited_for(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe.jpg")
    named = list(FileWalk([tmp_path / "pipe.jpg"]))

    assert names(FileWalk([tmp_path])) == []
    assert named[0].trouble is not None
    assert "neither a file nor a folder" in named[0].trouble.happened


@pytest.mark.parametrize("name", ["a.jpg.part", "a.jpg.crdownload", "a.jpg.TMP"])
def test_a_copy_that_is_not_whole_yet_waits_for_its_own_name(tmp_path: Path, name: str) -> None:
    # Names of unfinished copies: common practice, no source.
    shot(tmp_path / "a.jpg").rename(tmp_path / name)
    assert names(FileWalk([tmp_path])) == []

    (tmp_path / name).rename(tmp_path / "a.jpg")

    assert names(FileWalk([tmp_path])) == ["a.jpg"]


def test_the_catalogs_own_folder_is_not_taken_in(tmp_path: Path) -> None:
    touched(tmp_path / "catalog" / "photos" / "a.jpg")
    touched(tmp_path / "b.jpg")

    assert names(FileWalk([tmp_path], leave_out=tmp_path / "catalog")) == ["b.jpg"]


def test_a_folder_that_may_not_be_looked_into_is_told_and_the_rest_goes_on(tmp_path: Path) -> None:
    locked = touched(tmp_path / "locked" / "a.jpg").parent
    touched(tmp_path / "open" / "b.jpg")
    locked.chmod(0)
    try:
        if os.access(locked, os.R_OK):
            pytest.skip("this account may look into everything")
        found = list(FileWalk([tmp_path]))
    finally:
        locked.chmod(0o700)

    assert [file.path.name for file in found] == ["locked", "b.jpg"]
    assert found[0].trouble is not None
    assert "may not be looked into" in found[0].trouble.happened


@dataclass(frozen=True)
class Entry:
    """An entry of a folder that is told of but not there."""

    name: str
    path: str

    def is_dir(self) -> bool:
        return False

    def is_file(self) -> bool:
        return True


def test_a_folder_of_a_million_entries_is_begun_before_all_are_listed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    listed: list[int] = []

    @contextmanager
    def million(folder: Path) -> Iterator[Iterator[Entry]]:
        def entries() -> Iterator[Entry]:
            for number in range(1_000_000):
                listed.append(number)
                yield Entry(f"{number:07}.jpg", str(folder / f"{number:07}.jpg"))

        yield entries()

    monkeypatch.setattr(os, "scandir", million)
    first = [file.path.name for file in islice(FileWalk([tmp_path]), 3)]

    assert first == ["0000000.jpg", "0000001.jpg", "0000002.jpg"]
    assert len(listed) == CHUNK


@pytest.mark.skipif(os.name != "posix", reason="links of POSIX")
def test_a_link_that_leads_to_itself_hides_no_other_photograph(tmp_path: Path) -> None:
    for number in range(9):
        shot(tmp_path / f"{number}.jpg", seed=number)
    (tmp_path / "0-loop").symlink_to(tmp_path / "0-loop")
    (tmp_path / "5-loop.jpg").symlink_to(tmp_path / "5-loop.jpg")

    found = list(FileWalk([tmp_path]))

    assert len([file for file in found if file.trouble is None]) == 9
    assert [file.path.name for file in found if file.trouble is not None] == [
        "0-loop",
        "5-loop.jpg",
    ]
