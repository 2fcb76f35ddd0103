"""Ways in which a photograph of a scale card is made harder, with where the card then lies.

Each takes a picture and the card's homography (mm to px), and gives both anew.
"""

from __future__ import annotations

import math
from collections.abc import Callable

import cv2
import numpy as np
from numpy.typing import NDArray

Picture = NDArray[np.uint8]
Matrix = NDArray[np.float64]
Harm = Callable[[Picture, Matrix], tuple[Picture, Matrix]]

MARKERS_AT = ((4, 4), (71, 4), (71, 41), (4, 41))


def as_it_is(picture: Picture, matrix: Matrix) -> tuple[Picture, Matrix]:
    return picture, matrix


def hidden(*numbers: int, code: bool = False) -> Harm:
    """Lay a scrap of the bench over markers, and over part of the QR code."""

    def harm(picture: Picture, matrix: Matrix) -> tuple[Picture, Matrix]:
        places = [(x - 3, y - 3, x + 18, y + 18) for x, y in (MARKERS_AT[n] for n in numbers)]
        if code:
            places.append((31, 16, 47, 44))
        scrap = cv2.resize(picture[:200, :300], picture.shape[1::-1])
        covered = picture.copy()
        for left, top, right, bottom in places:
            corners = mapped(matrix, ((left, top), (right, top), (right, bottom), (left, bottom)))
            mask = np.zeros(picture.shape[:2], np.uint8)
            cv2.fillPoly(mask, [np.rint(corners).astype(np.int32)], 255)
            covered[mask > 0] = scrap[mask > 0]
        return covered, matrix

    return harm


def blurred(spread_mm: float) -> Harm:
    """Put the card out of focus: a round blur of so many mm on the card."""

    def harm(picture: Picture, matrix: Matrix) -> tuple[Picture, Matrix]:
        ends = mapped(matrix, ((45, 30), (46, 30)))
        spread = spread_mm * float(np.linalg.norm(ends[1] - ends[0]))
        return cv2.GaussianBlur(picture, (0, 0), spread).astype(np.uint8), matrix

    return harm


def tilted(degrees: float) -> Harm:
    """See the card's plane anew from so many degrees, the card a third of the picture wide."""

    def harm(picture: Picture, matrix: Matrix) -> tuple[Picture, Matrix]:
        height, width = picture.shape[:2]
        focal, turn = 1.4 * width, math.radians(degrees)
        away = np.array([0, math.cos(turn), math.sin(turn)])
        across = np.array([1.0, 0, 0])
        place = np.array([0, 0, focal * 90 / (width * 0.33)]) - 45 * across - 30 * away
        camera = np.array([[focal, 0, (width - 1) / 2], [0, focal, (height - 1) / 2], [0, 0, 1]])
        seen = camera @ np.column_stack((across, away, place))
        return _redrawn(picture, seen @ np.linalg.inv(matrix)), seen

    return harm


def turned(degrees: float) -> Harm:
    """Turn the picture about the card's middle, and bring that to the picture's."""

    def harm(picture: Picture, matrix: Matrix) -> tuple[Picture, Matrix]:
        height, width = picture.shape[:2]
        x, y = mapped(matrix, ((45, 30),))[0].tolist()
        turn = np.vstack((cv2.getRotationMatrix2D((x, y), degrees, 1), (0, 0, 1)))
        to_middle = np.array([[1, 0, width / 2 - x], [0, 1, height / 2 - y], [0, 0, 1.0]])
        return _redrawn(picture, to_middle @ turn), to_middle @ turn @ matrix

    return harm


def shrunk(share: float) -> Harm:
    """Shrink the picture, the card with it."""

    def harm(picture: Picture, matrix: Matrix) -> tuple[Picture, Matrix]:
        small = cv2.resize(picture, None, fx=share, fy=share, interpolation=cv2.INTER_AREA)
        off = share / 2 - 0.5
        return small.astype(np.uint8), np.array(
            [[share, 0, off], [0, share, off], [0, 0, 1]]
        ) @ matrix

    return harm


