"""A watched folder: what comes in and when, what is waited for, what is never taken in twice."""

from __future__ import annotations

import datetime as dt
import shutil
import threading
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from planebench.catalog import continuous_import
from planebench.catalog.catalog import Catalog
from planebench.catalog.continuous_import import FolderReport, ImportObserver, import_continuously
from planebench.catalog.ids import BatchId
from planebench.catalog.import_types import Destination, FileFate, ImportResult
from planebench.catalog.tools import NewTool
from planebench.errors import CatalogError
from tests.catalog.shots import rested, shot, shot_of_card

LOOK = 0.1


class Watching:
    """A watch on its own thread, as a person would leave it running."""

    def __init__(self, catalog: Catalog, folder: Path, to: Destination) -> None:
        self.lots: list[ImportResult] = []
        self.sights: list[FolderReport] = []
        self.trouble: Exception | None = None
        self._stop = threading.Event()
        self._thread = threading.Thread(target=self._run, args=(catalog, folder, to))
        self._thread.start()

    def _run(self, catalog: Catalog, folder: Path, to: Destination) -> None:
        observer = ImportObserver(seen=self.sights.append, stopped=self._stop.is_set)
        try:
            for lot in import_continuously(catalog, [folder], to=to, observer=observer):
                self.lots.append(lot)
        except CatalogError as error:
            self.trouble = error

    def became(self) -> list[tuple[str, FileFate]]:
        return [(Path(o.file).name, o.became) for lot in self.lots for o in lot.outcomes]

    def names(self) -> list[str]:
        return sorted(name for name, became in self.became() if became == FileFate.NEW)

    def until(self, holds: Callable[[], bool], seconds: float = 20) -> None:
        ends = time.monotonic() + seconds
        while not holds():
            assert time.monotonic() < ends, (self.became(), self.sights[-1:])
            time.sleep(0.01)

    def looks(self, count: int = 4) -> None:
        """Wait for so many more looks at the folder."""
        enough = len(self.sights) + count
        self.until(lambda: len(self.sights) >= enough)

    def stop(self) -> None:
        self._stop.set()
        self._thread.join(20)
        assert not self._thread.is_alive()


@pytest.fixture
def watched(
    empty_catalog: Catalog, monkeypatch: pytest.MonkeyPatch
) -> Iterator[Callable[..., Watching]]:
    """Watch a folder, looking at it every tenth of a second."""
    monkeypatch.setattr(continuous_import, "LOOK_SECONDS", LOOK)
    running: list[Watching] = []

    def begin(folder: Path, **to: object) -> Watching:
        running.append(Watching(empty_catalog, folder, Destination(**to)))  # type: ignore[arg-type]  # named
        return running[-1]

    yield begin
    for watching in running:
        watching.stop()


@pytest.fixture
def slow(watched: Callable[..., Watching], monkeypatch: pytest.MonkeyPatch) -> None:
    """Look more seldom, so that a stall of this machine is no rest of the folder."""
    monkeypatch.setattr(continuous_import, "LOOK_SECONDS", 5 * LOOK)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    made = tmp_path / "camera"
    made.mkdir()
    return made


def test_what_lies_there_comes_in_and_then_what_is_put_there(
    watched: Callable[..., Watching], folder: Path
) -> None:
    shot(folder / "1.jpg", seed=1)
    watching = watched(folder)
    watching.until(lambda: watching.names() == ["1.jpg"])

    shot(folder / "sub" / "2.jpg", seed=2)

    watching.until(lambda: watching.names() == ["1.jpg", "2.jpg"])


def test_a_photograph_that_stays_there_comes_in_once(
    watched: Callable[..., Watching], folder: Path
) -> None:
    shot(folder / "1.jpg", seed=1)
    watching = watched(folder)
    watching.until(lambda: bool(watching.lots))

    watching.looks()

    assert watching.became() == [("1.jpg", FileFate.NEW)]


