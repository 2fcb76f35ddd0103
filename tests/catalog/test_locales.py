"""Edits are whole under locales whose letters i differ from the English ones."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

# Fails in the middle of an edit after rows were written, then looks for what stayed of it.
HALF_AN_EDIT = """
import datetime as dt, locale, sys
from pathlib import Path
print(locale.setlocale(locale.LC_ALL, ""))
from planebench.catalog.catalog import Catalog
from planebench.catalog.tables import BatchRow
clock = lambda: dt.datetime(2026, 3, 14, 9, 0, tzinfo=dt.UTC)
catalog = Catalog.make(Path(sys.argv[1]), who="R. Fenn", clock=clock, cache=Path(sys.argv[2]))
try:
    with catalog.store.edit("half an edit") as edit:
        edit.session.add(BatchRow(code="HALF", created_at=edit.at))
        edit.session.flush()
        raise KeyError
except KeyError:
    pass
catalog.batches.add(code="WHOLE")
print([line.batch.code for line in catalog.batches.lines()])
print([line.words for line in catalog.history.lines()])
catalog.close()
"""


@pytest.fixture(scope="module")
def locales(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Make the locales in a folder of their own, as most machines have neither."""
    if shutil.which("localedef") is None:
        pytest.skip("localedef is missing: install the package locales")
    folder = tmp_path_factory.mktemp("locales")
    for name in ("tr_TR", "az_AZ"):
        command = ["localedef", "-i", name, "-f", "UTF-8", str(folder / f"{name}.UTF-8")]
        made = subprocess.run(command, check=False, capture_output=True)
        if made.returncode not in {0, 1}:
            pytest.skip(f"{name} is missing: install the package locales")
    return folder


@pytest.mark.parametrize("name", ["tr_TR", "az_AZ"])
def test_an_edit_that_fails_midway_leaves_nothing(locales: Path, name: str, tmp_path: Path) -> None:
    env = {**os.environ, "LOCPATH": str(locales), "LC_ALL": f"{name}.UTF-8"}
    folder = tmp_path / "Wendholm workshop"
    command = [sys.executable, "-c", HALF_AN_EDIT, str(folder), str(tmp_path / "cache")]
    answer = subprocess.run(command, check=True, capture_output=True, text=True, env=env)

    assert answer.stdout.splitlines() == [
        f"{name}.UTF-8",
        "['WHOLE']",
        "['Batch WHOLE added']",
    ]
