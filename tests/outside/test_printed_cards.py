"""The printed card against OpenCV's detector and drawing, a second QR reader, and points."""

from __future__ import annotations

import io
import shutil
import subprocess
from datetime import UTC, datetime
from pathlib import Path

import cv2
import numpy as np
import pikepdf
import pytest
from numpy.typing import NDArray

from planebench.catalog.reference import resources_folder
from planebench.photo.card import find_card
from planebench.sheet.card_press import CardRun, print_cards
from planebench.sheet.content import Paper

AT = datetime(2026, 3, 14, 12, tzinfo=UTC)
# 1 in = 25.4 mm (international inch, 1959) = 72 pt (PDF, ISO 32000-1, 8.3.2.3).
PT_PER_MM = 72 / 25.4
# ANSI/ASME Y14.1 size A, 8.5 x 11 in; ISO 216 A4, 210 x 297 mm.
PAGE_PT = {Paper.LETTER: (612.0, 792.0), Paper.A4: (210 * PT_PER_MM, 297 * PT_PER_MM)}
DPI = 300
rasterizer = shutil.which("pdftoppm")
needs_rasterizer = pytest.mark.skipif(
    rasterizer is None, reason="pdftoppm (poppler-utils) is not installed"
)


def printed(run: CardRun) -> bytes:
    return print_cards(run, resources=resources_folder(), at=AT).pdf


def raster(pdf: bytes, folder: Path) -> NDArray[np.uint8]:
    """Rasterize the first page by Poppler, as a printer would."""
    (folder / "cards.pdf").write_bytes(pdf)
    command = ["pdftoppm", "-r", str(DPI), "-f", "1", "-l", "1", "-png", "-singlefile"]
    subprocess.run([*command, "cards.pdf", "page"], cwd=folder, check=True)
    page = cv2.imread(str(folder / "page.png"), cv2.IMREAD_COLOR_RGB)
    assert page is not None
    return np.asarray(page, dtype=np.uint8)


def boxes(pdf: bytes) -> NDArray[np.float64]:
    """Return N x 2 widths and heights in points of all paths painted on the first page."""
    with pikepdf.open(io.BytesIO(pdf)) as opened:
        page = opened.pages[0]
        forms = dict(page.resources.get("/XObject", {}).items())
        drawn = Drawn(forms)
        drawn.follow(page.obj, pikepdf.Matrix())
    return np.array(drawn.sizes)


class Drawn:
    """Follows a page's drawing, forms within it too, and keeps each path's size in points."""

    def __init__(self, forms: dict[str, pikepdf.Object]) -> None:
        self.sizes: list[tuple[float, float]] = []
        self._forms = forms

    def follow(self, content: pikepdf.Object, where: pikepdf.Matrix) -> None:
        stack: list[pikepdf.Matrix] = []
        corners: list[tuple[float, float]] = []
        for operands, operator in pikepdf.parse_content_stream(content):
            match str(operator):
                case "q":
                    stack.append(where)
                case "Q":
                    where = stack.pop()
                case "cm":
                    where = pikepdf.Matrix(*map(float, operands)) @ where
                case "m" | "l" | "re":
                    corners += [where.transform(corner) for corner in _corners(operands)]
                case "f" | "f*" | "B" | "S" | "n":
                    self._keep(corners, painted=str(operator) != "n")
                    corners = []
                case "Do":
                    self._draw(self._forms[str(operands[0])], where)

    def _keep(self, corners: list[tuple[float, float]], *, painted: bool) -> None:
        if painted and corners:
            width, height = np.ptp(np.array(corners), axis=0).tolist()
            self.sizes.append((width, height))

    def _draw(self, form: pikepdf.Object, where: pikepdf.Matrix) -> None:
        own = pikepdf.Matrix(*map(float, form.get("/Matrix", [1, 0, 0, 1, 0, 0])))
        self.follow(form, own @ where)


def _corners(operands: list[pikepdf.Object]) -> list[tuple[float, float]]:
    """Return the corners of a rectangle (x, y, width, height), or a single point."""
    x, y, *size = map(float, operands)
    return [(x, y), (x + size[0], y + size[1])] if size else [(x, y)]