@pytest.mark.usefixtures("slow")
def test_a_file_being_copied_is_seen_and_comes_in_once_it_is_whole(
    watched: Callable[..., Watching], folder: Path, tmp_path: Path
) -> None:
    whole = shot(tmp_path / "whole.jpg", seed=3, size=(600, 400)).read_bytes()
    watching = watched(folder)
    with (folder / "3.jpg").open("wb") as stream:
        for start in range(0, len(whole), len(whole) // 20):
            stream.write(whole[start : start + len(whole) // 20])
            stream.flush()
            # A copy may carry the date of its original from the start.
            rested(folder / "3.jpg")
            time.sleep(LOOK / 2)

    watching.until(lambda: bool(watching.lots))

    assert watching.became() == [("3.jpg", FileFate.NEW)]
    assert max(sight.arriving for sight in watching.sights) == 1


@pytest.mark.usefixtures("slow")
def test_files_that_arrive_one_after_another_come_in_together(
    watched: Callable[..., Watching], folder: Path
) -> None:
    watching = watched(folder)
    for number in range(12):
        shot(folder / f"{number}.jpg", seed=number)
        time.sleep(LOOK / 2)

    watching.until(lambda: len(watching.names()) == 12)

    assert len(watching.lots) == 1


def test_where_files_never_stop_arriving_those_that_rest_come_in_after_a_while(
    watched: Callable[..., Watching], folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(continuous_import, "LONGEST_WAIT", 3 * LOOK)
    watching = watched(folder)
    number = 0
    while not watching.lots:
        shot(folder / f"{number}.jpg", seed=number)
        number += 1
        assert number < 200
        time.sleep(LOOK / 2)


def test_a_folder_that_goes_away_is_told_and_waited_for(
    watched: Callable[..., Watching], folder: Path, tmp_path: Path
) -> None:
    shot(folder / "1.jpg", seed=1)
    watching = watched(folder)
    watching.until(lambda: bool(watching.lots))
    taken_out = folder.rename(tmp_path / "pocket")
    watching.until(lambda: bool(watching.sights[-1].away))

    (away,) = watching.sights[-1].away
    assert away.subject == str(folder)
    assert "no such file or folder" in away.happened
    shot(taken_out / "2.jpg", seed=2)
    taken_out.rename(folder)

    watching.until(lambda: watching.names() == ["1.jpg", "2.jpg"])
    assert watching.sights[-1].away == ()
    assert watching.became() == [("1.jpg", FileFate.NEW), ("2.jpg", FileFate.NEW)]


def test_what_was_refused_is_told_once_and_tried_again_when_it_was_changed(
    watched: Callable[..., Watching], folder: Path
) -> None:
    (folder / "1.jpg").write_text("a shopping list")
    rested(folder / "1.jpg")
    watching = watched(folder)
    watching.until(lambda: bool(watching.lots))
    watching.looks()
    assert watching.became() == [("1.jpg", FileFate.REFUSED)]

    shot(folder / "1.jpg", seed=1)

    watching.until(lambda: watching.became()[-1] == ("1.jpg", FileFate.NEW))


def test_what_was_refused_is_tried_again_when_its_card_comes_back(
    watched: Callable[..., Watching], folder: Path, tmp_path: Path
) -> None:
    (folder / "1.jpg").write_text("a shopping list")
    rested(folder / "1.jpg")
    watching = watched(folder)
    watching.until(lambda: bool(watching.lots))
    pocket = folder.rename(tmp_path / "pocket")
    watching.until(lambda: bool(watching.sights[-1].away))

    pocket.rename(folder)

    watching.until(lambda: len(watching.lots) == 2)
    assert watching.became() == [("1.jpg", FileFate.REFUSED)] * 2


def test_another_name_for_a_photograph_that_is_here_is_not_stored_twice(
    watched: Callable[..., Watching], folder: Path
) -> None:
    shot(folder / "1.jpg", seed=1)
    watching = watched(folder)
    watching.until(lambda: bool(watching.lots))

    rested(Path(shutil.copy(folder / "1.jpg", folder / "again.jpg")))

    watching.until(lambda: len(watching.lots) == 2)
    assert watching.became()[-1] == ("again.jpg", FileFate.ALREADY_IN_CATALOG)


def test_look_alikes_are_found_across_all_that_came(
    watched: Callable[..., Watching], folder: Path
) -> None:
    shot(folder / "1.jpg", seed=1, size=(960, 640))
    watching = watched(folder)
    watching.until(lambda: bool(watching.lots))

    shot(folder / "2.jpg", seed=1, size=(1920, 1280))

    watching.until(lambda: len(watching.lots) == 2)
    (group,) = watching.lots[-1].look_alikes
    assert set(group) == {o.photograph for lot in watching.lots for o in lot.outcomes}


def test_each_lot_is_taken_back_by_itself(
    empty_catalog: Catalog, watched: Callable[..., Watching], folder: Path
) -> None:
    watching = watched(folder)
    for number in (1, 2):
        shot(folder / f"{number}.jpg", seed=number)
        watching.until(lambda: len(watching.lots) == number)  # noqa: B023 -- waited for at once

    empty_catalog.history.undo()

    assert [p.original_name for p in empty_catalog.photographs.unfiled()] == ["1.jpg"]


def test_a_card_that_is_copied_after_what_follows_it_still_files_it(
    empty_catalog: Catalog, batch: BatchId, watched: Callable[..., Watching], folder: Path
) -> None:
    empty_catalog.tools.add(batch, NewTool(kind="block", stock_number="LOT7-001"))
    nine = dt.datetime(2026, 3, 14, 9, 0)  # noqa: DTZ001 -- a camera's clock has no zone
    shot(folder / "2.jpg", seed=2, at=nine + dt.timedelta(minutes=1))
    watching = watched(folder, batch=batch, follow_cards=True)
    watching.until(lambda: len(watching.lots) == 1)

    shot_of_card(folder / "1.jpg", text="PB:LOT7-001", at=nine)

    watching.until(lambda: len(watching.lots) == 2)
    assert [(o.file, o.stock) for o in watching.lots[-1].refiled] == [("2.jpg", "LOT7-001")]
    assert empty_catalog.photographs.unfiled() == ()


def test_a_batch_that_was_put_in_the_bin_ends_the_watch_with_what_to_do(
    empty_catalog: Catalog, batch: BatchId, watched: Callable[..., Watching], folder: Path
) -> None:
    watching = watched(folder, batch=batch)
    shot(folder / "1.jpg", seed=1)
    watching.until(lambda: len(watching.lots) == 1)
    empty_catalog.batches.bin(batch)

    shot(folder / "2.jpg", seed=2)

    watching.until(lambda: watching.trouble is not None)
    assert "was deleted" in str(watching.trouble)
    assert watching.names() == ["1.jpg"]


def test_nothing_is_taken_in_after_stop(watched: Callable[..., Watching], folder: Path) -> None:
    watching = watched(folder)
    watching.looks(1)
    watching.stop()

    shot(folder / "1.jpg", seed=1)
    time.sleep(3 * LOOK)

    assert watching.lots == []


@pytest.mark.parametrize("within", ["", "photos"])
def test_a_folder_of_the_catalog_itself_is_refused(empty_catalog: Catalog, within: str) -> None:
    watched = import_continuously(
        empty_catalog, [empty_catalog.folder / within], to=Destination(), observer=ImportObserver()
    )

    with pytest.raises(CatalogError, match="is part of the catalog itself"):
        next(watched)
