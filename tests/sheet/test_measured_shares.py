"""What a sheet says of measured shares: what they were read on, rust by itself, drawings."""

from __future__ import annotations

import datetime as dt
import io
from decimal import Decimal

import pytest
from pypdf import PdfReader

from planebench.catalog.catalog import Catalog
from planebench.catalog.ids import ToolId
from planebench.catalog.readings import NewReading
from planebench.catalog.values import ReadingArea
from planebench.sheet.compose import compose
from planebench.sheet.content import SheetContent
from planebench.sheet.pdf import SheetPress
from planebench.sheet.web_page import web_page
from planebench.trade.shares import Share
from planebench.trade.terms import Basis, Stage

AT = dt.datetime(2026, 5, 12, 10, 0, tzinfo=dt.UTC)
SQUARE = [[100, 100], [900, 100], [900, 500], [100, 500]]
SPOT = [[300, 200], [500, 200], [500, 400], [300, 400]]
TOP_ONLY = (
    "Measured on the top view; not seen whole on any view: the inner faces of the cheeks and what "
    "is under the cutter."
)


@pytest.fixture
def tool(sample: Catalog) -> ToolId:
    """Return a plane of the sample whose bed was measured on its top, as found and finished."""
    found = sample.tools.by_stock_number("LOT7-008")
    assert found is not None
    return found


@pytest.fixture
def rusted(sample: Catalog, tool: ToolId) -> ToolId:
    """Measure rust on its sole, 12% of it."""
    record = sample.tools.one(tool)
    kind = sample.kinds.all()[record.kind]
    sole = next(one for one in kind.bare if one.code == "sole")
    photograph = next(one for one in record.photographs if one.view == "sole")
    sample.photographs.change([photograph.id], stage=Stage.FINISHED)
    polygons = {"polygons": [{"outer": SQUARE, "holes": []}]}
    outline = sample.outlines.add(photograph.id, sole, finish="rust", polygons=polygons).id
    share = Share(
        value=Decimal("0.12"), low=Decimal("0.09"), high=Decimal("0.17"), basis=Basis.MEASURED
    )
    area = ReadingArea(
        outline=outline,
        photograph=photograph.id,
        kept_px=88,
        lost_px=12,
        cannot_tell_px=0,
        area_mm2=None,
        share={"value": "0.12", "low": "0.09", "high": "0.17", "lost": [SPOT]},
    )
    surface = sample.tools.one(tool).surfaces[-1]
    sample.readings.add(
        NewReading(
            tool=tool,
            surface=surface.id,
            stage=Stage.FINISHED,
            share=share,
            rust=True,
            areas=(area,),
        )
    )
    return tool


def printed(press: SheetPress, content: SheetContent) -> str:
    pdf = press.print([content], at=AT).pdf
    pages = [page.extract_text() for page in PdfReader(io.BytesIO(pdf)).pages]
    return " ".join(" ".join(pages).split())


def test_a_measured_share_says_what_it_was_read_on_and_one_by_eye_does_not(
    sample: Catalog, tool: ToolId
) -> None:
    lines = {line.surface: line for line in compose(sample, tool).finish}

    assert lines["Bed and cheeks"].covered == TOP_ONLY
    by_eye = [one for one in lines.values() if "measured" not in one.bars[-1].basis]
    assert {line.covered for line in by_eye} == {""}


def test_the_printed_sheet_and_the_web_page_say_it(
    sample: Catalog, tool: ToolId, press: SheetPress
) -> None:
    content = compose(sample, tool)

    assert TOP_ONLY in printed(press, content)
    assert TOP_ONLY in web_page(content)


def test_bare_metal_is_told_where_its_rust_was_read_and_nowhere_else(
    sample: Catalog, rusted: ToolId
) -> None:
    content = compose(sample, rusted)
    iron = {line.surface: line for line in content.iron}

    assert "Sole" not in {line.surface for line in content.finish}
    assert iron["Sole"].bars[-1].shares[1].words == "12%"
    assert iron["Sole"].covered == "Measured on the sole view."


def test_a_bare_surface_of_which_nothing_was_read_is_not_on_the_sheet(
    sample: Catalog, tool: ToolId
) -> None:
    before = compose(sample, tool)
    sample.surfaces.add(tool, name="Left cheek", finish="bare_metal", position=90, parts=[])

    assert compose(sample, tool) == before


def test_rust_is_drawn_and_its_hatch_is_named(
    sample: Catalog, rusted: ToolId, press: SheetPress
) -> None:
    content = compose(sample, rusted)
    rust = content.drawings[-1]
    words = printed(press, content)

    assert (rust.name, rust.rust) == ("Rust, sole", True)
    assert rust.alternative == "Drawing of the outline measured: Rust, sole. 12% of it rusted."
    assert len(rust.lost) == 1
    assert "bare; rust" in words
    assert "first finish; metal without rust" in words


def test_a_drawing_tells_the_share_of_its_own_outline(sample: Catalog, tool: ToolId) -> None:
    drawing = compose(sample, tool).drawings[0]

    assert drawing.alternative.startswith("Drawing of the outline measured: Bed and cheeks, top. ")
    assert drawing.alternative.endswith(" of it with finish.")
