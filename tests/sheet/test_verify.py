"""A sheet that comes back is checked: its content, and its file."""

from __future__ import annotations

import io
import json
from collections.abc import Callable

import pikepdf
import pytest

from planebench.catalog.catalog import Catalog
from planebench.catalog.ids import ToolId
from planebench.errors import InputError, SheetError
from planebench.sheet.compose import compose
from planebench.sheet.fingerprint import canonical_json, fingerprint
from planebench.sheet.issuing import Issued, issue
from planebench.sheet.pdf import SheetPress
from planebench.sheet.verify import SheetVerdict, verify_fingerprint, verify_pdf
from tests.sheet.conftest import AT

NAME = "sheet0.json"


@pytest.fixture
def issued(empty_shop: Catalog, press: SheetPress, told_tool: ToolId) -> Issued:
    return issue(empty_shop, press, told_tool)


def changed(pdf: bytes, change: Callable[[pikepdf.Pdf], None]) -> bytes:
    out = io.BytesIO()
    with pikepdf.open(io.BytesIO(pdf)) as opened:
        change(opened)
        opened.save(out)
    return out.getvalue()


def attach(opened: pikepdf.Pdf, data: bytes) -> None:
    del opened.attachments[NAME]
    opened.attachments[NAME] = pikepdf.AttachedFileSpec(opened, data, filename=NAME)


def test_the_content_rides_in_the_pdf_as_canonical_json(issued: Issued) -> None:
    with pikepdf.open(io.BytesIO(issued.pdf)) as opened:
        raw = opened.attachments[NAME].get_file().read_bytes()
        relationship = opened.attachments[NAME].obj.get("/AFRelationship")

    assert raw == canonical_json(issued.content)
    assert relationship == "/Data"


def test_a_sheet_as_issued_is_known_by_file_and_by_fingerprint(
    empty_shop: Catalog, issued: Issued
) -> None:
    digest = fingerprint(issued.content)
    groups = f"{digest[:4]} {digest[4:8]} …".upper()
    by_file, *others = verify_pdf(issued.pdf, empty_shop)

    assert others == []
    assert by_file.verdict is SheetVerdict.AS_ISSUED
    assert by_file.number == issued.content.heading.number
    assert verify_fingerprint(groups, empty_shop).verdict is SheetVerdict.AS_ISSUED
    assert verify_pdf(issued.pdf, None)[0].verdict is SheetVerdict.SELF_CONSISTENT


def test_one_changed_character_is_found(empty_shop: Catalog, issued: Issued) -> None:
    lower = canonical_json(issued.content).replace(b"$165.00", b"$185.00")
    forged = changed(issued.pdf, lambda opened: attach(opened, lower))

    assert verify_pdf(forged, empty_shop)[0].verdict is SheetVerdict.UNKNOWN
    assert not verify_pdf(forged, empty_shop)[0].is_good


def test_content_that_is_not_canonical_was_changed(empty_shop: Catalog, issued: Issued) -> None:
    spaced = json.dumps(json.loads(canonical_json(issued.content)), indent=1).encode()
    forged = changed(issued.pdf, lambda opened: attach(opened, spaced))

    assert verify_pdf(forged, empty_shop)[0].verdict is SheetVerdict.CHANGED


def test_pages_swapped_under_true_content_are_not_taken_for_the_issued_file(
    empty_shop: Catalog, issued: Issued
) -> None:
    swapped = changed(issued.pdf, lambda opened: opened.pages.reverse())

    assert verify_pdf(swapped, empty_shop)[0].verdict is SheetVerdict.OTHER_FILE
    assert not verify_pdf(swapped, empty_shop)[0].is_good


def test_a_draft_and_any_other_file_cannot_be_checked(
    empty_shop: Catalog, press: SheetPress, told_tool: ToolId
) -> None:
    draft = press.print([compose(empty_shop, told_tool)], at=AT).pdf
    for data in (draft, b"no pdf"):
        with pytest.raises(SheetError):
            verify_pdf(data, empty_shop)


@pytest.mark.parametrize("text", ["", "7c1e", "hello there", "g" * 64, "0" * 65])
def test_what_is_no_fingerprint_is_refused(empty_shop: Catalog, text: str) -> None:
    with pytest.raises(InputError):
        verify_fingerprint(text, empty_shop)


def test_a_fingerprint_never_issued_is_unknown(empty_shop: Catalog) -> None:
    assert verify_fingerprint("0" * 64, empty_shop).verdict is SheetVerdict.UNKNOWN
