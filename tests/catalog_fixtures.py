"""Catalogs for tests: an empty one and the sample, each made once and copied."""

import contextlib
import datetime as dt
import hashlib
import os
import shutil
import tempfile
from collections.abc import Callable, Iterator
from itertools import count
from pathlib import Path

import pytest

from planebench import catalog
from planebench.catalog.catalog import Catalog
from planebench.catalog.ids import BatchId, ToolId
from planebench.catalog.reference import resources_folder, sample_source
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
    new = NewTool(kind="smoothing", maker="Halbeck & Son", model="pattern K")
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
    stored = _stored_sample()
    if stored is not None and stored.is_dir():
        shutil.copytree(stored, folder.parent, copy_function=_link_photographs, dirs_exist_ok=True)
        return folder
    make_sample(folder, source=sample_source(), cache=folder.parent / "cache")
    if stored is not None:
        _store_sample(folder.parent, stored)
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


def _stored_sample() -> Path | None:
    """Return where this very sample is stored between runs, None if nothing is to be stored.

    Measuring the sample takes half a minute. A folder named by PLANEBENCH_SAMPLE_CACHE holds it for
    as long as nothing that goes into it changes.
    """
    root = os.environ.get("PLANEBENCH_SAMPLE_CACHE")
    if not root:
        return None
    digest = hashlib.sha256()
    package = Path(catalog.__file__).resolve().parents[1]
    for floor in (package / "catalog", package / "photo", package / "trade", sample_source()):
        for path in sorted(p for p in floor.rglob("*") if p.is_file() and p.suffix != ".pyc"):
            digest.update(path.relative_to(floor).as_posix().encode() + path.read_bytes())
    for path in sorted(p for p in resources_folder().rglob("*") if p.is_file()):
        digest.update(path.read_bytes())
    return Path(root) / digest.hexdigest()


def _store_sample(made: Path, stored: Path) -> None:
    """Copy a new sample beside its place, then move it there whole; another run may be first."""
    stored.parent.mkdir(parents=True, exist_ok=True)
    part = Path(tempfile.mkdtemp(dir=stored.parent))
    shutil.copytree(made, part / "sample")
    with contextlib.suppress(OSError):
        (part / "sample").rename(stored)
    shutil.rmtree(part)


def _link_photographs(source: str, target: str) -> str:
    if Path(source).parent.parent.name == "photos":
        os.link(source, target)
        return target
    return str(shutil.copy2(source, target))
