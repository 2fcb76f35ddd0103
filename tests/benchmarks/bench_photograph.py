"""The work on one large photograph: opening, zooming, panning, and from a stroke to its reading.

PLANEBENCH_PHOTOS names a folder with large/: photographs of 24 megapixels. One of them, enlarged
to 50 megapixels, is opened, too. Run: pytest tests/benchmarks/bench_photograph.py -s
"""

from __future__ import annotations

import datetime as dt
import os
import statistics
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from PIL import Image
from PySide6.QtCore import QEventLoop, QPoint, QPointF, Qt, QTimer
from PySide6.QtGui import QWheelEvent
from PySide6.QtWidgets import QApplication

from planebench.catalog.catalog import Catalog
from planebench.catalog.import_types import Destination
from planebench.catalog.photo_import import import_photographs
from planebench.catalog.program_settings import ProgramSettingsFile
from planebench.catalog.tools import NewTool
from planebench.window import routes
from planebench.window.main_window import MainWindow
from planebench.window.program import program_services
from planebench.window.screens.photograph.photograph_screen import PhotographScreen
from planebench.window.screens.photograph.photograph_view import PhotographView
from planebench.window.thread_switching import tune_threads

PHOTOGRAPHS = os.environ.get("PLANEBENCH_PHOTOS", "")
pytestmark = [
    pytest.mark.benchmark,
    pytest.mark.skipif(not PHOTOGRAPHS, reason="PLANEBENCH_PHOTOS names no photographs"),
    pytest.mark.timeout(900),
]
NAME = "L01_before_1.jpg"
LARGE = (8700, 5800)
# The inside of the body on the photograph of 24 megapixels.
RING = ((1150, 700), (2400, 380), (3600, 400), (4900, 850), (4800, 1450), (1200, 1430))
LEFT = Qt.MouseButton.LeftButton
STROKES = 8
SMALL = 320


def now() -> dt.datetime:
    return dt.datetime.now(dt.UTC)


def say(line: str) -> None:
    print(f"\n{line}")  # noqa: T201 -- a benchmark says what it measured


def wait(until: Callable[[], bool]) -> None:
    ends = time.monotonic() + 60
    ticks = QTimer(timerType=Qt.TimerType.PreciseTimer, interval=2)
    ticks.start()
    while not until():
        # Asleep between events, as the window is: a loop that spins would take a core.
        QApplication.processEvents(QEventLoop.ProcessEventsFlag.WaitForMoreEvents)
        assert time.monotonic() < ends


@pytest.fixture(scope="module")
def files(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Path]:
    """A photograph of 24 megapixels, and the same enlarged to 50."""
    usual = Path(PHOTOGRAPHS) / "large" / NAME
    larger = tmp_path_factory.mktemp("large") / "large.jpg"
    with Image.open(usual) as image:
        image.resize(LARGE, Image.Resampling.LANCZOS).save(larger, quality=92)
    return usual, larger


