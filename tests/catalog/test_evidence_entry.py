"""A sign as it is entered: what it means, and what is refused with the nearest that would do."""

import pytest

from planebench.catalog.catalog import Catalog
from planebench.catalog.dating_tables import dating_tables
from planebench.catalog.evidence_entry import parse_evidence
from planebench.catalog.own_tables import KNOWN_FEATURES, TYPE_STUDY
from planebench.catalog.reference import sample_source
from planebench.errors import InputError
from planebench.trade.dating_span import PRODUCTION
from planebench.trade.evidence_input import KIND_WORDS, EvidenceInput
from planebench.trade.evidence_parsing import KINDS
from planebench.trade.terms import Basis

OWN = """\
id,clue,wording,family,bounds,market,not_before,not_after,never_before,sure,looseness,source,status,use
ring,H in a ring,,foundry mark,part,any,1909,1933,no,0.8,2,Halbeck lists (invented),invented,
"""


def test_every_kind_that_the_engine_knows_is_offered() -> None:
    assert set(KINDS) <= set(KIND_WORDS)
    assert PRODUCTION in KIND_WORDS


def test_a_patent_date_is_read_shown_back_and_kept_as_stamped() -> None:
    seen = EvidenceInput(kind="patent_date", mark={"text": "Pat. Apr 19 92"})

    understood = parse_evidence(seen, dating_tables())

    # 19 April 1892 was a Tuesday, the day on which US patents are issued (any calendar).
    assert "19 April 1892" in understood.read_as
    assert any("1992" in other for other in understood.alternatives)
    assert understood.bounds == "not before 1892, usual until about 1912"
    assert understood.fields["mark"] == {"text": "Pat. Apr 19 92"}
    assert understood.fields["seen"] == "“Pat. Apr 19 92”"


def test_a_clue_from_memory_is_flagged() -> None:
    memory = next(clue for clue in dating_tables().clues.values() if clue.status == "memory")

    understood = parse_evidence(
        EvidenceInput(kind="clue", mark={"row": memory.id}), dating_tables()
    )

    assert understood.from_memory
    assert understood.fields["source_status"] == "memory"


def test_a_person_s_word_is_half_trusted_and_told() -> None:
    understood = parse_evidence(
        EvidenceInput(kind="word", mark={"value": "about 1915"}), dating_tables()
    )

    assert understood.fields["sure"] == dating_tables().sureness["half_trusted"]
    assert understood.fields["basis"] is Basis.TOLD
    assert (understood.fields["not_before"], understood.fields["not_after"]) == (1910, 1920)


@pytest.mark.parametrize(
    ("seen", "near"),
    [
        (EvidenceInput(kind="patent_us", mark={"number": "99,999,999"}), "13,000,000"),
        (EvidenceInput(kind="patent_date", mark={"text": "PAT. FEB. 30. 13"}), "February 28"),
        (EvidenceInput(kind="years", mark={"value": "sometime"}), "1915"),
        (EvidenceInput(kind=PRODUCTION, mark={"value": ""}), "1915"),
    ],
)
def test_what_cannot_be_meant_is_refused_with_what_would_do(seen: EvidenceInput, near: str) -> None:
    with pytest.raises(InputError) as refused:
        parse_evidence(seen, dating_tables())

    assert near in str(refused.value)
    assert not refused.value.happened.startswith(("sign:", "production:"))


def test_a_clue_of_the_user_s_own_outlives_its_table(
    catalog_with_batch: Catalog, tool_id: str
) -> None:
    book = catalog_with_batch.own_tables
    table = book.add(KNOWN_FEATURES, OWN, name="Halbeck").id
    understood = parse_evidence(
        EvidenceInput(kind="clue", mark={"row": "ring"}), book.evidence_tables()
    )
    book.bin(table)

    assert understood.fields["mark"] == {
        "own_row": "ring",
        "group": "clue:foundry mark",
        "never_before": False,
    }
    assert "ring" not in book.evidence_tables().clues


def test_type_studies_are_kept_listed_and_binned(empty_catalog: Catalog) -> None:
    book = empty_catalog.own_tables
    text = (sample_source() / "type_studies" / "halbeck_block.csv").read_text("utf-8")

    added = book.add(TYPE_STUDY, text).id
    book.add(TYPE_STUDY, text.replace("Halbeck lists", "lists"))

    assert [known.id for known in book.type_studies()] == [added]
    assert len(book.type_studies()[0].study.variants) == 13
    book.bin(added)
    assert book.type_studies() == ()
    empty_catalog.history.undo()
    assert len(book.type_studies()) == 1


def test_the_sample_brings_two_type_studies_of_twelve_variants_or_more(sample: Catalog) -> None:
    studies = [known.study for known in sample.own_tables.type_studies()]

    assert len(studies) == 2
    assert all(len(study.variants) >= 12 and study.invented for study in studies)


@pytest.mark.parametrize(
    ("wrong", "row", "column"),
    [
        (OWN.replace("1909", "19x9"), "Row 2", "not_before"),
        (OWN.replace(",no,", ",maybe,"), "Row 2", "never_before"),
        (OWN.replace("0.8", "8"), "Row 2", "sure"),
        (OWN.replace("looseness,", ""), "Row 1", "looseness"),
        (OWN + OWN.splitlines()[1], "Row 3", "id"),
    ],
)
def test_a_table_that_cannot_be_used_is_refused_naming_row_and_column(
    wrong: str, row: str, column: str, empty_catalog: Catalog
) -> None:
    with pytest.raises(InputError) as refused:
        empty_catalog.own_tables.add(KNOWN_FEATURES, wrong, name="mine")

    assert row in refused.value.happened
    assert column in refused.value.happened
    assert empty_catalog.own_tables.list(KNOWN_FEATURES) == ()


def test_a_type_study_that_cannot_be_used_is_refused_naming_its_line(
    empty_catalog: Catalog,
) -> None:
    with pytest.raises(InputError) as refused:
        empty_catalog.own_tables.add(
            TYPE_STUDY, "variant,years,note,source,knob\n1,1900/1910,,,low\n2,neverland,,,tall\n"
        )

    assert "line 3, years" in refused.value.happened
