"""Every still picture a camera or phone makes opens upright, in 8-bit sRGB."""

from __future__ import annotations

import io
from datetime import datetime, timedelta, timezone
from pathlib import Path

import numpy as np
import pytest
from PIL import Image, ImageCms

from planebench.photo.decode import decode_bytes, open_upright, probe, probe_bytes
from tests.photo.raw_files import raw_file

FORMATS = {"JPEG": "JPEG", "PNG": "PNG", "TIFF": "TIFF", "WEBP": "WEBP", "HEIF": "HEIF"}
FORMATS |= {"BMP": "BMP", "AVIF": "AVIF"}


def halves(size: tuple[int, int] = (60, 40)) -> Image.Image:
    """Make a picture red at the left, blue at the right."""
    image = Image.new("RGB", size, (200, 30, 30))
    image.paste((30, 30, 200), (size[0] // 2, 0, *size))
    return image


def written(image: Image.Image, form: str, **more: object) -> bytes:
    stream = io.BytesIO()
    image.save(stream, form, **more)
    return stream.getvalue()


@pytest.mark.parametrize("form", FORMATS)
def test_each_format_opens_by_its_content_whatever_its_name_says(form: str) -> None:
    pixels = decode_bytes(written(halves(), form), name="picture.jpg")

    assert pixels.shape == (40, 60, 3)
    assert pixels.dtype == np.uint8
    assert np.allclose(pixels[20, 10], (200, 30, 30), atol=12)
    assert np.allclose(pixels[20, 50], (30, 30, 200), atol=12)


@pytest.mark.parametrize("form", FORMATS)
def test_probing_names_the_format_and_the_size_without_the_pixels(form: str) -> None:
    data = written(halves(), form)
    facts = probe_bytes(data, name="picture")

    assert (form, 60, 40, len(data)) == (facts.format, facts.width, facts.height, facts.size_bytes)


def test_what_the_camera_recorded_is_read_with_its_offset_from_utc(tmp_path: Path) -> None:
    notes = Image.Exif()
    notes[271], notes[272], notes[274] = "Castellan", "Castellan P4", 6
    notes.get_ifd(0x8769).update({36867: "2026:03:05 15:21:05", 36881: "-05:00", 41989: 50})
    path = tmp_path / "PL-0212.jpg"
    path.write_bytes(written(halves((600, 400)), "JPEG", exif=notes))
    facts = probe(path)

    taken = datetime(2026, 3, 5, 15, 21, 5, tzinfo=timezone(timedelta(hours=-5)))
    assert (taken, "Castellan P4", 6) == (
        facts.exif.taken_at,
        facts.exif.camera,
        facts.exif.orientation,
    )
    assert (facts.width, facts.height) == (400, 600)
    assert facts.focal_px == pytest.approx(50 / 36 * 600, rel=1e-6)


def test_a_time_without_offset_stays_the_cameras_own_clock() -> None:
    notes = Image.Exif()
    notes[306] = "2026:03:05 15:21:05"
    facts = probe_bytes(written(halves(), "JPEG", exif=notes), name="a")

    assert datetime.fromisoformat("2026-03-05T15:21:05") == facts.exif.taken_at


@pytest.mark.parametrize(
    "nonsense", ["0000:00:00 00:00:00", "yesterday", "", "2026:13:41 99:00:00"]
)
def test_a_time_that_makes_no_sense_is_not_known(nonsense: str) -> None:
    notes = Image.Exif()
    notes[306] = nonsense
    facts = probe_bytes(written(halves(), "JPEG", exif=notes), name="a")

    assert facts.exif.taken_at is None


@pytest.mark.parametrize("mode", ["L", "1", "P", "RGBA", "LA", "CMYK", "I;16", "F"])
def test_every_color_mode_becomes_rgb(mode: str) -> None:
    gray = Image.fromarray(np.full((20, 30), 255, np.uint8))
    image = gray.convert(mode)
    if mode == "I;16":
        image = Image.fromarray(np.full((20, 30), 65535, np.uint16))
    pixels = decode_bytes(written(image, "TIFF"), name="a.tif")

    assert pixels.shape == (20, 30, 3)
    assert pixels.min() >= 254


def test_sixteen_bits_keep_their_middle_gray() -> None:
    image = Image.fromarray(np.full((20, 30), 32768, np.uint16))
    pixels = decode_bytes(written(image, "PNG"), name="a.png")

    assert abs(int(pixels[0, 0, 0]) - 128) <= 1


def test_what_is_clear_shows_white() -> None:
    image = Image.new("RGBA", (20, 20), (0, 0, 0, 0))
    image.paste((255, 0, 0, 255), (10, 0, 20, 20))
    pixels = decode_bytes(written(image, "PNG"), name="a.png")

    assert pixels[10, 2].tolist() == [255, 255, 255]
    assert pixels[10, 15].tolist() == [255, 0, 0]


def test_an_embedded_profile_is_taken_to_srgb() -> None:
    lab = ImageCms.ImageCmsProfile(ImageCms.createProfile("LAB"))
    image = Image.new("LAB", (20, 20), (128, 128, 128))
    pixels = decode_bytes(written(image, "TIFF", icc_profile=lab.tobytes()), name="a.tif")

    # L* 50.2 without color is 119 or 120 in sRGB (IEC 61966-2-1, CIE 15).
    assert np.abs(pixels.astype(int) - 119).max() <= 2


def test_a_broken_profile_is_passed_over() -> None:
    pixels = decode_bytes(written(halves(), "PNG", icc_profile=b"nonsense" * 20), name="a.png")

    assert pixels[20, 10].tolist() == [200, 30, 30]


def test_a_picture_is_no_larger_than_asked_and_keeps_its_shape(tmp_path: Path) -> None:
    path = tmp_path / "large.jpg"
    path.write_bytes(written(halves((1200, 800)), "JPEG"))
    pixels = open_upright(path, largest=300)

    assert pixels.shape == (200, 300, 3)


def test_a_camera_raw_file_is_developed_upright() -> None:
    pixels = decode_bytes(raw_file(), name="PL-0001.DNG")

    assert pixels.shape == (96, 64, 3)
    assert pixels[:40].mean() > pixels[-40:].mean() + 50


def test_a_camera_raw_file_is_probed_though_its_name_hides_it() -> None:
    facts = probe_bytes(raw_file(), name="scan.tif")

    assert (
        facts.format,
        facts.width,
        facts.height,
        facts.exif.camera,
    ) == ("RAW", 64, 96, "Castellan P4")
    assert datetime.fromisoformat("2026-03-05T15:21:05") == facts.exif.taken_at
