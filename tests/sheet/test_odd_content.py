"""Whatever a record holds, every sheet compiles, its figures stay, and nothing is executed."""

from __future__ import annotations

import io
from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from pypdf import PdfReader

from planebench.catalog.reference import resources_folder
from planebench.sheet.content import ListLine, SheetContent
from planebench.sheet.fingerprint import canonical_json
from planebench.sheet.pdf import SheetPress
from planebench.sheet.web_page import web_page
from tests.sheet.conftest import AT
from tests.sheet.examples import full

PRESS = SheetPress(resources_folder(), system_fonts=False)
FIGURES = ("$165.00", "9 11/32 in", "237.3 mm", "0.067 × 0.063 in", "21%")
INJECTIONS = (
    '#panic("x")',
    '#import "style.typ": *',
    "$x^2$ *bold* _it_ `raw` <label> @ref // gone",
    "<script>alert(1)</script>",
    '"; </style><b>',
    '=HYPERLINK("x")',
    '{"@type": "Offer"}',
    "\\u{41} \\n \\\\",
    "a" * 10_000,
    "שלום العربية 123",
    "1\ufe0f\u20e3 2\ufe0f\u20e3 👩\u200d🔧 🇺🇸 é\u20e3",
    "\ud800 \ue000 \u202e \x00",
)


def _text(content: SheetContent) -> str:
    pages = PdfReader(io.BytesIO(PRESS.print([content], at=AT).pdf)).pages
    return " ".join(" ".join(page.extract_text() for page in pages).split())


def _with(words: str) -> SheetContent:
    content = full()
    first = content.defects[0]
    return replace(
        content,
        problems=(*content.problems, ListLine(lead=words, words=words)),
        defects=(replace(first, where=words), *content.defects[1:]),
        promise=words,
    )


@pytest.mark.parametrize("words", INJECTIONS, ids=range(len(INJECTIONS)))
def test_what_looks_like_code_is_printed_as_words_and_no_figure_changes(words: str) -> None:
    content = _with(words)
    text = _text(content)

    assert [figure for figure in FIGURES if figure not in text] == []
    assert canonical_json(content)


@pytest.mark.parametrize("words", INJECTIONS, ids=range(len(INJECTIONS)))
def test_the_web_page_runs_nothing_that_was_typed(words: str) -> None:
    page = web_page(_with(words))

    assert page.count("<script") == 1
    assert page.count("</script>") == 1
    assert "<b>" not in page


@settings(
    max_examples=8, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(st.text(max_size=60))
def test_any_text_at_all_compiles_and_leaves_the_figures_alone(words: str) -> None:
    text = _text(_with(words))

    assert [figure for figure in FIGURES if figure not in text] == []
