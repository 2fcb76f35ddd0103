"""Catalogs for tests: an empty one and the sample, each made once and copied."""

import datetime as dt
import os
import shutil
from collections.abc import Callable, Iterator
from itertools import count
from pathlib import Path

import pytest

from planebench.catalog.catalog import Catalog
from planebench.catalog.ids import BatchId, ToolId
from planebench.catalog.reference import sample_source
from planebench.catalog.sample import SAMPLE_NAME, make_sample
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


@pytest.fixture(scope="session")
def sample_template(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("sample") / SAMPLE_NAME
    make_sample(folder, source=sample_source(), cache=folder.parent / "cache")
    return folder


@pytest.fixture
def sample_folder(sample_template: Path, tmp_path: Path) -> Path:
    folder = tmp_path / sample_template.name
    # Photographs are never rewritten, so links to them do for a copy.
    shutil.copytree(sample_template, folder, copy_function=_link_photographs)
    return folder


@pytest.fixture
def sample(sample_folder: Path, sample_template: Path) -> Iterator[Catalog]:
    """Return the sample catalog, open; its small pictures are shared by all tests."""
    cache = sample_template.parent / "cache"
    catalog = Catalog.open(
        sample_folder, who="R. Fenn", clock=lambda: dt.datetime.now(dt.UTC), cache=cache
    )
    yield catalog
    catalog.close()


def _link_photographs(source: str, target: str) -> str:
    if Path(source).parent.parent.name == "photos":
        os.link(source, target)
        return target
    return str(shutil.copy2(source, target))
