"""The window on 20,000 tools beside an empty catalog: start, search, filter, scrolling.

Run: pytest tests/benchmarks/bench_window.py -s
"""

from __future__ import annotations

import datetime as dt
import time
from collections.abc import Callable, Iterator
from functools import partial
from pathlib import Path

import pytest
from PySide6.QtCore import QCoreApplication, QEvent, Qt
from PySide6.QtGui import QPixmap
from PySide6.QtWidgets import QApplication

from planebench.catalog.catalog import Catalog
from planebench.catalog.program_settings import ProgramSettingsFile
from planebench.catalog.summary import fold
from planebench.catalog.tools import NewTool, ToolFilter
from planebench.window import routes
from planebench.window.main_window import MainWindow
from planebench.window.program import program_services
from planebench.window.screens.batch.batch_screen import BatchScreen
from planebench.window.screens.photo_import.photo_import_screen import PhotoImportScreen
from planebench.window.thread_switching import tune_threads
from tests.catalog.shots import shot
from tests.journeys.test_window_never_waits import Watcher

TOOLS, BATCHES = 20_000, 40
Folders = tuple[Path, Path]
Begin = Callable[[Path], MainWindow]
KINDS = ("block", "smoothing", "jack", "shoulder")
FRAME = 0.050
pytestmark = [pytest.mark.benchmark, pytest.mark.timeout(3000)]


def now() -> dt.datetime:
    return dt.datetime.now(dt.UTC)


def say(line: str) -> None:
    print(f"\n{line}")  # noqa: T201 -- a benchmark says what it measured


@pytest.fixture(scope="module")
def folders(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Path]:
    """An empty catalog and one of 20,000 tools."""
    place = tmp_path_factory.mktemp("store")
    for name in ("empty", "large"):
        Catalog.make(place / name, who="R. Fenn", clock=now, cache=place / "cache").close()
    catalog = Catalog.open(place / "large", who="R. Fenn", clock=now, cache=place / "cache")
    for number in range(BATCHES):
        batch = catalog.batches.add(code=f"LOT{number:02}").id
        lines = [
            NewTool(
                kind=KINDS[tool % len(KINDS)],
                maker="Halbeck & Son" if tool % 3 else "Tarrow",
                model=f"No. {tool % 97}",
                note="mouth chipped" if tool % 11 == 0 else "",
            )
            for tool in range(TOOLS // BATCHES)
        ]
        catalog.tools.add_lines(batch, lines)
    catalog.close()
    return place / "empty", place / "large"


@pytest.fixture
def begin(qapp: QApplication, folders: tuple[Path, Path]) -> Iterator[Callable[[Path], MainWindow]]:
    """Start the window on a catalog and give it once its first rows are painted."""
    started: list[MainWindow] = []

    def start(folder: Path) -> MainWindow:
        place = folder.parent
        ways_in = program_services(now, home=place, cache=place / "cache")
        workshop = MainWindow(qapp, ways_in, ProgramSettingsFile(place / "settings.json"))
        started.append(workshop)
        workshop.frame.resize(1440, 900)
        workshop.frame.show()
        workshop.open_catalog(folder)
        wait(lambda: workshop.catalog is not None)
        painted(workshop)
        tune_threads()
        return workshop

    yield start
    for workshop in started:
        if workshop.catalog is not None:
            end(workshop)


def end(workshop: MainWindow) -> None:
    workshop.close()
    workshop.frame.close()
    for part in (workshop.theme._ring, workshop.theme, workshop.frame, workshop):
        part.deleteLater()
    # Now, not some time later: what stays alive is dressed anew with each start.
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)


def wait(until: Callable[[], bool]) -> None:
    ends = time.monotonic() + 60
    while not until():
        QApplication.processEvents()
        assert time.monotonic() < ends


def painted(workshop: MainWindow) -> None:
    """Wait until nothing is asked any more, also not by painting."""
    wait(lambda: not workshop.jobs.open_jobs)
    workshop.frame.render(QPixmap(workshop.frame.size()))
    wait(lambda: not workshop.jobs.open_jobs)
    workshop.frame.render(QPixmap(workshop.frame.size()))


def timed(work: Callable[[], object]) -> float:
    began = time.perf_counter()
    work()
    return time.perf_counter() - began


def best_of(work: Callable[[], object], times: int = 5) -> float:
    return min(timed(work) for _ in range(times))


def all_tools(workshop: MainWindow) -> BatchScreen:
    workshop.go(routes.BatchRoute())
    painted(workshop)
    screen = workshop.place
    assert isinstance(screen, BatchScreen)
    return screen


@pytest.mark.parametrize(
    "way", [routes.BatchesRoute(), routes.BatchRoute()], ids=["batches", "all tools"]
)
def test_start_to_a_usable_window(begin: Begin, folders: Folders, way: routes.Route) -> None:
    def started(folder: Path) -> float:
        began = time.perf_counter()
        workshop = begin(folder)
        if way != routes.BatchesRoute():
            workshop.go(way)
            painted(workshop)
        took = time.perf_counter() - began
        end(workshop)
        return took

    started(folders[0])
    small = min(started(folders[0]) for _ in range(5))
    large = min(started(folders[1]) for _ in range(5))

    say(f"start: {large * 1e3:.0f} ms, empty {small * 1e3:.0f} ms, ratio {large / small:.2f}")
    assert large < 2 * small + 0.5


def plain_scan(texts: list[str], words: str) -> list[int]:
    wanted = fold(words).split()
    return [at for at, text in enumerate(texts) if all(word in text for word in wanted)]


