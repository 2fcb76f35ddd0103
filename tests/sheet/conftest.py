"""A press, printed examples, and a catalog with one plane whose record is complete enough."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Iterator
from decimal import Decimal
from pathlib import Path

import pytest

from planebench.catalog.catalog import Catalog
from planebench.catalog.ids import PhotographId, ToolId, new_id
from planebench.catalog.originals import sha256_of
from planebench.catalog.photographs import PinPosition
from planebench.catalog.readings import NewReading
from planebench.catalog.reference import resources_folder
from planebench.catalog.settings import CatalogSettings
from planebench.catalog.tables import OriginalRow, PhotographRow
from planebench.catalog.tools import NewTool
from planebench.photo.decode import probe
from planebench.sheet.pdf import SheetPress
from planebench.trade.shares import Share
from planebench.trade.terms import Basis, PartStatus, Stage, ToolStatus
from tests.sheet.examples import FINISHED, FOUND

AT = dt.datetime(2026, 5, 12, 10, 0, tzinfo=dt.UTC)


@pytest.fixture(scope="session")
def press() -> SheetPress:
    return SheetPress(resources_folder(), system_fonts=False)


@pytest.fixture(scope="session")
def empty_shop(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Catalog]:
    folder = tmp_path_factory.mktemp("shop") / "Wendholm workshop"
    catalog = Catalog.make(folder, who="R. Fenn", clock=lambda: AT)
    catalog.settings.write(
        CatalogSettings(
            workshop="Wendholm Workshop",
            person="R. Fenn",
            address="12 Tannery Row\nWendholm",
            contact="hello@wendholm.example",
            guarantee="Send it back within 14 days for any reason.",
        )
    )
    catalog.batches.add(code="LOT7", title="House clearance, Orrin Vale")
    yield catalog
    catalog.close()


@pytest.fixture
def new_tool(empty_shop: Catalog) -> Callable[..., ToolId]:
    batch = empty_shop.batches.by_code("LOT7")

    def made(kind: str = "smoothing", **fields: str) -> ToolId:
        assert batch is not None
        return empty_shop.tools.add(batch.id, NewTool(kind=kind, **fields)).id

    return made


@pytest.fixture
def told_tool(empty_shop: Catalog, new_tool: Callable[..., ToolId]) -> ToolId:
    """A smoothing plane with photographs, readings, a defect, signs, lengths and work."""
    tool = new_tool(maker="Halbeck & Son", model="pattern K")
    found = take_in(empty_shop, FOUND, tool, Stage.AS_FOUND)
    finished = take_in(empty_shop, FINISHED, tool, Stage.FINISHED)
    empty_shop.pairs.add(found, finished)
    _say_of_parts(empty_shop, tool)
    _read(empty_shop, tool)
    chip = empty_shop.defects.add(
        tool, kind="chip", severity="slight", place="rear edge of the mouth", size="1.7 x 1.6 mm"
    )
    empty_shop.pins.add_defect(
        finished, chip.id, PinPosition(x=0.6, y=0.4, balloon_x=0.7, balloon_y=0.2)
    )
    _evidence(empty_shop, tool, "body", "Foundry mark", (1909, 1918))
    _evidence(empty_shop, tool, "cutter", "Stock code", (1934, 1941))
    empty_shop.dimensions.add(
        tool,
        what="sole_length",
        value=Decimal("237.3"),
        plus_minus=Decimal("0.5"),
        basis=Basis.MEASURED,
    )
    empty_shop.bench_log.add(
        tool,
        kind="rejapan",
        what="New japanning over losses",
        materials="asphaltum varnish, two coats",
        done_on=dt.date(2026, 5, 1),
        disclosed=True,
    )
    empty_shop.tools.change(
        tool,
        status=ToolStatus.FINISHED,
        work_finished=True,
        defects_inspected=True,
        asking=Decimal("165.00"),
    )
    return tool


def take_in(catalog: Catalog, file: Path, tool: ToolId, stage: Stage) -> PhotographId:
    data, facts = file.read_bytes(), probe(file)
    sha256 = sha256_of(data)
    catalog.originals.store(data, sha256=sha256, suffix=file.suffix)
    photograph = new_id()
    with catalog.store.edit("photograph added") as edit:
        if edit.session.get(OriginalRow, sha256) is None:
            edit.session.add(
                OriginalRow(
                    sha256=sha256,
                    suffix=file.suffix,
                    size=len(data),
                    format=facts.format,
                    width=facts.width,
                    height=facts.height,
                    stored_at=edit.at,
                )
            )
            edit.session.flush()
        edit.session.add(
            PhotographRow(
                id=photograph,
                sha256=sha256,
                batch_id=catalog.tools.one(tool).batch,
                tool_id=tool,
                stage=stage,
                view="top",
                added_at=edit.at,
            )
        )
    return PhotographId(photograph)


def _say_of_parts(catalog: Catalog, tool: ToolId) -> None:
    for part in catalog.tools.one(tool).parts:
        status = PartStatus.NOT_ORIGINAL if part.code == "cutter" else PartStatus.PRESENT
        if part.code != "adjusting_wheel":
            catalog.parts.change(part.id, status=status)


def _read(catalog: Catalog, tool: ToolId) -> None:
    surface = catalog.tools.one(tool).surfaces[0].id
    for stage, value, basis in (
        (Stage.AS_FOUND, "0.81", Basis.BY_EYE),
        (Stage.FINISHED, "0.97", Basis.MEASURED),
    ):
        share = Decimal(value)
        catalog.readings.add(
            NewReading(
                tool=tool,
                surface=surface,
                stage=stage,
                share=Share(
                    value=share,
                    low=share - Decimal("0.02"),
                    high=share + Decimal("0.02"),
                    basis=basis,
                ),
                new_finish=Share(
                    value=Decimal("0.21"),
                    low=Decimal("0.18"),
                    high=Decimal("0.25"),
                    basis=Basis.MEASURED,
                )
                if stage is Stage.FINISHED
                else None,
            )
        )


def _evidence(catalog: Catalog, tool: ToolId, part: str, seen: str, years: tuple[int, int]) -> None:
    parts = {one.code: one.id for one in catalog.tools.one(tool).parts}
    catalog.evidence.add(
        tool,
        part_id=parts[part],
        seen=seen,
        not_before=years[0],
        not_after=years[1],
        sure=Decimal("0.9"),
        source="Halbeck type study, invented",
    )