def shaded(light: float) -> Harm:
    """Let a shadow with a soft edge fall across markers, code and patches."""

    def harm(picture: Picture, matrix: Matrix) -> tuple[Picture, Matrix]:
        height, width = picture.shape[:2]
        mask = np.zeros((height, width), np.float32)
        edge = mapped(matrix, ((-40, -60), (130, -60), (130, 10), (50, 34), (-40, 60)))
        cv2.fillPoly(mask, [np.rint(edge).astype(np.int32)], 1.0)
        mask = cv2.GaussianBlur(mask, (0, 0), width / 300)
        return (picture * (1 - (1 - light) * mask[:, :, None])).astype(np.uint8), matrix

    return harm


def darkened(light: float) -> Harm:
    """Underexpose the picture and add grain."""

    def harm(picture: Picture, matrix: Matrix) -> tuple[Picture, Matrix]:
        grain = np.random.default_rng(3).normal(0, 2, picture.shape)
        return np.clip(picture * light + grain, 0, 255).astype(np.uint8), matrix

    return harm


def grained(spread: float) -> Harm:
    """Add grain of so many of 255 levels."""

    def harm(picture: Picture, matrix: Matrix) -> tuple[Picture, Matrix]:
        grain = np.random.default_rng(4).normal(0, spread, picture.shape)
        return np.clip(picture + grain, 0, 255).astype(np.uint8), matrix

    return harm


def squeezed(quality: int) -> Harm:
    """Save the picture once more as a poor JPEG."""

    def harm(picture: Picture, matrix: Matrix) -> tuple[Picture, Matrix]:
        _, data = cv2.imencode(".jpg", picture, [cv2.IMWRITE_JPEG_QUALITY, quality])
        return np.asarray(cv2.imdecode(data, cv2.IMREAD_COLOR), dtype=np.uint8), matrix

    return harm


def bent(bow_mm: float) -> Harm:
    """Bow the card: its middle is so many mm out of line."""

    def harm(picture: Picture, matrix: Matrix) -> tuple[Picture, Matrix]:
        rows, columns = np.mgrid[0 : picture.shape[0], 0 : picture.shape[1]].astype(np.float64)
        flat = cv2.perspectiveTransform(np.dstack((columns, rows)), np.linalg.inv(matrix))
        flat[:, :, 1] += bow_mm * (1 - np.clip((flat[:, :, 0] - 45) / 45, -1.2, 1.2) ** 2)
        at = cv2.perspectiveTransform(flat, matrix).astype(np.float32)
        drawn = cv2.remap(picture, at[:, :, 0], at[:, :, 1], cv2.INTER_LINEAR)
        return np.asarray(drawn, dtype=np.uint8), matrix

    return harm


def mapped(matrix: Matrix, points: object) -> NDArray[np.float64]:
    """Map points by a homography."""
    source = np.asarray(points, dtype=np.float64).reshape(-1, 1, 2)
    return np.asarray(cv2.perspectiveTransform(source, matrix)).reshape(-1, 2)


def _redrawn(picture: Picture, change: Matrix) -> Picture:
    height, width = picture.shape[:2]
    return np.asarray(cv2.warpPerspective(picture, change, (width, height)), dtype=np.uint8)


HARMS: dict[str, Harm] = {
    "as it is": as_it_is,
    "marker 0 hidden": hidden(0),
    "marker 2 hidden": hidden(2),
    "markers 0, 1 hidden": hidden(0, 1),
    "markers 0, 2 hidden": hidden(0, 2),
    "markers 0, 3 hidden": hidden(0, 3),
    "0, 1 and code hidden": hidden(0, 1, code=True),
    "code torn": hidden(code=True),
    "blur 0.3 mm": blurred(0.3),
    "blur 0.5 mm": blurred(0.5),
    "blur 0.7 mm": blurred(0.7),
    "tilt 45": tilted(45),
    "tilt 60": tilted(60),
    "turned 37": turned(37),
    "upside down": turned(180),
    "half size": shrunk(0.5),
    "third size": shrunk(0.33),
    "shadow 30%": shaded(0.3),
    "shadow 10%": shaded(0.1),
    "dark 10%": darkened(0.1),
    "grain 15": grained(15),
    "grain 40": grained(40),
    "JPEG 10": squeezed(10),
    "bent 0.3 mm": bent(0.3),
    "bent 1 mm": bent(1.0),
    "bent 2 mm": bent(2.0),
}
