"""Small invented photographs as files, as a camera would have left them an hour ago."""

from __future__ import annotations

import datetime as dt
import os
import time
from pathlib import Path

import numpy as np
from PIL import Image

from tests.photo.card_scene import View, drawn_card, photograph

HOUR = 3600
TAKEN_AT = 36867
CAMERA = 272


def shot(
    path: Path,
    *,
    seed: int = 1,
    size: tuple[int, int] = (96, 64),
    at: dt.datetime | None = None,
    camera: str = "",
) -> Path:
    """Write a grainy picture; pictures of one seed and size are alike to the byte."""
    grain = np.random.default_rng(seed).integers(0, 255, (8, 12, 3), dtype=np.uint8)
    save(Image.fromarray(grain).resize(size), path, at=at, camera=camera)
    return path


def shot_of_card(path: Path, *, text: str, at: dt.datetime, camera: str = "") -> Path:
    """Write a picture of a scale card on a bench."""
    scene = photograph((drawn_card(text), View().mm_to_px()))
    save(Image.fromarray(scene), path, at=at, camera=camera)
    return path


def save(image: Image.Image, path: Path, *, at: dt.datetime | None, camera: str) -> None:
    """Write a picture with the notes of a camera, in the format that its name says."""
    notes = Image.Exif()
    if at is not None:
        notes.get_ifd(0x8769)[TAKEN_AT] = f"{at:%Y:%m:%d %H:%M:%S}"
    if camera:
        notes[CAMERA] = camera
    path.parent.mkdir(parents=True, exist_ok=True)
    image.save(path, exif=notes)
    rested(path)


def rested(path: Path) -> Path:
    """Return a file the date of an hour ago, so that nobody waits for it to settle."""
    hour_ago = time.time() - HOUR
    os.utime(path, (hour_ago, hour_ago))
    return path
