"""Decoding against decoders that share no code with ours."""

from __future__ import annotations

import io
from pathlib import Path

import av
import cv2
import numpy as np
import pytest
from PIL import Image

from planebench.photo.decode import decode_bytes, open_upright


def scene(width: int = 96, height: int = 64) -> Image.Image:
    """Make a smooth picture that looks like no turned copy of itself."""
    y, x = np.mgrid[0:height, 0:width]
    bands = np.stack([x * 255 / width, y * 255 / height, 120 + 80 * np.sin(x / 20 + y / 13)], -1)
    return Image.fromarray(bands.astype(np.uint8))


@pytest.mark.parametrize("orientation", range(1, 9))
def test_all_eight_orientations_agree_with_opencv(orientation: int, tmp_path: Path) -> None:
    # Reference: OpenCV's own EXIF reader (imread turns the picture as tag 0x0112 says).
    notes = Image.Exif()
    notes[274] = orientation
    path = tmp_path / "turned.jpg"
    scene().save(path, "JPEG", quality=98, exif=notes)
    reference = cv2.imread(str(path), cv2.IMREAD_COLOR_RGB)
    pixels = open_upright(path)

    assert reference is not None
    assert reference.shape == pixels.shape
    assert np.abs(reference.astype(int) - pixels).mean() < 1


@pytest.mark.parametrize("orientation", range(1, 9))
def test_heic_agrees_with_the_hevc_decoder_of_ffmpeg(orientation: int) -> None:
    # Reference: FFmpeg by PyAV. It gives the picture as stored, so that it is turned by NumPy here.
    notes = Image.Exif()
    notes[274] = orientation
    stream = io.BytesIO()
    scene(192, 128).save(stream, "HEIF", quality=95, exif=notes.tobytes())
    with av.open(io.BytesIO(stream.getvalue())) as container:
        stored = next(container.decode(video=0)).to_ndarray(format="rgb24")
    pixels = decode_bytes(stream.getvalue(), name="a.heic")
    mirrored = stored[:, ::-1] if orientation in {2, 4, 5, 7} else stored
    reference = np.rot90(mirrored, {3: 2, 4: 2, 5: 1, 6: 3, 7: 3, 8: 1}.get(orientation, 0))

    assert reference.shape == pixels.shape
    assert np.abs(reference.astype(int) - pixels).mean() < 2
