"""Figures of the record, drawn and read aloud."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QPointF, QRectF, QSize
from PySide6.QtGui import QColor, QImage, QPainter
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from planebench.trade.terms import Completeness, PartStatus
from planebench.window.pieces.completeness_rule import paint_rule
from planebench.window.pieces.hatching import AreaBar, AreaPart, Hatch, HatchSwatch, hatch_brush
from planebench.window.pieces.plane_drawing import PartSeen, PlaneDrawing, seen_of, shapes_of
from planebench.window.pieces.record_sections import Record
from planebench.window.pieces.share_scale import ShareReading, ShareScale
from planebench.window.theme import Theme

MEASURED = ShareReading(value=0.83, low=0.79, high=0.86, basis="measured")
BY_EYE = ShareReading(value=0.70, low=0.60, high=0.80, basis="by-eye")


def inked(widget: QWidget, color: str) -> int:
    """Count the pixels of a widget that have exactly a color."""
    image, wanted = widget.grab().toImage(), QColor(color)
    return sum(
        image.pixelColor(x, y) == wanted
        for x in range(image.width())
        for y in range(image.height())
    )


def test_a_share_reads_with_its_interval_and_basis(qtbot: QtBot) -> None:
    figure = ShareScale("lever cap, nickel")
    qtbot.addWidget(figure)

    figure.show_readings(BY_EYE)

    assert figure.accessibleName() == "lever cap, nickel: about 70% (60 to 80), by eye"


def test_nothing_measured_is_the_bare_scale_and_no_zero(qtbot: QtBot, theme: Theme) -> None:
    figure = ShareScale("knob")
    qtbot.addWidget(figure)

    assert figure.accessibleName() == "knob: not measured"
    assert inked(figure, theme.tokens.ink) == 0
    figure.show_readings(MEASURED)
    assert inked(figure, theme.tokens.ink) > 0


def test_measured_is_filled_and_by_eye_is_open(qtbot: QtBot, theme: Theme) -> None:
    figure = ShareScale("bed", width=140)
    qtbot.addWidget(figure)
    ink, ground = QColor(theme.tokens.ink), QColor(theme.tokens.ground)
    middle = {}

    for reading in (MEASURED, BY_EYE):
        figure.show_readings(reading)
        x = round(5 + 130 * reading.value)
        middle[reading.basis] = figure.grab().toImage().pixelColor(x, 7)

    assert middle == {"measured": ink, "by-eye": ground}


def test_the_rule_shows_what_is_recorded_and_what_disagrees(theme: Theme) -> None:
    states = [Completeness.COMPLETE] * 4 + [
        Completeness.DISAGREES,
        Completeness.IN_PART,
        Completeness.OPEN,
    ]
    picture = QImage(120, 20, QImage.Format.Format_RGB32)
    painter = QPainter(picture)

    paint_rule(painter, QPointF(0, 0), states)

    painter.end()
    colors = [picture.pixelColor(16 * number + 8, 6).name().upper() for number in (0, 4, 6)]
    assert colors == [theme.tokens.ink, theme.tokens.rust, theme.tokens.field]


def test_the_record_numbers_its_sections_and_colors_the_number(qtbot: QtBot, theme: Theme) -> None:
    record = Record()
    qtbot.addWidget(record)
    first, second = record.add_section("What it is"), record.add_section("What is missing")
    record.resize(400, 300)
    record.show()

    first.set_state(Completeness.COMPLETE)
    second.set_state(Completeness.DISAGREES)

    picture = record.grab().toImage()
    assert (first.number, second.number) == (1, 2)
    assert picture.pixelColor(16, first.y() + 8).name().upper() == theme.tokens.ink
    assert picture.pixelColor(16, second.y() + 8).name().upper() == theme.tokens.rust


@pytest.mark.parametrize("hatch", [h for h in Hatch if h is not Hatch.NOT_SEEN])
def test_hatches_tell_apart_without_color(qtbot: QtBot, hatch: Hatch) -> None:
    patterns = {other: _pattern(other) for other in Hatch if other is not Hatch.NOT_SEEN}

    assert qtbot is not None
    assert [other for other, pattern in patterns.items() if pattern == patterns[hatch]] == [hatch]


def _pattern(hatch: Hatch) -> bytes:
    """Paint a hatch in black, whatever its own color."""
    image = QImage(48, 48, QImage.Format.Format_Grayscale8)
    image.fill(255)
    painter = QPainter(image)
    painter.fillRect(image.rect(), hatch_brush(hatch, "#000000"))
    painter.end()
    return bytes(image.constBits())


def test_hatching_does_not_grow_with_zoom(qtbot: QtBot) -> None:
    pictures = []

    for zoom in (1.0, 4.0):
        image = QImage(96, 96, QImage.Format.Format_Grayscale8)
        image.fill(255)
        painter = QPainter(image)
        painter.scale(zoom, zoom)
        painter.fillRect(QRectF(0, 0, 96, 96), hatch_brush(Hatch.KEPT, "#000000", zoom=zoom))
        painter.end()
        pictures.append(sum(pixel < 128 for pixel in bytes(image.constBits())))

    assert qtbot is not None
    assert pictures[0] == pytest.approx(pictures[1], rel=0.05)


def test_an_area_reads_its_parts(qtbot: QtBot) -> None:
    bar = AreaBar("the outline’s area")
    qtbot.addWidget(bar)
    bar.show_parts(
        (
            AreaPart(hatch=Hatch.KEPT, share=0.64, word="kept"),
            AreaPart(hatch=Hatch.LOST, share=0.36, word="lost"),
        )
    )

    assert bar.accessibleName() == "the outline’s area: kept 64%, lost 36%"


def test_what_is_not_quite_all_of_an_area_is_not_told_as_all(qtbot: QtBot) -> None:
    bar = AreaBar("area")
    qtbot.addWidget(bar)

    bar.show_parts((AreaPart(hatch=Hatch.KEPT, share=0.998, word="kept"),))
    nearly = bar.accessibleName()
    bar.show_parts((AreaPart(hatch=Hatch.KEPT, share=1.0, word="kept"),))

    assert nearly == "area: kept over 99%"
    assert bar.accessibleName() == "area: kept 100%"


def test_not_seen_is_an_empty_box(qtbot: QtBot, theme: Theme) -> None:
    swatch = HatchSwatch(Hatch.NOT_SEEN, size=QSize(40, 20))
    qtbot.addWidget(swatch)

    inside = swatch.grab().toImage().pixelColor(QPointF(20, 10).toPoint())

    assert inside.name().upper() == theme.tokens.ground


@pytest.mark.parametrize("drawing", ["bench", "block", "wooden", "spokeshave", "router", "other"])
def test_a_part_not_seen_is_not_inked(qtbot: QtBot, theme: Theme, drawing: str) -> None:
    plane = PlaneDrawing(drawing, size=QSize(240, 110))
    qtbot.addWidget(plane)
    whole = inked(plane, theme.tokens.ink)
    part = shapes_of(drawing)[-1].part

    plane.show_parts({part: PartSeen.NOT_SEEN}, {part: "last part"})

    assert 0 < inked(plane, theme.tokens.ink) < whole
    assert plane.accessibleName() == "side drawing: last part not seen"


def test_a_part_that_not_every_model_had_is_not_drawn_while_it_was_not_seen(
    qtbot: QtBot, theme: Theme
) -> None:
    plane = PlaneDrawing("block", size=QSize(240, 110))
    qtbot.addWidget(plane)
    last = shapes_of("block")[-1].part
    plane.show_parts({last: seen_of(PartStatus.NOT_SEEN)})
    lines = inked(plane, theme.tokens.muted)
    plane.show_parts({last: seen_of(PartStatus.NOT_SEEN, unasked=True)}, {last: "rear rest"})

    assert inked(plane, theme.tokens.muted) < lines
    assert plane.accessibleName() == "side drawing: all parts seen"


def test_an_unknown_kind_has_the_general_drawing() -> None:
    assert shapes_of("unheard of") == shapes_of("other")
