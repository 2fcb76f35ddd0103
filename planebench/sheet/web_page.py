"""The sheet as one web page that stands alone: photographs inside, readable without a style."""

from __future__ import annotations

import base64
import json
import re
from collections.abc import Iterable, Sequence
from html import escape
from itertools import pairwise

from planebench.sheet.balloons import RADIUS, place_balloons
from planebench.sheet.content import (
    FinishReading,
    SheetContent,
    SheetDimension,
    SheetEvidenceWeight,
    SheetPhotograph,
    SheetSection,
)
from planebench.sheet.fingerprint import fingerprint, format_fingerprint
from planebench.sheet.missing_glyphs import clean_text
from planebench.sheet.print_images import PrintImageCache, aspect
from planebench.trade.days import format_day
from planebench.trade.units import LengthUnit

_WIDTH = 360.0
"""Points that a photograph is prepared for: 1,500 pixels, sharp on a wide screen."""

_LONG = re.compile(r"[!-~]{24}(?=[!-~])")

_STYLE = """
:root{color-scheme:light dark;--ground:#FAF7F0;--ink:#22262B;--muted:#5C6167;--line:#CFC6B3;
--edge:#857A63;--rust:#973C1B}
@media(prefers-color-scheme:dark){:root{--ground:#1D2023;--ink:#ECE7DC;--muted:#ABA89F;
--line:#3A3E43;--edge:#7C7F80;--rust:#EC936F}}
body{background:var(--ground);color:var(--ink);font:16px/1.5 "Source Sans 3","Segoe UI",
"Helvetica Neue",sans-serif;max-width:56rem;margin:0 auto;padding:1.5rem}
h1,h2{font-family:Vollkorn,Georgia,serif;font-weight:500;line-height:1.2}
h2{border-top:1px solid var(--edge);padding-top:.5rem;margin-top:2rem}
figure{margin:0 0 1rem}figure svg{width:100%;height:auto;display:block}
figcaption,.muted{color:var(--muted);font-size:.875rem}
.pair{display:grid;grid-template-columns:repeat(auto-fit,minmax(16rem,1fr));gap:1rem}
table{border-collapse:collapse;width:100%}th,td{text-align:left;vertical-align:top;
padding:.3rem .5rem;border-bottom:1px solid var(--line)}th{font-weight:400;color:var(--muted)}
.first{border-left:4px solid var(--rust);padding-left:1rem}.rust{color:var(--rust)}
.price{font-size:1.5rem}p,h1,figcaption{overflow-wrap:anywhere}
""".strip()


def web_page(content: SheetContent) -> str:
    """Return the sheet as HTML, with a description for machines (schema.org Product, JSON-LD).

    Raises SheetError for a photograph that cannot be read.
    """
    show = content.choices.sections
    parts = [
        _opening(content),
        _pictures(content),
        _first(content),
        _defects(content) if SheetSection.DEFECTS in show else "",
        _finish(content) if SheetSection.FINISH in show else "",
        _dating(content) if SheetSection.DATING in show else "",
        _parts(content) if SheetSection.PARTS in show else "",
        _work(content) if SheetSection.WORK in show else "",
        _cautions(content),
        _promise(content) if SheetSection.PROMISE in show else "",
    ]
    return (
        '<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f"<title>{_text(content.title)}</title>\n<style>\n{_STYLE}\n</style>\n"
        f'<script type="application/ld+json">{_for_machines(content)}</script>\n</head>\n<body>\n'
        f"<main>\n{''.join(parts)}</main>\n{_foot(content)}</body>\n</html>\n"
    )


def _text(words: str) -> str:
    return escape(clean_text(words))


def _opening(content: SheetContent) -> str:
    heading = content.heading
    issued = f"issued {heading.issued}" if heading.issued else "draft, not issued"
    line = " · ".join(p for p in (f"Condition sheet {heading.number}", issued, heading.seller) if p)
    price = ""
    if content.price and SheetSection.PRICE in content.choices.sections:
        price = f'<p class="price">{_text(content.price)}</p>\n'
    return (
        f'<p class="muted">{_text(line)} · {_text(heading.stock)}</p>\n'
        f"<h1>{_text(content.title)}</h1>\n<p>{_text(content.summary)}</p>\n{price}"
    )