@pytest.mark.parametrize("paper", list(Paper))
@pytest.mark.parametrize("correction", [1.0, 1.0123])
def test_markers_and_check_line_have_their_size_in_points(paper: Paper, correction: float) -> None:
    pdf = printed(CardRun(stocks=("LOT7-003",), paper=paper, correction=correction))
    sizes = boxes(pdf)
    marker, line = 15 * PT_PER_MM * correction, 100 * PT_PER_MM * correction
    squares = np.abs(sizes - marker).max(axis=1) < 0.01
    lines = np.abs(sizes - (line, 0)).max(axis=1) < 0.01

    assert np.count_nonzero(squares) == 4
    assert np.count_nonzero(lines) == 1
    with pikepdf.open(io.BytesIO(pdf)) as opened:
        box = [float(edge) for edge in opened.pages[0].mediabox]
    assert tuple(box[2:]) == pytest.approx(PAGE_PT[paper], abs=0.01)


@needs_rasterizer
@pytest.mark.parametrize("paper", list(Paper))
def test_opencvs_detector_finds_the_markers_in_their_places(paper: Paper, tmp_path: Path) -> None:
    page = raster(printed(CardRun(stocks=("LOT7-003",), paper=paper)), tmp_path)
    dictionary = cv2.aruco.getPredefinedDictionary(cv2.aruco.DICT_4X4_50)
    corners, numbers, _ = cv2.aruco.ArucoDetector(dictionary).detectMarkers(
        cv2.cvtColor(page, cv2.COLOR_RGB2GRAY)
    )
    found = {int(n): c.reshape(4, 2) for n, c in zip(np.ravel(numbers), corners, strict=True)}
    px = DPI / 25.4
    first = found[0][0]

    assert sorted(found) == [0, 1, 2, 3]
    for number, place in enumerate([(0, 0), (67, 0), (67, 37), (0, 37)]):
        square = np.array([(0, 0), (15, 0), (15, 15), (0, 15)]) + place
        assert np.abs((found[number] - first) / px - square).max() < 0.15


@needs_rasterizer
def test_markers_are_drawn_as_opencv_draws_them(tmp_path: Path) -> None:
    page = raster(printed(CardRun(stocks=("LOT7-003",))), tmp_path)
    reading = find_card(page)
    assert reading is not None
    tenths = np.array([[10, 0, -0.5], [0, 10, -0.5], [0, 0, 1.0]])
    flatten = tenths @ np.array(reading.matrix_px_to_mm)
    flat = cv2.warpPerspective(cv2.cvtColor(page, cv2.COLOR_RGB2GRAY), flatten, (900, 600))
    dictionary = cv2.aruco.getPredefinedDictionary(cv2.aruco.DICT_4X4_50)
    for number, (x, y) in enumerate([(40, 40), (710, 40), (710, 410), (40, 410)]):
        drawn = np.asarray(cv2.aruco.generateImageMarker(dictionary, number, 150)) > 0
        inked = flat[y : y + 150, x : x + 150] > 128
        assert np.mean(drawn != inked) < 0.02


@needs_rasterizer
@pytest.mark.parametrize("stock", ["LOT7-003", "WENDHOLM-2026-0417", "Größe 7/№ 3"])
def test_a_second_reader_reads_the_printed_code(stock: str, tmp_path: Path) -> None:
    # Reference: OpenCV's QRCodeDetector.
    page = raster(printed(CardRun(stocks=(stock,))), tmp_path)
    text, *_ = cv2.QRCodeDetector().detectAndDecode(page)

    assert text == f"PB:{stock}"


@needs_rasterizer
def test_the_program_reads_its_own_print_to_scale(tmp_path: Path) -> None:
    reading = find_card(raster(printed(CardRun(stocks=("LOT7-003",))), tmp_path))

    assert reading is not None
    assert reading.stock == "LOT7-003"
    assert reading.mm_per_px == pytest.approx(25.4 / DPI, rel=3e-4)
    assert reading.white_balance == pytest.approx((1, 1, 1), abs=0.01)
    assert reading.exposure_stops == pytest.approx(0, abs=0.05)
