"""An empty catalog made once and copied, and a clock that goes a minute a look."""

import datetime as dt
import shutil
from collections.abc import Callable, Iterator
from itertools import count
from pathlib import Path

import pytest

from planebench.catalog.catalog import Catalog
from planebench.catalog.ids import BatchId, ToolId
from planebench.catalog.tools import NewTool
from planebench.catalog.values import Tool

START = dt.datetime(2026, 3, 14, 9, 0, tzinfo=dt.UTC)


@pytest.fixture
def clock() -> Callable[[], dt.datetime]:
    minutes = count()
    return lambda: START + dt.timedelta(minutes=next(minutes))


@pytest.fixture(scope="session")
def template(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("template") / "Wendholm workshop"
    Catalog.make(folder, who="R. Fenn", clock=lambda: START).close()
    return folder


@pytest.fixture
def empty_folder(template: Path, tmp_path: Path) -> Path:
    folder = tmp_path / template.name
    shutil.copytree(template, folder)
    return folder


@pytest.fixture
def empty_catalog(empty_folder: Path, clock: Callable[[], dt.datetime]) -> Iterator[Catalog]:
    cache = empty_folder.parent / "cache"
    catalog = Catalog.open(empty_folder, who="R. Fenn", clock=clock, cache=cache)
    yield catalog
    catalog.close()


@pytest.fixture
def batch(empty_catalog: Catalog) -> BatchId:
    return empty_catalog.batches.add(code="LOT7", title="House clearance, Orrin Vale").id


@pytest.fixture
def tool_id(empty_catalog: Catalog, batch: BatchId) -> ToolId:
    new = NewTool(kind="smoothing", maker="Halbeck & Son", model="No. 23")
    return empty_catalog.tools.add(batch, new).id


@pytest.fixture
def tool(empty_catalog: Catalog, tool_id: ToolId) -> Tool:
    return empty_catalog.tools.one(tool_id)


@pytest.fixture
def catalog_with_batch(empty_catalog: Catalog, tool_id: ToolId) -> Catalog:
    return empty_catalog
