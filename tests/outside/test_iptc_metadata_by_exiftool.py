"""The words in copies, read by ExifTool: an independent reader of the IPTC fields.

Names of fields: IPTC Photo Metadata Standard 2023.2 (iptc.org/std/photometadata), and the XMP
names that it gives for each.
"""

from __future__ import annotations

import io
import json
import shutil
import subprocess
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from planebench.photo.iptc_metadata import IptcMetadata, with_metadata

pytestmark = pytest.mark.skipif(shutil.which("exiftool") is None, reason="exiftool is not there")
LABEL = IptcMetadata(
    job="LOT7-003",
    title="LOT7-003 top finished",
    description="Japanning touched in at the toe, 3 × 2 mm; “as seen”",
    alt_text="Smoothing plane, Halbeck & Son pattern K: top, finished.",
    rights="© 2026 Wendholm Workshop",
    creator="Wendholm Workshop",
)


@pytest.mark.parametrize("format_", ["JPEG", "PNG", "WEBP", "TIFF"])
def test_exiftool_reads_each_field_and_finds_nothing_wrong(format_: str, tmp_path: Path) -> None:
    stream = io.BytesIO()
    grain = np.random.default_rng(3).integers(0, 255, (64, 96, 3), dtype=np.uint8)
    Image.fromarray(grain).save(stream, format_)
    copy = with_metadata(stream.getvalue(), LABEL, name="a")
    file = tmp_path / f"copy{copy.suffix}"
    file.write_bytes(copy.data)

    asked = ["exiftool", "-json", "-G1", "-warning", "-error", "-validate", "-all", str(file)]
    told = subprocess.run(asked, check=True, capture_output=True).stdout.decode("utf-8")
    (read,) = json.loads(told)

    assert read["XMP-photoshop:TransmissionReference"] == LABEL.job
    assert read["XMP-dc:Title"] == LABEL.title
    assert read["XMP-dc:Description"] == LABEL.description
    assert read["XMP-dc:Rights"] == LABEL.rights
    assert read["XMP-dc:Creator"] == LABEL.creator
    assert read["XMP-iptcCore:AltTextAccessibility"] == LABEL.alt_text
    assert read["XMP-xmpRights:Marked"] is True
    assert read["ExifTool:Validate"] in {"OK", "0 0 0"}
