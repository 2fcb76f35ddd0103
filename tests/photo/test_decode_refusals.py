"""Anything but a whole picture is refused in plain words that name the file; nothing crashes."""

from __future__ import annotations

import io
import struct
import zlib
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from planebench.errors import FileError
from planebench.photo.decode import decode_bytes, open_upright, probe, probe_bytes
from tests.photo.raw_files import raw_file

# Pillow warns about damaged Exif, which is ignored: that is what is tested here.
pytestmark = pytest.mark.filterwarnings("ignore::UserWarning:PIL")


def picture(form: str) -> bytes:
    grain = np.random.default_rng(7).integers(0, 255, (200, 300, 3), dtype=np.uint8)
    stream = io.BytesIO()
    Image.fromarray(grain).save(stream, form)
    return stream.getvalue()


def refusal(data: bytes, name: str = "PL-0153.jpg") -> FileError:
    with pytest.raises(FileError) as told:
        decode_bytes(data, name=name)
    assert told.value.subject == name
    assert told.value.remedy
    return told.value


@pytest.mark.parametrize("form", ["JPEG", "PNG", "TIFF", "WEBP", "HEIF", "BMP", "AVIF"])
def test_a_file_cut_short_says_how_much_is_there(form: str) -> None:
    whole = picture(form)
    error = refusal(whole[: len(whole) * 6 // 10])

    assert error.happened.startswith("The file is cut short: ")
    assert " of " in error.happened
    assert error.remedy == "Copy it from the camera again, then add it again."


def test_the_whole_length_of_a_cut_jpeg_is_reported_within_a_tenth() -> None:
    whole = picture("JPEG")
    error = refusal(whole[: len(whole) // 2])
    told = float(error.happened.split("about ")[1].split()[0])

    assert told * 1000 == pytest.approx(len(whole), rel=0.1)


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"", "The file is empty"),
        (b"Sole flat to 0.05 mm.\n", "This is a text file, not a photograph."),
        ("Größe: 41 mm".encode("utf-16"), "This is a text file, not a photograph."),
        (bytes(5000), "The file holds only zeros"),
        (b"%PDF-1.7\n\xff\xfe\x00", "This is a PDF, not a photograph."),
        (b"\0\0\0\x18ftypmp42\0\0\0\0mp42isom", "This is a video, not a photograph."),
        (np.random.default_rng(3).bytes(900), "This is not a picture in a known format."),
        (b"GIF89a" + bytes(40), "This is not a picture in a known format."),
    ],
)
def test_what_is_not_a_picture_is_named(data: bytes, words: str) -> None:
    error = refusal(data)

    assert error.happened.startswith(words)


def test_a_text_file_named_as_a_picture_gets_advice() -> None:
    error = refusal(b"notes on the batch\n")

    assert error.remedy == "Leave it out, or rename it."


def chunk(kind: bytes, data: bytes) -> bytes:
    return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))


def test_over_500_megapixels_is_refused_by_the_header_alone() -> None:
    header = struct.pack(">IIBBBBB", 30_000, 20_000, 8, 2, 0, 0, 0)
    # The few bytes of pixels would make the decoder fail in another way if it were begun.
    claim = b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", header) + chunk(b"IDAT", zlib.compress(b"0" * 9))
    error = refusal(claim)
    with pytest.raises(FileError) as probed:
        probe_bytes(claim, name="a")

    assert "30000 × 20000 pixels, 600 megapixels" in error.happened
    assert error.happened == probed.value.happened


def test_damaged_exif_does_not_hide_the_picture() -> None:
    whole = picture("JPEG")
    notes = b"Exif\0\0II*\0\x08\0\0\0\xff\xff" + b"\xff" * 300
    data = whole[:2] + b"\xff\xe1" + struct.pack(">H", len(notes) + 2) + notes + whole[2:]

    assert decode_bytes(data, name="a").shape == (200, 300, 3)
    assert probe_bytes(data, name="a").exif.taken_at is None


