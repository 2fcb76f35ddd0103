"""Drawings on a sheet: measured outlines and side drawings, scaled to points and hatched."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import asdict, dataclass

from planebench.sheet.content import OutlineDrawing, PartDrawing, PartShape, Ring, SheetParts
from planebench.sheet.hatch import hatch_lines, hatch_lines_inside

Data = dict[str, object]

_TALLEST_DRAWING = 76.0
_WIDEST_DRAWING = 230.0
_BETWEEN = 16.0
_KEY_WIDTH = 126.0
_HATCHES: dict[str, tuple[tuple[float, float], ...]] = {
    "outline": ((45.0, 3.4),),
    "new_finish": ((0.0, 1.7),),
    "lost": ((45.0, 1.9), (-45.0, 1.9)),
    "cannot_tell": ((90.0, 2.2),),
    "not_original": ((30.0, 2.6),),
}
"""Angle and step in points of each hatch: crossed is lost, one way is kept, level is new."""

_MEANINGS = {"new_finish": "new finish", "cannot_tell": "can’t tell"}
_ON_FINISH = {"outline": "first finish", "lost": "bare"}
_KEPT_AND_LOST = {
    frozenset[bool](): _ON_FINISH,
    frozenset({False}): _ON_FINISH,
    frozenset({True}): {"outline": "metal without rust", "lost": "rust"},
    frozenset({False, True}): {
        "outline": "first finish; metal without rust",
        "lost": "bare; rust",
    },
}
"""What the two hatches mean where finishes are drawn, where rust is, and where both are."""

_PARTS_WIDTH = 108.0
_PARTS_HEIGHT = 62.0


def drawing_rows(drawings: Sequence[OutlineDrawing], text_width: float) -> list[list[Data]]:
    """Return the outlines scaled to points, in rows beside the key."""
    room = text_width - _KEY_WIDTH
    rows: list[list[Data]] = []
    left = 0.0
    for drawing in drawings:
        data, width = _drawing(drawing)
        if not rows or left < width:
            rows.append([])
            left = room
        rows[-1].append(data)
        left -= width + _BETWEEN
    return rows


def _drawing(drawing: OutlineDrawing) -> tuple[Data, float]:
    box = _Box.around((*drawing.body, *drawing.outline), _WIDEST_DRAWING, _TALLEST_DRAWING)
    layers = {
        "outline": drawing.outline,
        "new_finish": drawing.new_finish,
        "lost": drawing.lost,
        "cannot_tell": drawing.cannot_tell,
    }
    outline = tuple(map(box.placed, drawing.outline))
    data: Data = {
        name: _layer(name, map(box.placed, rings), inside=outline) for name, rings in layers.items()
    }
    data |= {"body": [box.placed(ring) for ring in drawing.body]}
    data |= {"name": drawing.name, "alternative": drawing.alternative}
    return data | {"width": box.width, "height": box.height}, box.width


def _layer(name: str, rings: Iterable[Ring], *, inside: tuple[Ring, ...] = ()) -> Data:
    """Return rings and their hatch, kept inside the outline: a hole cut out of it stays empty."""
    placed = tuple(rings)
    lines = [
        line
        for degrees, step in _HATCHES[name]
        for line in (
            hatch_lines_inside(placed, inside, degrees=degrees, step=step)
            if inside
            else hatch_lines(placed, degrees=degrees, step=step)
        )
    ]
    return {"rings": placed, "lines": lines}


@dataclass(frozen=True, slots=True, kw_only=True)
class _Box:
    """Maps drawn points to a size in points."""

    left: float
    top: float
    scale: float
    width: float
    height: float

    @classmethod
    def around(cls, rings: Sequence[Ring], widest: float, tallest: float) -> _Box:
        points = [point for ring in rings for point in ring] or [(0.0, 0.0)]
        xs, ys = [x for x, _ in points], [y for _, y in points]
        wide, high = max(xs) - min(xs) or 1.0, max(ys) - min(ys) or 1.0
        scale = min(widest / wide, tallest / high)
        return cls(left=min(xs), top=min(ys), scale=scale, width=wide * scale, height=high * scale)

    def placed(self, ring: Ring) -> Ring:
        return tuple(
            (round((x - self.left) * self.scale, 2), round((y - self.top) * self.scale, 2))
            for x, y in ring
        )


def hatch_key(drawings: Sequence[OutlineDrawing]) -> Data:
    """Return a small hatched box for each meaning that the drawings show."""
    shown_layers = {
        "outline": True,
        "new_finish": any(drawing.new_finish for drawing in drawings),
        "lost": any(drawing.lost for drawing in drawings),
        "cannot_tell": any(drawing.cannot_tell for drawing in drawings),
    }
    swatch: Ring = ((0.0, 0.0), (22.0, 0.0), (22.0, 10.0), (0.0, 10.0))
    words = {**_MEANINGS, **_KEPT_AND_LOST[frozenset(drawing.rust for drawing in drawings)]}
    return {
        name: {"words": words[name], **_layer(name, [swatch])}
        for name, is_shown in shown_layers.items()
        if is_shown
    }


def parts_drawing(parts: SheetParts) -> Data:
    """Return the groups in words and the side drawing inked by what is known of each part."""
    box = _Box.around([shape.ring for shape in parts.shapes], _PARTS_WIDTH, _PARTS_HEIGHT)
    words = "; ".join(f"{group.label.lower()}: {group.names}" for group in parts.groups)
    return {
        "groups": [asdict(group) for group in parts.groups],
        "shapes": [_shape(shape, box) for shape in parts.shapes],
        "alternative": f"Side drawing of this kind of plane. {words}.",
        "width": _PARTS_WIDTH,
        "height": box.height,
    }


def _shape(shape: PartShape, box: _Box) -> Data:
    hatch = {PartDrawing.NOT_ORIGINAL: "not_original", PartDrawing.MISSING: "lost"}.get(shape.seen)
    ring = box.placed(shape.ring)
    lines = _layer(hatch, [ring])["lines"] if hatch else ()
    return {"ring": ring, "seen": shape.seen.value, "lines": lines}
