"""Choices for printing stay with the catalog, and none that cannot be is taken."""

from __future__ import annotations

from dataclasses import fields, replace

import pytest

from planebench.catalog.catalog import Catalog
from planebench.catalog.settings import WORDS, CatalogSettings
from planebench.errors import InputError


def test_sides_and_the_printers_scale_are_kept(empty_catalog: Catalog) -> None:
    settings = empty_catalog.settings
    settings.write(replace(settings.read(), sides="one", printer_scale=1.0081))

    assert (settings.read().sides, settings.read().printer_scale) == ("one", 1.0081)


@pytest.mark.parametrize("scale", [0.0, 0.949, 1.051, -1.0, float("nan")])
def test_a_scale_that_no_printer_has_is_refused(scale: float) -> None:
    with pytest.raises(InputError, match="too far off to correct"):
        CatalogSettings(printer_scale=scale)


def test_sides_are_one_or_both() -> None:
    with pytest.raises(InputError, match="one or both"):
        CatalogSettings(sides="three")


def test_the_history_names_what_was_chosen_anew(empty_catalog: Catalog) -> None:
    settings = empty_catalog.settings
    changes = settings.write(replace(settings.read(), paper="a4", person="R. Fenn"))

    assert changes.words == "Name, paper changed"


def test_each_choice_has_a_name_for_the_history() -> None:
    assert {field.name for field in fields(CatalogSettings)} == WORDS.keys()