@pytest.mark.parametrize("form", ["JPEG", "PNG", "TIFF", "WEBP", "HEIF", "BMP", "AVIF"])
def test_any_damage_ends_in_a_picture_or_in_a_file_error(
    form: str, caplog: pytest.LogCaptureFixture
) -> None:
    whole, dice = picture(form), np.random.default_rng(11)
    opened = refused = 0
    for number in range(40):
        hurt = np.frombuffer(whole, np.uint8).copy()
        reach, bites = ((64, 2), (1000, 3), (len(hurt), 60), (len(hurt), 1))[number % 4]
        hurt[dice.integers(0, min(reach, len(hurt)), bites)] = dice.integers(0, 256, bites)
        for use in (decode_bytes, probe_bytes):
            try:
                use(hurt.tobytes(), name="hurt")
                opened += 1
            except FileError:
                refused += 1
    # Pillow logs some kinds of damage besides raising them.
    caplog.clear()

    assert opened + refused == 80
    assert opened
    assert refused


def test_a_path_that_is_gone_or_is_a_folder_is_reported(tmp_path: Path) -> None:
    with pytest.raises(FileError, match="gone") as gone:
        open_upright(tmp_path / "gone.jpg")
    with pytest.raises(FileError, match="folder"):
        probe(tmp_path)

    assert gone.value.subject == str(tmp_path / "gone.jpg")


@pytest.mark.parametrize("data", [b"II*\0\x08\0\0\0" + bytes(500), bytes(range(1, 255)) * 40])
def test_a_damaged_or_unknown_camera_raw_file_is_reported(data: bytes) -> None:
    error = refusal(data, name="PL-0001.NEF")

    assert error.happened.startswith("The picture is damaged, or its camera’s raw files")
    assert "save it as JPEG" in error.remedy


def test_a_camera_raw_file_cut_short_is_reported_though_its_decoder_would_fill_it_with_black() -> (
    None
):
    whole = raw_file()
    decode_bytes(whole, name="PL-0001.DNG")
    error = refusal(whole[: len(whole) // 2], name="PL-0001.DNG")

    assert error.happened == "The file is cut short: it has 6.4 of at least 12.8 kB."


def test_a_fujifilm_raw_file_cut_short_is_reported() -> None:
    # Offsets and lengths of preview, header and readings stand at byte 84, as cameras write them
    # (common practice, no source).
    head = b"FUJIFILMCCD-RAW ".ljust(84, b"0") + struct.pack(">6I", 148, 900, 1048, 52, 1100, 9000)
    error = refusal(head.ljust(5000, b"\1"), name="PL-0001.RAF")

    assert error.happened == "The file is cut short: it has 5.0 of at least 10.1 kB."


def test_a_camera_raw_file_in_boxes_cut_short_is_reported() -> None:
    boxes = struct.pack(">I4s4sI4s", 20, b"ftyp", b"crx ", 1, b"isom") + struct.pack(
        ">I4s", 9000, b"mdat"
    )
    error = refusal(boxes.ljust(4000, b"\1"), name="PL-0001.CR3")

    assert error.happened == "The file is cut short: it has 4.0 of at least 9.0 kB."


def test_a_raw_file_stripped_of_its_picture_is_not_developed_black() -> None:
    data = raw_file()
    for tag, true in ((256, 96), (257, 64), (278, 64)):
        entry = next(
            packed
            for kind, form in ((3, "<HHIHH"), (4, "<HHII"))
            if (packed := struct.pack(form, tag, kind, 1, true, *[0] * (kind == 3))) in data
        )
        data = data.replace(entry, struct.pack("<HHII", tag, 4, 1, 4000))

    error = refusal(data, name="PL-0001.DNG")

    assert error.happened == "The file is cut short: it has 12.8 of at least 250.0 kB."
