"""An open window shows what another program changed in its catalog."""

from __future__ import annotations

import datetime as dt
import time

import pytest

from planebench.catalog.catalog import Catalog
from planebench.catalog.program_settings import ProgramSettingsFile
from planebench.window.main_window import MainWindow
from planebench.window.program import program_services
from planebench.window.screens.batches.batches_screen import BatchesScreen


@pytest.fixture
def workshop(qtbot, qapp, tmp_path):
    made = MainWindow(
        qapp,
        program_services(lambda: dt.datetime.now(dt.UTC), home=tmp_path, cache=tmp_path / "cache"),
        ProgramSettingsFile(tmp_path / "settings.json"),
    )
    qtbot.addWidget(made.frame)
    made.frame.show()
    made._make(tmp_path / "Wendholm")
    qtbot.waitUntil(lambda: isinstance(made.current_screen, BatchesScreen), timeout=10_000)
    yield made
    assert made.close()


def test_a_batch_added_by_another_program_is_shown_and_not_offered_to_be_undone(
    qtbot, workshop, tmp_path
):
    other = Catalog.open(workshop.catalog.folder, who="Mara", clock=lambda: dt.datetime.now(dt.UTC))
    began = time.monotonic()

    other.batches.add(code="LOT9")

    bar, rows = workshop.frame.status_bar, workshop.current_screen.rows
    qtbot.waitUntil(lambda: "Mara" in bar.last_edit and "LOT9" in bar.last_edit, timeout=5_000)
    qtbot.waitUntil(lambda: rows.model().rowCount() == 1, timeout=5_000)
    assert time.monotonic() - began < 3  # a second on a machine that does nothing else
    assert bar.first_focus() is None
    other.close()