@pytest.mark.parametrize("words", ["h", "halbeck chipped", "lot07-33", "zzz"])
def test_search_as_one_types(begin: Begin, folders: Folders, words: str) -> None:
    workshop = begin(folders[1])
    screen = all_tools(workshop)
    catalog = workshop.catalog
    assert catalog is not None
    lines = catalog.tools.lines(catalog.tools.find(ToolFilter()))
    texts = [
        fold(f"{line.stock_number} {line.title} {line.subtitle} {line.status}")
        for line in lines.values()
    ]

    def searched() -> None:
        screen.search("")
        wait(lambda: not screen._typing._timer.isActive() and not workshop.jobs.open_jobs)
        began = time.perf_counter()
        screen.search(words)
        wait(lambda: not workshop.jobs.open_jobs)
        painted(workshop)
        took.append(time.perf_counter() - began)

    took: list[float] = []
    for _ in range(5):
        searched()
    plain = best_of(lambda: plain_scan(texts, words))
    say(
        f"search “{words}”: {len(screen.list.model.tools)} found and shown in"
        f" {min(took) * 1e3:.0f} ms; plain scan of the texts {plain * 1e3:.1f} ms, ratio"
        f" {min(took) / plain:.0f}"
    )
    assert min(took) < 0.5


def test_filter_by_what_is_missing(begin: Begin, folders: Folders) -> None:
    workshop = begin(folders[1])
    screen = all_tools(workshop)

    def filtered() -> None:
        screen.list.switches["date"].toggle()
        painted(workshop)

    took = best_of(filtered)
    say(f"filter of {TOOLS} tools by what is missing, shown: {took * 1e3:.0f} ms")
    assert took < 0.5


def test_scrolling_through_all(begin: Begin, folders: Folders) -> None:
    workshop = begin(folders[1])
    screen = all_tools(workshop)
    rows = screen.list.rows
    bar = rows.verticalScrollBar()
    took: list[float] = []
    shown: list[float] = []
    for step in range(200):
        began = time.perf_counter()
        bar.setValue(bar.maximum() * step // 199)
        QApplication.processEvents()
        took.append(time.perf_counter() - began)
        if step % 20 == 0:
            wait(lambda: not workshop.jobs.open_jobs)
            shown.append(time.perf_counter() - began)
    took.sort()
    say(
        f"200 jumps through {TOOLS} rows: median {took[100] * 1e3:.0f} ms, largest"
        f" {took[-1] * 1e3:.0f} ms; rows filled after {max(shown) * 1e3:.0f} ms at most"
    )
    assert took[100] < FRAME


def test_one_row_down(begin: Begin, folders: Folders, qtbot) -> None:
    workshop = begin(folders[1])
    screen = all_tools(workshop)
    screen.list.rows.setFocus()

    def down() -> None:
        qtbot.keyClick(screen.list.rows, Qt.Key.Key_Down)
        QApplication.processEvents()

    took = sorted(timed(down) for _ in range(100))
    say(f"one row down: median {took[50] * 1e3:.1f} ms, largest {took[-1] * 1e3:.0f} ms")
    assert took[50] < FRAME


def is_in(workshop: MainWindow, screen: PhotoImportScreen) -> bool:
    return not screen.busy and not workshop.jobs.open_jobs


def test_gaps_while_photographs_come_in(begin: Begin, folders: Folders, tmp_path: Path) -> None:
    """Into no batch, so that any tool may be meant; the best of three, for others work here too."""
    workshop = begin(folders[1])
    largest: list[float] = []
    for turn in range(3):
        card = tmp_path / f"card {turn}"
        for number in range(200):
            shot(card / f"PL-{number:04}.jpg", seed=1000 * turn + number, size=(480, 320))
        workshop.go(routes.ImportRoute())
        painted(workshop)
        screen = workshop.place
        assert isinstance(screen, PhotoImportScreen)
        watcher = Watcher()
        screen.take((card,))
        wait(partial(is_in, workshop, screen))
        largest.append(watcher.stop())
        workshop.up()
        painted(workshop)

    told = ", ".join(f"{gap * 1e3:.0f}" for gap in largest)
    say(f"200 photographs into a catalog of {TOOLS} tools, three times: largest gaps {told} ms")
    assert min(largest) < FRAME


def test_gaps_while_a_folder_is_watched(begin: Begin, folders: Folders, tmp_path: Path) -> None:
    """Five lots of forty photographs come into a watched folder, one after another."""
    workshop = begin(folders[1])
    camera, card = tmp_path / "camera", tmp_path / "card"
    card.mkdir()
    for number in range(200):
        shot(camera / f"PL-{number:03}.jpg", seed=5000 + number, size=(480, 320))
    shots = sorted(camera.iterdir())
    workshop.go(routes.ImportRoute())
    painted(workshop)
    screen = workshop.place
    assert isinstance(screen, PhotoImportScreen)
    watcher = Watcher()
    screen.take((card,), watching=True)
    for end_of_lot in range(40, 201, 40):
        for path in shots[end_of_lot - 40 : end_of_lot]:
            path.rename(card / path.name)
        wait(lambda: screen._summary.counts[0] == end_of_lot)  # noqa: B023 -- at once
    largest = watcher.stop()
    screen.progress_page.stop_wanted.emit()
    wait(partial(is_in, workshop, screen))

    say(f"200 photographs into a watched folder, {TOOLS} tools: largest gap {largest * 1e3:.0f} ms")
    assert largest < FRAME
