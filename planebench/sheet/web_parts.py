"""Pieces of HTML that the web page is made of: escaped text, tables, photographs and bars."""

from __future__ import annotations

import base64
import re
from collections.abc import Iterable, Sequence
from html import escape
from itertools import pairwise

from planebench.sheet.balloons import RADIUS, Balloon, place_balloons
from planebench.sheet.content import CloseUp, SheetPhotograph, StageBar
from planebench.sheet.missing_glyphs import clean_text
from planebench.sheet.print_images import PrintImageCache, aspect

WIDTH = 360.0
"""Points that a photograph is prepared for: 1,500 pixels, sharp on a wide screen."""

_CLOSE_UP_WIDTH = 120.0
_LONG = re.compile(r"[!-~]{24}(?=[!-~])")
_BAR = 100.0
_BAR_HEIGHT = 12.0


def text(words: str) -> str:
    """Return words cleaned and escaped for HTML."""
    return escape(clean_text(words))


def titled(title: str, body: str) -> str:
    """Return a section with a heading; `body` is HTML."""
    return f"<section>\n<h2>{text(title)}</h2>\n{body}</section>\n"


def table(head: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    """Return a table of plain words, escaped here; the first cell of a row is its heading."""
    first = "".join(f'<th scope="col">{text(word)}</th>' for word in head)
    body = "".join(f"<tr>{_row(row)}</tr>\n" for row in rows)
    return f"<table>\n<thead><tr>{first}</tr></thead>\n<tbody>\n{body}</tbody>\n</table>\n"


def _row(row: Sequence[str]) -> str:
    first, *rest = row
    cells = "".join(f"<td>{_cell(cell)}</td>" for cell in rest)
    return f'<th scope="row">{_cell(first)}</th>{cells}'


def _cell(words: str) -> str:
    """Escape a cell; only a word too long for a column, such as an address, may be broken."""
    ends = [match.end() for match in _LONG.finditer(words)]
    pieces = (words[begin:end] for begin, end in pairwise([0, *ends, len(words)]))
    return "<wbr>".join(map(text, pieces))


def figure(photograph: SheetPhotograph, images: PrintImageCache) -> str:
    """Return a photograph with its balloons and caption."""
    height = WIDTH / aspect(photograph)
    placed = place_balloons(photograph.pins, photograph.crop, (WIDTH, height))
    picture = _picture(photograph, images, (WIDTH, height), "".join(map(_balloon, placed)))
    return f"<figure>\n{picture}<figcaption>{text(photograph.caption)}</figcaption>\n</figure>\n"


def close_up(one: CloseUp, images: PrintImageCache) -> str:
    """Return a close-up with its scale bar."""
    height = _CLOSE_UP_WIDTH / aspect(one.photograph)
    bar = ""
    if one.bar_mm is not None and one.bar_share is not None:
        long, low = one.bar_share * _CLOSE_UP_WIDTH, height - 6
        bar = (
            f'<rect x="2" y="{low - 8:.1f}" width="{long + 32:.1f}" height="12" fill="#fff"/>'
            f'<path d="M5 {low - 4:.1f}v4M5 {low - 2:.1f}h{long:.1f}m0 -2v4" stroke="#22262B" '
            f'fill="none"/><text x="{long + 8:.1f}" y="{low:.1f}" font-size="7">'
            f"{one.bar_mm} mm</text>"
        )
    return _picture(one.photograph, images, (_CLOSE_UP_WIDTH, height), bar)


def _picture(
    photograph: SheetPhotograph, images: PrintImageCache, size: tuple[float, float], over: str
) -> str:
    data = base64.b64encode(images.jpeg(photograph, size[0])).decode("ascii")
    return (
        f'<svg viewBox="0 0 {size[0]:g} {size[1]:.1f}" role="img" '
        f'aria-label="{text(photograph.alternative)}"><image href="data:image/jpeg;base64,{data}" '
        f'width="{size[0]:g}" height="{size[1]:.1f}"/>{over}</svg>\n'
    )


def _balloon(ball: Balloon) -> str:
    line = f"M{ball.spot[0]:.1f} {ball.spot[1]:.1f}L{ball.at[0]:.1f} {ball.at[1]:.1f}"
    return (
        f'<path d="{line}" stroke="#fff" stroke-width="2.2"/>'
        f'<path d="{line}" stroke="#22262B" stroke-width="0.8"/>'
        f'<circle cx="{ball.at[0]:.1f}" cy="{ball.at[1]:.1f}" r="{RADIUS}" fill="#22262B" '
        'stroke="#fff" stroke-width="1.2"/>'
        f'<text x="{ball.at[0]:.1f}" y="{ball.at[1] + 2.8:.1f}" fill="#fff" font-size="8" '
        f'text-anchor="middle">{ball.number}</text>'
    )


def bar(row: StageBar, kinds: Sequence[str]) -> str:
    """Return a bar of shares as inline SVG; the words beside it say the same, so it is hidden."""
    if not row.boundaries:
        return ""
    edges = [0.0, *(one.value for one in row.boundaries), _BAR]
    names = kinds if len(edges) - 1 == len(kinds) else (kinds[0], kinds[-1])
    parts = "".join(
        f'<rect class="{name}" x="{start:.1f}" width="{end - start:.1f}" height="{_BAR_HEIGHT:g}"/>'
        for name, start, end in zip(names, edges, edges[1:], strict=False)
    )
    return (
        f'<svg class="bar" viewBox="0 0 {_BAR:g} {_BAR_HEIGHT:g}" preserveAspectRatio="none" '
        f'aria-hidden="true">{parts}</svg>'
    )
