"""Perceptual hashes against the ImageHash package."""

from __future__ import annotations

from pathlib import Path

import imagehash
import pytest
from PIL import Image

from planebench.photo.decode import open_upright
from planebench.photo.near_duplicates import hamming_distance, perceptual_hash

PHOTOGRAPHS = sorted((Path(__file__).parents[2] / "sample_catalog" / "photographs").glob("*.jpg"))


@pytest.mark.parametrize("path", PHOTOGRAPHS[::4], ids=lambda path: path.stem)
def test_fingerprints_are_those_of_imagehash_but_for_its_way_of_shrinking(path: Path) -> None:
    # Reference: ImageHash's phash. It shrinks by Lanczos, so that bits near the median may turn.
    rgb = open_upright(path, largest=800)
    reference = int(str(imagehash.phash(Image.fromarray(rgb))), 16)

    assert hamming_distance(reference, perceptual_hash(rgb)) <= 4
