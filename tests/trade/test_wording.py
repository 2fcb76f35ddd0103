import pytest

from planebench.trade.wording import join_words


@pytest.mark.parametrize(
    ("words", "joined"),
    [
        ([], ""),
        (["body"], "body"),
        (["body", "knob"], "body and knob"),
        (["body", "lever cap", "knob"], "body, lever cap and knob"),
    ],
)
def test_words_are_joined_as_a_sentence_does(words, joined):
    assert join_words(words) == joined


def test_another_word_may_join_the_last():
    assert join_words(["a", "b", "c"], "or") == "a, b or c"