@pytest.fixture(scope="module")
def folder(files: tuple[Path, Path], tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A catalog of one tool with both photographs; the first has an outline."""
    place = tmp_path_factory.mktemp("store")
    with_cache = place / "cache"
    catalog = Catalog.make(place / "one", who="R. Fenn", clock=now, cache=with_cache)
    batch = catalog.batches.add(code="LOT7").id
    tool = catalog.tools.add(batch, NewTool(kind="block")).id
    import_photographs(catalog, files, to=Destination(batch=batch, tool=tool))
    record = catalog.tools.one(tool)
    polygons = {"polygons": [{"outer": [list(point) for point in RING], "holes": []}]}
    usual = next(one for one in record.photographs if one.width < LARGE[0])
    surface = record.surfaces[0]
    catalog.outlines.add(usual.id, surface.id, finish="japanning", polygons=polygons)
    catalog.close()
    return place / "one"


@pytest.fixture
def workshop(qapp: QApplication, folder: Path) -> Iterator[MainWindow]:
    place = folder.parent
    ways_in = program_services(now, home=place, cache=place / "cache")
    shop = MainWindow(qapp, ways_in, ProgramSettingsFile(place / "settings.json"))
    shop.frame.resize(1600, 1000)
    shop.frame.show()
    shop.open_catalog(folder)
    wait(lambda: shop.catalog is not None)
    wait(lambda: not shop.jobs.open_jobs)
    tune_threads()
    yield shop
    shop.close()
    shop.frame.close()


def gone_to(workshop: MainWindow, *, large: bool) -> PhotographScreen:
    catalog = workshop.catalog
    assert catalog is not None
    tool = catalog.tools.by_stock_number("LOT7-001")
    photographs = catalog.tools.one(tool).photographs
    wanted = next(one for one in photographs if (one.width == LARGE[0]) is large)
    workshop.go(routes.PhotographRoute(photograph=wanted.id))
    screen = workshop.place
    assert isinstance(screen, PhotographScreen)
    return screen


class Gaps:
    """Hears how long the window's thread was busy between two turns, by clock and by its work.

    On a machine busy with other things the clock tells of those, too.
    """

    def __init__(self) -> None:
        self.found: list[tuple[float, float]] = []
        self._last = time.perf_counter(), time.thread_time()
        self._timer = QTimer(timerType=Qt.TimerType.PreciseTimer, interval=1)
        self._timer.timeout.connect(self._beat)
        self._timer.start()

    def _beat(self) -> None:
        here = time.perf_counter(), time.thread_time()
        self.found.append((here[0] - self._last[0], here[1] - self._last[1]))
        self._last = here

    def end(self) -> str:
        self._timer.stop()
        by_clock, by_work = (sorted(gaps)[-3:][::-1] for gaps in zip(*self.found, strict=True))
        told = (", ".join(f"{1e3 * gap:.0f}" for gap in gaps) for gaps in (by_clock, by_work))
        return " ms by the clock, ".join(told) + " ms of work"


def judged_strokes(screen: PhotographScreen) -> int:
    judged = screen.outlines._judged
    return -1 if judged is None else len(judged.asked.strokes)


def memory() -> int:
    """Return the bytes that this program holds in memory (Linux alone tells)."""
    pages = int(Path("/proc/self/statm").read_text("ascii").split()[1])
    return pages * os.sysconf("SC_PAGE_SIZE")


def decoding(file: Path) -> float:
    began = time.perf_counter()
    with Image.open(file) as image:
        image.convert("RGB").load()
    return time.perf_counter() - began


def test_from_a_stroke_to_the_new_reading(workshop, files, qtbot) -> None:
    screen = gone_to(workshop, large=False)
    wait(lambda: not workshop.jobs.open_jobs)
    screen.outlines.choose(screen.outlines.lines()[0].outline)
    wait(lambda: screen.outlines.can_record and not workshop.jobs.open_jobs)
    screen.take("kept")
    view, took, asked = screen.view, [], []
    for number in range(STROKES):
        screen.take("kept" if number % 2 else "lost")
        x, y = 1500 + 380 * number, 800 + 60 * (number % 4)
        start, end = (view.viewport.to_screen(QPointF(x + d, y)).toPoint() for d in (0, 120))
        qtbot.mousePress(view, LEFT, pos=start)
        qtbot.mouseMove(view, end)
        QApplication.processEvents()
        began = time.perf_counter()
        qtbot.mouseRelease(view, LEFT, pos=end)
        wanted = number + 1
        wait(lambda: judged_strokes(screen) == wanted)  # noqa: B023 -- called at once
        asked.append(time.perf_counter() - began)
        screen.repaint()
        took.append(time.perf_counter() - began)
        wait(lambda: not workshop.jobs.open_jobs)
    plain = decoding(files[0])
    middle = statistics.median(took)
    say(
        f"stroke to reading shown, 24 megapixels: median {1e3 * middle:.0f} ms, longest"
        f" {1e3 * max(took):.0f} (before painting {1e3 * statistics.median(asked):.0f});"
        f" decoding alone {1e3 * plain:.0f} ms, ratio {middle / plain:.2f}"
    )


def test_opening_fifty_megapixels_to_first_view(workshop, files) -> None:
    before, peak = memory(), 0
    gaps = Gaps()
    began = time.perf_counter()
    screen = gone_to(workshop, large=True)
    wait(lambda: screen.view.has_picture)
    screen.repaint()
    first = time.perf_counter() - began
    wait(lambda: screen.view._picture.levels[0].width() > SMALL)
    screen.repaint()
    sharp = time.perf_counter() - began

    def whole_there() -> bool:
        nonlocal peak
        peak = max(peak, memory())
        return not workshop.jobs.open_jobs and screen._loaded is not None

    wait(whole_there)
    screen.repaint()
    whole = time.perf_counter() - began
    longest = gaps.end()
    plain = decoding(files[1])
    say(
        f"50 megapixels: first view {1e3 * first:.0f} ms, sharp in the window"
        f" {1e3 * sharp:.0f}, whole {1e3 * whole:.0f} ms; decoding"
        f" alone {1e3 * plain:.0f} ms, ratio {first / plain:.2f} and {whole / plain:.2f};"
        f" {(peak - before) / 1e6:.0f} MB more; longest gaps {longest}"
    )


@pytest.mark.parametrize("hatched", [False, True], ids=["50 megapixels", "24, hatched"])
def test_zooming_and_panning(workshop, request, *, hatched: bool) -> None:
    screen = gone_to(workshop, large=not hatched)
    wait(lambda: screen._loaded is not None and not workshop.jobs.open_jobs)
    if hatched:
        screen.outlines.choose(screen.outlines.lines()[0].outline)
        wait(lambda: screen.outlines.can_record and not workshop.jobs.open_jobs)
    zoomed = [wheel(screen.view, by) for by in [40] * 60 + [-40] * 60]
    screen.view.one_to_one()
    panned = [pan(screen.view, QPointF(-17 if step % 2 else 9, -7)) for step in range(60)]
    for words, took in (("zoomed", zoomed), ("panned", panned)):
        took.sort()
        say(
            f"{request.node.callspec.id}, {words}: a frame in {1e3 * took[len(took) // 2]:.1f} ms,"
            f" longest {1e3 * took[-1]:.0f}"
        )


def wheel(view: PhotographView, by: int) -> float:
    at = QPointF(view.width() * 0.4, view.height() * 0.5)
    spin = QWheelEvent(
        at,
        QPointF(view.mapToGlobal(at.toPoint())),
        QPoint(),
        QPoint(0, by),
        Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.NoModifier,
        Qt.ScrollPhase.NoScrollPhase,
        False,  # noqa: FBT003 -- Qt's own call takes it by place alone
    )
    began = time.perf_counter()
    QApplication.sendEvent(view, spin)
    view.repaint()
    return time.perf_counter() - began


def pan(view: PhotographView, way: QPointF) -> float:
    began = time.perf_counter()
    view.viewport.move_by(way)
    view.view_changed.emit()
    view.repaint()
    return time.perf_counter() - began
