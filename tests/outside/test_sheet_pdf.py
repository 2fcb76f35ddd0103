"""The printed sheet read back by others: pypdf, pikepdf (qpdf) and pdftotext (Poppler).

What is asked for is named in ISO 14289-1 (PDF/UA-1) and ISO 19005-3 (PDF/A-3a); Typst refuses to
write a file that its own checks of both find wanting.
"""

from __future__ import annotations

import datetime as dt
import io
import shutil
import subprocess
from collections.abc import Iterator
from dataclasses import replace

import numpy as np
import pikepdf
import pytest
from PIL import Image
from pypdf import PdfReader

from planebench.catalog.reference import resources_folder
from planebench.sheet.content import Paper, SheetChoices
from planebench.sheet.pdf import SheetPress
from tests.sheet.examples import bare, full, overlong

AT = dt.datetime(2026, 5, 12, 10, 0, tzinfo=dt.UTC)
MM = 72 / 25.4


@pytest.fixture(scope="module")
def pdf() -> bytes:
    return SheetPress(resources_folder()).print([full()], at=AT).pdf


@pytest.fixture(scope="module")
def opened(pdf: bytes) -> Iterator[pikepdf.Pdf]:
    with pikepdf.open(io.BytesIO(pdf)) as document:
        yield document


def _elements(node: pikepdf.Object) -> Iterator[pikepdf.Dictionary]:
    if isinstance(node, pikepdf.Array):
        for child in node:
            yield from _elements(child)
    elif isinstance(node, pikepdf.Dictionary) and "/S" in node:
        yield node
        if "/K" in node:
            yield from _elements(node["/K"])


@pytest.mark.parametrize(
    ("paper", "width", "height"),
    [
        # ANSI/ASME Y14.1, size A: 8 1/2 x 11 in.
        (Paper.LETTER, 612.0, 792.0),
        # ISO 216, A4: 210 x 297 mm.
        (Paper.A4, 210 * MM, 297 * MM),
    ],
)
def test_pages_have_the_size_of_the_paper(paper: Paper, width: float, height: float) -> None:
    content = replace(full(), choices=SheetChoices(paper=paper))
    reader = PdfReader(io.BytesIO(SheetPress(resources_folder()).print([content], at=AT).pdf))

    for page in reader.pages:
        assert float(page.mediabox.width) == pytest.approx(width, abs=0.02)
        assert float(page.mediabox.height) == pytest.approx(height, abs=0.02)


def test_the_file_says_that_it_meets_pdf_ua_1_and_pdf_a_3a(opened: pikepdf.Pdf) -> None:
    with opened.open_metadata() as told:
        assert told.get("pdfuaid:part") == "1"
        assert told.get("pdfaid:part") == "3"
        assert told.get("pdfaid:conformance") == "A"
        assert told.get("dc:title") == (
            "Condition sheet 0417: Smoothing plane, Halbeck & Son pattern K"
        )


def test_it_is_tagged_titled_and_in_a_language(opened: pikepdf.Pdf) -> None:
    root = opened.Root

    assert bool(root.MarkInfo.Marked)
    assert "/K" in root.StructTreeRoot
    assert str(root.Lang) in {"en", "en-US"}
    assert bool(root.ViewerPreferences.DisplayDocTitle)


def test_headings_begin_at_the_first_level_and_tables_have_heads(opened: pikepdf.Pdf) -> None:
    kinds = [str(element["/S"]) for element in _elements(opened.Root.StructTreeRoot["/K"])]
    headings = [kind for kind in kinds if kind in {"/H1", "/H2", "/H3"}]

    assert headings[0] == "/H1"
    assert headings.count("/H1") == 1
    assert kinds.count("/Table") >= 4
    assert kinds.count("/TH") >= 7 + 6 + 4 + 4


