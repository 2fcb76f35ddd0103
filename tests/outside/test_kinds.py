"""Kinds of plane beside a dictionary: WordNet 3.0, Princeton University, 2006.

The dictionary's entry for "plane, carpenter's plane, woodworking plane" names sixteen narrower
words; they are copied here with its number of the entry and the words of its explanation.
"""

from __future__ import annotations

import tomllib

import pytest

from planebench.catalog.reference import built_in_kinds, resources_folder

# word of the dictionary, its entry, our kind
WORDNET_PLANES = (
    ("beading plane", "02815478", "beading"),
    ("block plane", "02854532", "block"),
    ("bullnose, bullnosed plane", "02917607", "bullnose"),
    ("chamfer plane", "03004620", "chamfer"),
    ("circular plane, compass plane", "03034516", "compass"),
    ("combination plane", "03075500", "combination"),
    ("dovetail plane", "03229115", "dovetail"),
    ("fore plane", "03382969", "fore"),
    ("jack plane", "03590932", "jack"),
    ("jointer, jointer plane, jointing plane, long plane", "03601638", "jointer"),
    ("match plane, tonguing and grooving plane", "03729647", "tongue_groove"),
    ("openside plane, rabbet plane", "03849275", "rabbet"),
    ("router plane", "04114996", "router"),
    ("scrub plane", "04156297", "scrub"),
    ("smooth plane, smoothing plane", "04247630", "smoothing"),
    ("spokeshave", "04283585", "spokeshave"),
)


@pytest.mark.parametrize(("words", "entry", "code"), WORDNET_PLANES)
def test_each_plane_of_the_dictionary_has_its_kind(words: str, entry: str, code: str) -> None:
    kind = built_in_kinds()[code]

    first_words = [word.split()[0] for word in words.replace("tonguing", "tongue").split(", ")]
    assert any(word in kind.name.lower() for word in first_words), (entry, kind.name)


def test_a_fore_plane_is_between_a_jack_and_a_jointer() -> None:
    """WordNet 03382969: "intermediate between a jack plane and a jointer plane"."""
    jack, fore, jointer = (sole_lengths(code) for code in ("jack", "fore", "jointer"))

    assert jack[1] < fore[0]
    assert fore[1] < jointer[0]


def test_a_smoothing_plane_and_a_block_plane_are_smaller_than_a_jack() -> None:
    """WordNet 04247630 and 02854532 call both small; 03590932 is for rough work."""
    jack = sole_lengths("jack")

    assert sole_lengths("smoothing")[1] < jack[0]
    assert sole_lengths("block")[1] < jack[0]


@pytest.mark.parametrize("code", ["combination", "tongue_groove"])
def test_planes_that_the_dictionary_gives_several_cutters_have_them_as_parts(code: str) -> None:
    """WordNet 03075500: "interchangeable cutters"; 03729647: "having cutters"."""
    cutters = [part for part in built_in_kinds()[code].parts if "cutter" in part.name.lower()]

    assert len(cutters) >= 2


def test_a_spokeshave_has_its_handles_at_the_sides() -> None:
    """WordNet 04283585: "a handle on each side of its blade"."""
    assert "handles" in built_in_kinds()["spokeshave"].parts[0].name


def sole_lengths(code: str) -> tuple[float, float]:
    """Return the usual shortest and longest sole of a kind, mm."""
    table = tomllib.loads((resources_folder() / "kinds" / f"{code}.toml").read_text("utf-8"))
    shortest, longest = table["sole_length_mm"]
    return shortest, longest
