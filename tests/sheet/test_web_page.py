"""The web page stands alone, is well formed, and says what the paper says."""

from __future__ import annotations

import json
import re
from dataclasses import replace
from html.parser import HTMLParser
from typing import ClassVar

from typing_extensions import override

from planebench.sheet.content import SheetChoices
from planebench.sheet.web_page import web_page
from tests.sheet.examples import bare, full


class _Outline(HTMLParser):
    """Checks that elements close in order, and collects links, headings and labels."""

    void: ClassVar = {"meta", "br", "wbr"}

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.seen: list[tuple[str, dict[str, str | None]]] = []

    @override
    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.seen.append((tag, dict(attrs)))
        if tag not in self.void:
            self.open.append(tag)

    @override
    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.seen.append((tag, dict(attrs)))

    @override
    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag


def _read(page: str) -> _Outline:
    outline = _Outline()
    outline.feed(page)
    assert outline.open == []
    return outline


def test_the_page_asks_nothing_of_the_network() -> None:
    outline = _read(web_page(full()))
    addresses = [a.get("href") or a.get("src") or "" for _, a in outline.seen]

    inside = ("data:image/", "mailto:")
    assert all(not address or address.startswith(inside) for address in addresses)


def test_each_photograph_is_told_in_words() -> None:
    outline = _read(web_page(full()))
    labels = [a["aria-label"] for tag, a in outline.seen if tag == "svg" and "aria-label" in a]

    assert len(labels) == 4
    assert all(labels)


def test_language_title_and_headings_are_there_in_order() -> None:
    outline = _read(web_page(full()))
    tags = [tag for tag, _ in outline.seen]

    assert ("html", {"lang": "en"}) in outline.seen
    assert tags.count("h1") == 1
    assert tags.index("h1") < tags.index("h2")


def test_machines_read_a_used_product_of_schema_org() -> None:
    found = re.search(r'<script type="application/ld\+json">(.*?)</script>', web_page(full()))

    assert found is not None
    product = json.loads(found[1])
    assert product["@type"] == "Product"
    assert product["itemCondition"] == "https://schema.org/UsedCondition"
    assert product["sku"] == "LOT7-003"


def test_words_that_look_like_markup_stay_words() -> None:
    page = web_page(replace(full(), title="</script><b>Plane</b> & son"))

    assert "<b>" not in page
    assert page.count("</script>") == 1


def test_only_a_word_too_long_for_its_column_may_be_broken_in_a_table() -> None:
    content = full()
    address = "https://www.example.org/archive/1911/invoice&more.html"
    row = replace(content.measurements[0], of=f"sole, see {address}")

    page = web_page(replace(content, measurements=(row,)))

    broken = next(line for line in page.splitlines() if "sole, see" in line)
    assert broken.count("<wbr>") == len(address) // 24
    assert broken.replace("<wbr>", "").count(address.replace("&", "&amp;")) == 1


def test_a_bare_record_is_told_plainly_too() -> None:
    page = web_page(bare())

    assert "No photographs." in page
    assert "Inspection not complete; expect further defects." in page
    assert "not measured" in page


def test_what_is_left_off_the_paper_is_left_off_the_page() -> None:
    page = web_page(replace(full(), choices=SheetChoices(sections=frozenset())))

    assert "Problems" in page
    assert "Not checked" in page
    assert "<h2>Defects" not in page
    assert "$165.00" not in page
