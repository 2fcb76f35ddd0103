"""Cards printed for one batch and laid beside the tools of another: which tools are meant."""

from planebench.trade.stock_aliases import suggest_aliases

KNOWN = ("LOT1-001", "LOT1-002", "LOT1-003", "LOT2-001", "LOT2-002")


def test_numbers_with_another_batch_code_stand_for_the_tools_of_the_batch():
    found = suggest_aliases(("LOT7-001", "LOT7-003"), KNOWN)

    assert found == {"LOT7-001": "LOT1-001", "LOT7-003": "LOT1-003"}


def test_where_two_batches_fit_the_one_in_use_is_meant():
    assert suggest_aliases(("LOT7-002",), KNOWN) == {}
    assert suggest_aliases(("LOT7-002",), KNOWN, batch="LOT2") == {"LOT7-002": "LOT2-002"}


def test_all_numbers_must_fit_or_none_is_suggested():
    assert suggest_aliases(("LOT7-001", "LOT7-009"), KNOWN, batch="LOT1") == {}


def test_a_number_without_a_batch_code_suggests_nothing():
    assert suggest_aliases(("17",), KNOWN, batch="LOT1") == {}