def _pictures(content: SheetContent) -> str:
    taken = content.photographs
    asked = content.choices.sections
    beside = [taken.found] if SheetSection.BEFORE_AFTER in asked else []
    if SheetSection.OTHER_PHOTOGRAPHS in asked:
        beside += [taken.other, *taken.more]
    desk = PrintImageCache()
    main = _figure(taken.main, desk) if taken.main is not None else ""
    others = "".join(_figure(one, desk) for one in beside if one is not None)
    missing = f'<p class="muted">{_text(taken.missing)}</p>\n' if taken.missing else ""
    return main + (f'<div class="pair">\n{others}</div>\n' if others else "") + missing


def _figure(photograph: SheetPhotograph, desk: PrintImageCache) -> str:
    height = _WIDTH / aspect(photograph)
    data = base64.b64encode(desk.jpeg(photograph, _WIDTH)).decode("ascii")
    placed = place_balloons(photograph.pins, photograph.crop, (_WIDTH, height))
    marks = "".join(
        f'<path d="M{b.spot[0]:.1f} {b.spot[1]:.1f}L{b.at[0]:.1f} {b.at[1]:.1f}" '
        'stroke="#fff" stroke-width="2.2"/>'
        f'<path d="M{b.spot[0]:.1f} {b.spot[1]:.1f}L{b.at[0]:.1f} {b.at[1]:.1f}" '
        'stroke="#22262B" stroke-width="0.8"/>'
        f'<circle cx="{b.at[0]:.1f}" cy="{b.at[1]:.1f}" r="{RADIUS}" fill="#22262B" '
        'stroke="#fff" stroke-width="1.2"/>'
        f'<text x="{b.at[0]:.1f}" y="{b.at[1] + 2.8:.1f}" fill="#fff" font-size="8" '
        f'text-anchor="middle">{b.number}</text>'
        for b in placed
    )
    numbers = ", ".join(str(b.number) for b in placed)
    told = photograph.alternative + (f" Numbered on it: {numbers}." if numbers else "")
    return (
        f'<figure>\n<svg viewBox="0 0 {_WIDTH:g} {height:.1f}" role="img" '
        f'aria-label="{_text(told)}"><image href="data:image/jpeg;base64,{data}" '
        f'width="{_WIDTH:g}" height="{height:.1f}"/>{marks}</svg>\n'
        f"<figcaption>{_text(photograph.caption)}</figcaption>\n</figure>\n"
    )


def _first(content: SheetContent) -> str:
    words = " ".join((*content.know_first, *content.unknown))
    return (
        '<section class="first">\n<h2>What a buyer must know first</h2>\n'
        f"<p>{_text(words)}</p>\n</section>\n"
    )


