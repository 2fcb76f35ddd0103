"""The sheet as one web page that stands alone: photographs inside, readable without a style."""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence

from planebench.sheet.content import (
    BarShare,
    ListLine,
    SheetContent,
    SheetDefect,
    SheetDimension,
    SheetSection,
    SheetWork,
    StageBar,
    SurfaceBars,
)
from planebench.sheet.dimension_rows import dimension_rows, units_in_order
from planebench.sheet.fingerprint import fingerprint, fingerprint_groups
from planebench.sheet.missing_glyphs import clean_text
from planebench.sheet.print_images import PrintImageCache
from planebench.sheet.web_parts import bar, close_up, figure, table, text, titled

_STYLE = """
:root{color-scheme:light dark;--ground:#FAF7F0;--ink:#22262B;--muted:#5C6167;--line:#CFC6B3;
--edge:#857A63;--rust:#973C1B;--brass:#7D5A17;--first:#23655A}
@media(prefers-color-scheme:dark){:root{--ground:#1D2023;--ink:#ECE7DC;--muted:#ABA89F;
--line:#3A3E43;--edge:#7C7F80;--rust:#EC936F;--brass:#DDB56A;--first:#83C7B6}}
body{background:var(--ground);color:var(--ink);font:16px/1.5 "Source Sans 3","Segoe UI",
"Helvetica Neue",sans-serif;max-width:56rem;margin:0 auto;padding:1.5rem}
h1,h2{font-family:Vollkorn,Georgia,serif;font-weight:500;line-height:1.2}
h2{border-top:1px solid var(--edge);padding-top:.5rem;margin-top:2rem}
figure{margin:0 0 1rem}figure svg,.card svg{width:100%;height:auto;display:block}
figcaption,.muted{color:var(--muted);font-size:.875rem}
.pair,.cards,.lists{display:grid;grid-template-columns:repeat(auto-fit,minmax(16rem,1fr));gap:1rem}
.cards{grid-template-columns:repeat(auto-fill,minmax(10rem,1fr))}
.card h3{margin:.3rem 0 0;font-size:1rem}.card p{margin:0;font-size:.9375rem}
table{border-collapse:collapse;width:100%}th,td{text-align:left;vertical-align:top;
padding:.3rem .5rem .3rem 0;border-bottom:1px solid var(--line);font-weight:400}
thead th{color:var(--muted)}.scroll{overflow-x:auto}
.problems{border-left:4px solid var(--rust);padding-left:1rem}
.unchecked{border-left:4px solid var(--brass);padding-left:1rem}
.lists h2{border:0;margin-top:0}.lists ul{padding-left:1.1rem;margin:0}
.rust,.draft{color:var(--rust)}.draft{border:2px solid var(--rust);padding:.5rem 1rem}
.price{font-size:1.5rem}p,h1,figcaption,li{overflow-wrap:anywhere}
.bar{width:100%;min-width:6rem;height:.75rem;display:block}.bar rect{stroke:var(--ink);
stroke-width:.4}.first{fill:var(--first)}.new{fill:var(--brass)}.bare,.red{fill:var(--rust)}
.clean{fill:none}
""".strip()
_FINISH_KINDS = ("first", "new", "bare")
_IRON_KINDS = ("clean", "red")


def web_page(content: SheetContent) -> str:
    """Return the sheet as HTML, with a description for machines (schema.org Product, JSON-LD).

    Raise SheetError for a photograph that cannot be read.
    """
    show = content.choices.sections
    parts = [
        _opening(content),
        _photographs(content),
        _finish(content) if SheetSection.FINISH in show else "",
        _lists(content),
        _defects(content) if SheetSection.DEFECTS in show else "",
        _iron(content) if SheetSection.FINISH in show else "",
        _record(content) if SheetSection.PARTS in show else "",
        _work(content) if SheetSection.WORK in show else "",
        _dating(content) if SheetSection.DATING in show else "",
        _seller(content) if SheetSection.PROMISE in show else "",
        _check(content),
        _cautions(content),
    ]
    return (
        '<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f"<title>{text(content.title)}</title>\n<style>\n{_STYLE}\n</style>\n"
        f'<script type="application/ld+json">{_for_machines(content)}</script>\n</head>\n<body>\n'
        f"<main>\n{''.join(parts)}</main>\n{_foot()}</body>\n</html>\n"
    )


def _opening(content: SheetContent) -> str:
    heading = content.heading
    if heading.issued:
        parts = (f"Condition sheet {heading.number}", f"issued {heading.issued}", heading.seller)
        line = " · ".join(filter(None, parts))
    else:
        line = f"Condition sheet · draft of {heading.drafted}, not issued, no number"
    price = ""
    if content.price and SheetSection.PRICE in content.choices.sections:
        price = f'<p class="price">{text(content.price)}</p>\n'
    return (
        f'<p class="muted">{text(line)} · {text(heading.stock)}</p>\n'
        f"<h1>{text(content.title)}</h1>\n<p>{text(content.summary)}</p>\n{price}"
        f"{'' if heading.issued else _draft(content)}"
    )


