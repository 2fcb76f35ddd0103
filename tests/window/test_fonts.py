"""The typefaces come with the program and are used."""

from __future__ import annotations

from pathlib import Path

import pytest
from fontTools.ttLib import TTFont
from PySide6.QtGui import QFontInfo, QFontMetricsF
from PySide6.QtWidgets import QApplication

from planebench.window.fonts import load_fonts, text_font, title_font


@pytest.mark.usefixtures("qapp")
def test_the_faces_used_are_those_that_come_with_the_program() -> None:
    assert {"Planebench Sans", "Vollkorn"} <= set(load_fonts())
    assert QFontInfo(text_font()).family() == "Planebench Sans"
    assert QFontInfo(text_font(strong=True)).weight() > QFontInfo(text_font()).weight()
    assert QFontInfo(title_font()).family() == "Vollkorn"


@pytest.mark.parametrize("face", [text_font, title_font])
def test_figures_stand_in_columns(qapp: QApplication, face: object) -> None:
    font = text_font(14) if face is text_font else title_font(24)

    widths = {round(QFontMetricsF(font).horizontalAdvance(digit), 2) for digit in "0123456789"}

    assert qapp is not None
    assert len(widths) == 1


def test_the_changed_face_does_not_carry_the_reserved_name(resources: Path) -> None:
    for file in (resources / "fonts").glob("PlanebenchSans-*.ttf"):
        names = TTFont(file)["name"]

        family = [str(row) for row in names.names if row.nameID in {1, 3, 4, 6, 16}]
        assert family
        assert not [name for name in family if "source" in name.lower()]


def test_each_face_lies_beside_its_license(resources: Path) -> None:
    faces = {file.name.split("-")[0] for file in (resources / "fonts").glob("*.ttf")}

    assert faces == {"PlanebenchSans", "Vollkorn"}
    for face in faces:
        text = (resources / "fonts" / f"{face}-OFL.txt").read_text(encoding="utf-8")
        assert "SIL OPEN FONT LICENSE Version 1.1" in text
