"""The icons: one line weight, colored when painted."""

from __future__ import annotations

import re
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest
from PySide6.QtGui import QColor

from planebench.window.icons import icon_pixmap
from planebench.window.resources import resource_folder

NAMES = sorted(file.stem for file in resource_folder("icons").glob("*.svg"))
WINDOW = Path(__file__).parents[2] / "planebench" / "window"


def test_no_icon_lies_idle() -> None:
    code = "".join(path.read_text("utf-8") for path in WINDOW.rglob("*.py"))

    assert [name for name in NAMES if f'"{name}"' not in code] == []


@pytest.mark.parametrize("name", NAMES)
def test_an_icon_is_one_line_of_one_weight_in_a_box_of_twenty(resources: Path, name: str) -> None:
    root = ET.parse(resources / "icons" / f"{name}.svg").getroot()  # noqa: S314 (our own file)

    assert root.get("viewBox") == "0 0 20 20"
    assert root.get("stroke") == "currentColor"
    assert root.get("stroke-width") == "1.5"
    assert not [part for part in root.iter() if part.get("stroke-width") not in {None, "1.5"}]


@pytest.mark.usefixtures("qapp")
@pytest.mark.parametrize("name", NAMES)
def test_an_icon_is_painted_in_the_color_asked_for(name: str) -> None:
    image = icon_pixmap(name, "#973C1B").toImage()

    solid = [
        image.pixelColor(x, y)
        for x in range(20)
        for y in range(20)
        if image.pixelColor(x, y).alpha() > 250
    ]
    assert solid
    wanted = QColor("#973C1B")
    assert all(abs(color.red() - wanted.red()) <= 2 for color in solid)


def test_each_icon_that_is_named_is_there() -> None:
    code = "".join(path.read_text("utf-8") for path in WINDOW.rglob("*.py"))
    named = re.findall(r'icon="([a-z-]+)"|paint_icon\(\w+, "([a-z-]+)"', code)

    assert {"".join(pair) for pair in named} <= set(NAMES)