def _table(head: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    """Set a table; cells are escaped here."""
    first = "".join(f'<th scope="col">{_text(word)}</th>' for word in head)
    body = "".join(
        "<tr>" + "".join(f"<td>{_cell(cell)}</td>" for cell in row) + "</tr>\n" for row in rows
    )
    return f"<table>\n<thead><tr>{first}</tr></thead>\n<tbody>\n{body}</tbody>\n</table>\n"


def _cell(words: str) -> str:
    """Escape a cell's words; only one too long for a column may be broken, as an address is."""
    ends = [match.end() for match in _LONG.finditer(words)]
    pieces = (words[begin:end] for begin, end in pairwise([0, *ends, len(words)]))
    return "<wbr>".join(map(_text, pieces))


def _titled(title: str, body: str) -> str:
    return f"<section>\n<h2>{title}</h2>\n{body}</section>\n"


def _defects(content: SheetContent) -> str:
    if not content.defects:
        return _titled("Defects", f"<p>{_text(content.no_defects)}</p>\n")
    rows = [(str(d.number), d.what, d.where, d.size, d.basis) for d in content.defects]
    return _titled("Defects", _table(("No.", "What", "Where", "Size", "Basis"), rows))


def _based(reading: FinishReading) -> str:
    return f"{reading.basis}. {reading.covered}" if reading.covered else reading.basis


def _finish(content: SheetContent) -> str:
    if not content.finish:
        return _titled("Finish left", "<p>No finish was measured or estimated by eye.</p>\n")
    ratings = content.choices.standard_ratings
    rows = [
        (f"{r.part}, {r.note}", r.words, r.interval.strip("()"), _based(r))
        + ((r.rating,) if ratings else ())
        for r in content.finish
    ]
    head = ("Part and finish", "Left", "Interval", "Basis") + (("Rating",) if ratings else ())
    return _titled("Finish left", _table(head, rows))


def _dating(content: SheetContent) -> str:
    dating = content.dating
    said = [f"<p><strong>{_text(dating.in_words)}</strong></p>\n"]
    said += [f'<p class="rust">{_text(words)}</p>\n' for words in dating.disagreements]
    if dating.evidence:
        trust = {
            SheetEvidenceWeight.FULL: "",
            SheetEvidenceWeight.HALF: "half trusted",
            SheetEvidenceWeight.DISAGREES: "does not agree",
        }
        rows = [(str(s.number), s.what, s.words, trust[s.trust]) for s in dating.evidence]
        said.append(_table(("No.", "Sign", "Years", "Trust"), rows))
    said += [f"<p>{_text(reason)}</p>\n" for reason in dating.reasons]
    if dating.sources:
        said.append(f'<p class="muted">{_text(dating.sources)}</p>\n')
    return _titled("When it was made", "".join(said))


def _parts(content: SheetContent) -> str:
    groups = "".join(
        f"<p><strong>{_text(g.label)}:</strong> {_text(g.names)}</p>\n"
        for g in content.parts.groups
    )
    inches_first = content.choices.first_unit is LengthUnit.INCH
    head = ("Of", "inches", "mm") if inches_first else ("Of", "mm", "inches")
    rows = [_length(m, inches_first=inches_first) for m in content.measurements]
    lengths = _titled("Measurements", _table(head, rows)) if rows else ""
    return _titled("Parts", groups) + lengths


def _length(one: SheetDimension, *, inches_first: bool) -> tuple[str, str, str]:
    if one.words or not (one.inches or one.millimeters):
        said = one.words or "not measured"
        return (one.of, said, said)
    both = (one.inches, one.millimeters)
    first, second = both if inches_first else both[::-1]
    return (one.of, first, second)


def _work(content: SheetContent) -> str:
    if not content.work:
        return _titled("Work done", "<p>Work: not recorded.</p>\n")
    rows = [
        (
            format_day(entry.day) if entry.day is not None else "no date",
            f"Work that changes the tool: {entry.what}" if entry.told else entry.what,
        )
        for entry in content.work
    ]
    return _titled("Work done", _table(("Date", "What, and what with"), rows))


def _cautions(content: SheetContent) -> str:
    said = "".join(
        f"<p><strong>{_text(c.name)}.</strong> {_text(c.words)} "
        f'<span class="muted">{_text(c.source)}</span></p>\n'
        for c in content.cautions
    )
    return _titled("Take care", said) if said else ""


def _promise(content: SheetContent) -> str:
    address = content.address
    lines = [line for line in (address.name, address.person, *address.lines) if line]
    seller = "<br>\n".join(_text(line) for line in lines) or "No seller is named."
    promise = f"<p>{_text(content.promise)}</p>\n" if content.promise else ""
    return _titled(
        "Seller and guarantee",
        f'{promise}<address>{seller}</address>\n<p class="muted">{_text(content.replaces)}</p>\n',
    )


def _foot(content: SheetContent) -> str:
    mark = (
        format_fingerprint(fingerprint(content)) if content.heading.issued else "draft, not issued"
    )
    return (
        '<footer class="muted"><p>Percent of the finish area still there; the interval is the '
        f"90% one, by eye a range. Fingerprint: {mark}.</p></footer>\n"
    )


def _for_machines(content: SheetContent) -> str:
    """Describe the tool as a schema.org Product in used condition, for search engines."""
    product: dict[str, object] = {
        "@context": "https://schema.org",
        "@type": "Product",
        "name": clean_text(content.title),
        "sku": content.heading.stock,
        "description": clean_text(" ".join((content.summary, *content.know_first))),
        "itemCondition": "https://schema.org/UsedCondition",
    }
    return json.dumps(product, ensure_ascii=True).replace("<", "\\u003c")