def _draft(content: SheetContent) -> str:
    settle = "".join(f"<li>{text(words)}</li>\n" for words in content.to_settle)
    listed = f"<p>To settle before this sheet can be issued:</p>\n<ul>\n{settle}</ul>\n"
    return (
        '<div class="draft"><p>Draft. Not issued, and not to be sold on: anything here may still '
        f"change.</p>\n{listed if settle else ''}</div>\n"
    )


def _photographs(content: SheetContent) -> str:
    taken, asked = content.photographs, content.choices.sections
    beside = [taken.found] if SheetSection.BEFORE_AFTER in asked else []
    if SheetSection.OTHER_PHOTOGRAPHS in asked:
        beside += [taken.other, *taken.more]
    images = PrintImageCache()
    main = figure(taken.main, images) if taken.main is not None else ""
    others = "".join(figure(one, images) for one in beside if one is not None)
    missing = f'<p class="muted">{text(taken.missing)}</p>\n' if taken.missing else ""
    return main + (f'<div class="pair">\n{others}</div>\n' if others else "") + missing


def _finish(content: SheetContent) -> str:
    title = "Finish: how much is first, how much is new"
    if not content.finish:
        return titled(title, "<p>No finish was measured or estimated by eye.</p>\n")
    return titled(title, _bars(content.finish, content.finish_columns, _FINISH_KINDS))


def _iron(content: SheetContent) -> str:
    if not content.iron:
        return ""
    return titled("Bare iron", _bars(content.iron, ("Without rust", "Rust"), _IRON_KINDS))


def _bars(surfaces: Sequence[SurfaceBars], columns: Sequence[str], kinds: Sequence[str]) -> str:
    head = "".join(
        f'<th scope="col">{text(word)}</th>' for word in ("Surface", "Bar", *columns, "Basis")
    )
    rows = "".join(_bar_row(s, row, kinds) for s in surfaces for row in s.bars)
    notes = "".join(
        f'<p class="muted">{text(s.surface)}: {text(words)}</p>\n'
        for s in surfaces
        for words in (s.covered, s.rating)
        if words
    )
    return (
        f'<div class="scroll"><table>\n<thead><tr>{head}</tr></thead>\n<tbody>\n{rows}</tbody>\n'
        f"</table></div>\n{notes}"
    )


def _bar_row(surface: SurfaceBars, row: StageBar, kinds: Sequence[str]) -> str:
    name = ", ".join(filter(None, (surface.surface, surface.note, row.stage.lower())))
    cells = "".join(f"<td>{text(_share(share))}</td>" for share in row.shares)
    basis = ". ".join(filter(None, (row.basis, row.aside, row.not_drawn)))
    return (
        f'<tr><th scope="row">{text(name)}</th><td>{bar(row, kinds)}</td>{cells}'
        f"<td>{text(basis)}</td></tr>\n"
    )


def _share(share: BarShare) -> str:
    return f"{share.words} ({share.interval})" if share.interval else share.words


def _lists(content: SheetContent) -> str:
    under = " ".join(filter(None, (content.inspection, content.photographs.count)))
    return (
        f'<div class="lists">\n{_list("Problems", "problems", content.problems)}'
        f"{_list('Not checked', 'unchecked', content.not_checked)}</div>\n"
        f'<p class="muted">{text(under)}</p>\n'
    )


def _list(title: str, look: str, lines: Iterable[ListLine]) -> str:
    items = "".join(f"<li>{_line(line)}</li>\n" for line in lines)
    return f'<section class="{look}">\n<h2>{title}</h2>\n<ul>\n{items}</ul>\n</section>\n'


def _line(line: ListLine) -> str:
    numbers = f" (defect {', '.join(map(str, line.defects))})" if line.defects else ""
    words = f" {text(line.words)}" if line.words else ""
    return f"<strong>{text(line.lead)}</strong>{words}{numbers}"


def _defects(content: SheetContent) -> str:
    left_off = f"<p>{text(content.defects_left_off)}</p>\n" if content.defects_left_off else ""
    if not content.defects:
        return left_off
    images = PrintImageCache()
    cards = "".join(_card(one, images) for one in content.defects)
    return titled("Defects", f'<div class="cards">\n{cards}</div>\n{left_off}')


def _card(one: SheetDefect, images: PrintImageCache) -> str:
    shown = close_up(one.close_up, images) if one.close_up is not None else ""
    said = [f"<p>{text(words)}</p>\n" for words in (one.where, *one.size) if words]
    said += [f'<p class="muted">{text(one.basis)}</p>\n'] if one.basis else []
    said += [f'<p class="rust">{text(one.since)}</p>\n'] if one.since else []
    return (
        f'<div class="card">\n{shown}<h3>{one.number}. {text(one.what)}</h3>\n'
        f"{''.join(said)}</div>\n"
    )