def test_every_photograph_and_drawing_has_alternative_text(opened: pikepdf.Pdf) -> None:
    elements = _elements(opened.Root.StructTreeRoot["/K"])
    figures = [element for element in elements if str(element["/S"]) == "/Figure"]
    told = [str(figure.get("/Alt", "")) for figure in figures]

    assert all(told)
    for words in ("Finished, May 2, 2026", "As found, March 14, 2026", "Left side, as found"):
        assert sum(words in alternative for alternative in told) == 1
    assert sum("Outline of the" in alternative for alternative in told) == 2


def test_every_font_is_embedded(pdf: bytes) -> None:
    names: set[str] = set()
    for page in PdfReader(io.BytesIO(pdf)).pages:
        for reference in page["/Resources"]["/Font"].values():
            font = reference.get_object()
            descendant = font["/DescendantFonts"][0].get_object()
            descriptor = descendant["/FontDescriptor"].get_object()
            assert {"/FontFile2", "/FontFile3"} & set(descriptor)
            names.add(str(font["/BaseFont"]).split("+")[-1])

    assert {name.split("-")[0] for name in names} == {"PlanebenchSans", "Vollkorn"}


@pytest.mark.skipif(shutil.which("pdftotext") is None, reason="Poppler’s pdftotext is not here")
def test_poppler_reads_the_words_in_their_order(pdf: bytes) -> None:
    read = subprocess.run(
        ["pdftotext", "-raw", "-", "-"], input=pdf, capture_output=True, check=True
    )
    text = " ".join(read.stdout.decode("utf-8").split())
    wanted = (
        "Smoothing plane, Halbeck & Son pattern K",
        "Finish: how much is first, how much is new",
        "Problems",
        "Body, rear edge of the mouth",
        "Work that changes the tool",
        "Body, lever cap and knob: 1913 to 1918",
        "hello@wendholm.example",
    )
    places = [text.find(words) for words in wanted]

    assert -1 not in places
    assert places == sorted(places)


@pytest.mark.parametrize("content", [bare(), overlong()], ids=["bare", "overlong"])
def test_odd_records_meet_both_standards_as_well(content: object) -> None:
    assert isinstance(content, type(bare()))
    pdf = SheetPress(resources_folder()).print([content], at=AT).pdf

    with pikepdf.open(io.BytesIO(pdf)) as document, document.open_metadata() as told:
        assert told.get("pdfuaid:part") == "1"
        assert told.get("pdfaid:part") == "3"


@pytest.mark.skipif(shutil.which("pdftoppm") is None, reason="Poppler’s pdftoppm is not here")
@pytest.mark.parametrize(
    ("paper", "margin", "long_tick", "apart", "count"),
    [
        # One inch is 72 points; the rule is 7 1/2 in long.
        (Paper.LETTER, 36.0, 9.5, 72.0, 8),
        # One centimeter is 72 / 2.54 points; the rule is 18.5 cm long.
        (Paper.A4, 12.5 * MM, 8.5, 72 / 2.54, 19),
    ],
)
def test_the_rule_along_the_top_edge_is_true(
    paper: Paper, margin: float, long_tick: float, apart: float, count: int
) -> None:
    content = replace(full(), choices=SheetChoices(paper=paper))
    pdf = SheetPress(resources_folder()).print([content], at=AT).pdf
    dots = 288
    drawn = subprocess.run(
        ["pdftoppm", "-r", str(dots), "-f", "1", "-l", "1", "-gray", "-"],
        input=pdf,
        capture_output=True,
        check=True,
    )
    dark = np.asarray(Image.open(io.BytesIO(drawn.stdout))) < 128
    scale = dots / 72
    across = dark[:, int((margin + 2) * scale) : int((margin + 400) * scale)]
    top = int(np.flatnonzero(across.all(axis=1))[0])
    columns = np.flatnonzero(dark[top : top + int(long_tick * scale)].all(axis=0)) / scale
    ticks = [columns[np.abs(columns - (margin + n * apart)) < 1].mean() for n in range(count)]

    assert np.allclose(np.diff(ticks), apart, atol=0.3)
    assert ticks[-1] - ticks[0] == pytest.approx(apart * (count - 1), abs=0.4)
