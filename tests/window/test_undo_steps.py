"""Undo and redo in the window: their names, and what the status bar says, after a restart too."""

from __future__ import annotations

import datetime as dt

import pytest

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


@pytest.fixture
def with_batch(qtbot, workshop):
    catalog = workshop.catalog
    workshop.jobs.edit(
        lambda _job: catalog.batches.add(code="LOT7").changes,
        done=workshop.edits.happened.emit,
    )
    qtbot.waitUntil(lambda: names(workshop)[0] != "Undo")
    return workshop


def names(workshop):
    """Return the words of Undo and Redo in the Edit menu."""
    return tuple(a.text().replace("&", "") for a in workshop.frame.menu("Edit").actions()[:2])


def test_the_edit_menu_names_the_last_edit(with_batch):
    undo, redo = names(with_batch)

    assert "LOT7" in undo
    assert redo == "Redo"


def test_after_undo_the_status_bar_says_what_was_undone_and_redo_brings_it_again(qtbot, with_batch):
    undo = names(with_batch)[0].removeprefix("Undo ")
    with_batch.undo_steps.undo()
    bar = with_batch.frame.status_bar

    qtbot.waitUntil(lambda: bar.last_edit == f"Undone: {undo}.")
    assert names(with_batch) == ("Undo", f"Redo {undo}")
    assert with_batch.catalog.batches.lines() == ()

    with_batch.undo_steps.redo()
    qtbot.waitUntil(lambda: names(with_batch) == (f"Undo {undo}", "Redo"))
    assert len(with_batch.catalog.batches.lines()) == 1


def test_after_a_restart_the_status_bar_still_shows_the_last_edit(qtbot, with_batch):
    undo = names(with_batch)[0].removeprefix("Undo ")
    folder = with_batch.catalog.folder
    with_batch._close_catalog()
    assert with_batch.frame.status_bar.last_edit == "No catalog open"

    with_batch.open_catalog(folder)

    qtbot.waitUntil(lambda: undo in with_batch.frame.status_bar.last_edit, timeout=10_000)
    assert names(with_batch)[0] == f"Undo {undo}"