def _record(content: SheetContent) -> str:
    groups = "".join(
        f"<p><strong>{text(g.label)}:</strong> {text(g.names)}</p>\n" for g in content.parts.groups
    )
    return (
        titled("Parts", groups)
        + _dimensions("Measurements", content.measurements, content)
        + _dimensions("Cutter", content.cutter, content)
    )


def _dimensions(title: str, dimensions: Sequence[SheetDimension], content: SheetContent) -> str:
    if not dimensions:
        return ""
    rows = [
        (str(row["of"]), *_both(row["first"], row["second"], row["across"]), str(row["basis"]))
        for row in dimension_rows(dimensions, content)
    ]
    note = content.cutter_note if title == "Cutter" else ""
    said = f"<p>{text(note)}</p>\n" if note else ""
    return titled(title, said + table(("What", *units_in_order(content), "Basis"), rows))


def _both(first: object, second: object, across: object) -> tuple[str, str]:
    return (str(across), str(across)) if across else (str(first), str(second))


def _work(content: SheetContent) -> str:
    title = "Work done, and with what"
    if not content.work:
        return titled(title, f"<p>{text(content.work_not_recorded)}</p>\n")
    groups = (("Work that changes the tool", True), ("Cleaning and care", False))
    said = [
        f"<h3>{name}</h3>\n{table(('Day', 'What, and with what'), map(_entry, entries))}"
        for name, changes in groups
        if (entries := [one for one in content.work if one.changes_tool is changes])
    ]
    return titled(title, "".join(said))


def _entry(one: SheetWork) -> tuple[str, str]:
    return one.day, f"{one.what}: {one.materials}" if one.materials else one.what


def _dating(content: SheetContent) -> str:
    dating = content.dating
    said = [f"<p><strong>{text(dating.in_words)}</strong></p>\n"]
    said += [f'<p class="rust">{text(words)}</p>\n' for words in dating.disagreements]
    if dating.evidence:
        rows = [(str(one.number), one.what, one.words, one.basis) for one in dating.evidence]
        said.append(table(("No.", "Evidence", "Years", "Basis"), rows))
    said += [f"<p>{text(reason)}</p>\n" for reason in dating.reasons]
    if dating.sources:
        said.append(f'<p class="muted">{text(dating.sources)}</p>\n')
    return titled("When it was made", "".join(said))


def _seller(content: SheetContent) -> str:
    address = content.address
    lines = [line for line in (address.name, address.person, *address.lines) if line]
    seller = "<br>\n".join(map(_contact, lines)) or "No seller is named."
    promise = f"<p>{text(content.promise)}</p>\n" if content.promise else ""
    return titled("Seller and guarantee", f"{promise}<address>{seller}</address>\n")


def _contact(line: str) -> str:
    """Return a line of the address; a mail address becomes a link."""
    is_mail = line.count("@") == 1 and " " not in line
    return f'<a href="mailto:{text(line)}">Write to {text(line)}</a>' if is_mail else text(line)


def _check(content: SheetContent) -> str:
    heading = content.heading
    if not heading.issued:
        return ""
    digest = " ".join(fingerprint_groups(fingerprint(content)))
    return titled(
        "How to check this sheet",
        f"<p>Sheet {text(heading.number)}, issued {text(heading.issued)}. "
        f"{text(content.replaces)}</p>\n<p>To check it, ask the seller for the fingerprint of "
        f"sheet {text(heading.number)}, or open its PDF in Planebench and choose Check: if even "
        "one character was changed, the fingerprint will be different.</p>\n"
        f'<p class="muted">Fingerprint (SHA-256 of the content): {digest}</p>\n',
    )


def _cautions(content: SheetContent) -> str:
    said = "".join(f"<p>{_line(line)}</p>\n" for line in content.cautions)
    return titled("Take care", said) if said else ""


def _foot() -> str:
    return (
        '<footer class="muted"><p>Figures in brackets: the 90% range; by eye, the range judged '
        "likely.</p></footer>\n"
    )


def _for_machines(content: SheetContent) -> str:
    """Return the tool as a schema.org Product in used condition, as JSON-LD."""
    problems = " ".join(" ".join(filter(None, (p.lead, p.words))) for p in content.problems)
    product: dict[str, object] = {
        "@context": "https://schema.org",
        "@type": "Product",
        "name": clean_text(content.title),
        "sku": content.heading.stock,
        "description": clean_text(f"{content.summary} {problems}"),
        "itemCondition": "https://schema.org/UsedCondition",
    }
    return json.dumps(product, ensure_ascii=True).replace("<", "\\u003c")
