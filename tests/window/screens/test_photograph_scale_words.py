from dataclasses import replace

import pytest

from planebench.catalog.import_types import Destination
from planebench.catalog.photo_import import import_photographs
from planebench.catalog.reference import sample_source
from planebench.window.screens.photograph.measurement_text import describe_scale

PHOTOGRAPH = min((sample_source() / "photographs").glob("*.jpg"))


@pytest.fixture
def scaled(given, batch):
    """A photograph whose scale comes from the card in it."""
    import_photographs(given.catalog, [PHOTOGRAPH], to=Destination(batch=batch, follow_cards=True))
    (photograph,) = given.catalog.photographs.unfiled(batch)
    return photograph


def test_a_whole_cards_scale_says_how_good_it_is(scaled):
    words = describe_scale(scaled)

    assert words.startswith("Scale from the card LOT7-")
    assert words.endswith("%")


def test_a_card_to_be_minded_says_why_and_not_how_good_it_would_be(scaled):
    warning = "This may be a card shown on a screen, so its size cannot be trusted."
    minded = replace(scaled, scale={**scaled.scale, "sure": False, "warnings": [warning]})
    words = describe_scale(minded)

    assert words.endswith(f"mm per pixel. {warning}")
    assert "good to" not in words
