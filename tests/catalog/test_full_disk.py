"""On a full disk commands say so, never end in a traceback, and lose nothing saved before."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from planebench.catalog.catalog import Catalog
from planebench.catalog.checking import check
from planebench.catalog.import_types import Destination
from planebench.catalog.photo_import import import_photographs
from planebench.catalog.tools import ToolFilter
from tests.catalog.shots import shot

pytestmark = pytest.mark.skipif(os.name != "posix", reason="limits of POSIX")

# No file may grow beyond so many bytes: writing fails as on a full disk, whoever runs the test.
LIMITED = """
import resource, runpy, sys
limit = int(sys.argv[1])
resource.setrlimit(resource.RLIMIT_FSIZE, (limit, limit))
sys.argv = ["planebench", *sys.argv[2:]]
runpy.run_module("planebench", run_name="__main__")
"""


@pytest.fixture
def shop(empty_catalog: Catalog, tool_id, tmp_path: Path) -> Path:
    shot(tmp_path / "card" / "1.jpg", seed=1)
    import_photographs(empty_catalog, [tmp_path / "card"], to=Destination(tool=tool_id))
    shot(tmp_path / "more" / "2.jpg", seed=2)
    empty_catalog.close()
    return empty_catalog.folder


def run(limit: int, *words: str) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-B", "-c", LIMITED, str(limit), *words]
    return subprocess.run(command, check=False, capture_output=True, text=True, timeout=120)


@pytest.mark.parametrize(
    ("command", "limit"),
    [("check", 0), ("backup", 0), ("backup", 40_000), ("new", 40_000), ("add-photos", 40_000)],
)
def test_a_command_on_a_full_disk_ends_in_words(
    shop: Path, tmp_path: Path, clock, limit: int, command: str
) -> None:
    words = {
        "check": [str(shop)],
        "backup": [str(shop)],
        "new": [str(tmp_path / "another")],
        "add-photos": [str(shop), str(tmp_path / "more")],
    }[command]

    answer = run(limit, command, *words)

    assert "Traceback" not in answer.stderr
    assert answer.returncode == 0 or answer.stderr.startswith(("planebench", str(tmp_path)))
    assert not (tmp_path / "another" / "catalog.db").exists()
    catalog = Catalog.open(shop, who="R. Fenn", clock=clock)
    assert len(catalog.tools.find(ToolFilter())) == 1
    assert check(catalog) == ()
    catalog.close()
