"""Resources keep to their form: every row names a source, every code exists."""

from __future__ import annotations

import csv
import tomllib
from collections.abc import Mapping
from enum import StrEnum
from pathlib import Path

import pytest

from planebench.catalog.reference import built_in_kinds, resources_folder
from planebench.trade.terms import (
    BASIS_WORDS,
    PART_STATUS_WORDS,
    STAGE_WORDS,
    TOOL_STATUS_WORDS,
)

RESOURCES = resources_folder()
KINDS = sorted((RESOURCES / "kinds").glob("*.toml"))
LISTS = sorted((RESOURCES / "lists").glob("*.toml"))
TABLES = sorted(RESOURCES.rglob("*.csv"))


def short(path: Path) -> str:
    return path.relative_to(RESOURCES).as_posix()


def toml(path: Path) -> dict[str, object]:
    return tomllib.loads(path.read_text("utf-8"))


def rows_of(name: str) -> dict[str, dict[str, object]]:
    rows = tomllib.loads((RESOURCES / "lists" / f"{name}.toml").read_text("utf-8"))["rows"]
    return {row["code"]: row for row in rows}


def csv_rows(path: Path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8", newline="") as lines:
        return list(csv.DictReader(line for line in lines if not line.startswith("#")))


@pytest.mark.parametrize("path", KINDS, ids=short)
def test_a_kind_names_its_source_and_its_file(path: Path) -> None:
    kind = toml(path)

    assert str(kind["source"]).strip()
    assert path.stem == kind["code"]


@pytest.mark.parametrize("path", LISTS, ids=short)
def test_each_row_of_a_list_names_its_source(path: Path) -> None:
    rows = tomllib.loads(path.read_text("utf-8"))["rows"]

    assert rows
    assert [row["code"] for row in rows if not row.get("source", "").strip()] == []
    assert [row["code"] for row in rows if not row["name"].strip()] == []


@pytest.mark.parametrize("path", TABLES, ids=short)
def test_each_row_of_a_table_names_its_source(path: Path) -> None:
    rows = csv_rows(path)

    assert rows
    assert [row for row in rows if not (row.get("source") or "").strip()] == []


@pytest.mark.parametrize(
    ("typed", "kind"),
    [
        # Common trade names; common practice, no source.
        ("smoother", "smoothing"),
        ("try plane", "jointer"),
        ("plough", "plow_wooden"),
        ("rebate", "rabbet"),
        ("match plane", "tongue_groove"),
        ("old woman’s tooth", "router_wooden"),
        ("shave", "spokeshave"),
        ("mitre", "miter"),
    ],
)
def test_a_kind_is_found_by_its_common_trade_names(typed: str, kind: str) -> None:
    assert typed in built_in_kinds()[kind].also


def test_every_kind_has_another_name_to_be_found_by() -> None:
    assert [code for code, kind in built_in_kinds().items() if not kind.also] == []


def test_there_are_at_least_two_dozen_kinds() -> None:
    assert len(KINDS) >= 24


@pytest.mark.parametrize("path", KINDS, ids=short)
def test_codes_in_a_kind_exist(path: Path) -> None:
    kind = tomllib.loads(path.read_text("utf-8"))
    parts = [part["code"] for part in kind["parts"]]
    surfaces = kind["surfaces"] + kind.get("bare", [])
    finishes = {row["finish"] for row in kind["parts"] + kind["surfaces"]}

    assert len(parts) == len(set(parts))
    assert finishes <= rows_of("finishes").keys()
    assert {part for surface in surfaces for part in surface["parts"]} <= set(parts)
    assert {view for surface in surfaces for view in surface.get("views", [])} <= set(kind["views"])
    assert set(kind["views"]) <= rows_of("views").keys()


@pytest.mark.parametrize("path", KINDS, ids=short)
def test_only_finished_surfaces_are_asked_for_and_bare_ones_are_listed_apart(path: Path) -> None:
    kind = tomllib.loads(path.read_text("utf-8"))
    codes = [row["code"] for row in kind["surfaces"] + kind.get("bare", [])]

    assert len(codes) == len(set(codes))
    assert "bare_metal" not in {row["finish"] for row in kind["surfaces"]}


@pytest.mark.parametrize("path", KINDS, ids=short)
def test_what_rusts_on_a_metal_plane_can_be_outlined(path: Path) -> None:
    kind = tomllib.loads(path.read_text("utf-8"))
    bare = {row["code"] for row in kind["bare"]}
    is_metal = kind["material"].startswith("metal")

    assert "cutter" in bare
    assert "sole" in bare or not is_metal


@pytest.mark.parametrize("path", KINDS, ids=short)
def test_sizes_of_a_kind_run_upward(path: Path) -> None:
    kind = tomllib.loads(path.read_text("utf-8"))

    for shortest, longest in (kind["sole_length_mm"], kind["cutter_width_mm"]):
        assert 0 < shortest < longest < 1000


@pytest.mark.parametrize(("name", "key"), [("treatments", "cautions"), ("finishes", "hazards")])
def test_cautions_that_rows_name_exist(name: str, key: str) -> None:
    named = {code for row in rows_of(name).values() for code in as_list(row[key])}

    assert named
    assert named <= rows_of("cautions").keys()


def test_a_caution_says_whether_its_source_was_read() -> None:
    known = {"found", "memory", "found and memory", "common practice"}

    assert {row["status"] for row in rows_of("cautions").values()} == known


@pytest.mark.parametrize(
    ("work", "caution"),
    [
        # Common practice, no source.
        ("straighten", "eye_guard"),
        ("drill_tap", "eye_guard"),
        ("regrind", "grinder_gaps"),
        ("touch_up", "old_finish_lead"),
        ("polish", "plating_dust"),
        ("oil", "oily_rags"),
    ],
)
def test_work_that_can_hurt_shows_the_usual_caution(work: str, caution: str) -> None:
    assert caution in rows_of("treatments")[work]["cautions"]


def test_cautions_that_touch_a_law_defer_to_local_rules() -> None:
    lawful = ("rosewood", "lignum_vitae", "ivory", "asbestos", "strippers", "shipping_blades")
    cautions = rows_of("cautions")

    for code in lawful:
        assert "Check your local rules" in str(cautions[code]["text"]), code


@pytest.mark.parametrize("code", ["touch_up", "rejapan", "replate", "lap", "blasting", "strip"])
def test_work_that_changes_a_plane_for_good_is_told(code: str) -> None:
    assert rows_of("treatments")[code]["disclosed"] is True


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("tool_statuses", TOOL_STATUS_WORDS),
        ("stages", STAGE_WORDS),
        ("part_statuses", PART_STATUS_WORDS),
    ],
)
def test_fixed_words_and_their_lists_are_the_same(name: str, words: Mapping[StrEnum, str]) -> None:
    listed = {code: row["name"] for code, row in rows_of(name).items()}

    assert listed == {str(word): plain for word, plain in words.items()}


def test_each_basis_of_a_figure_is_listed() -> None:
    assert rows_of("bases").keys() == {str(basis) for basis in BASIS_WORDS}


def test_each_function_check_is_of_parts_that_some_kind_has() -> None:
    known = {
        part["code"] for path in KINDS for part in tomllib.loads(path.read_text("utf-8"))["parts"]
    }
    asked = {part for row in rows_of("function_checks").values() for part in as_list(row["parts"])}

    assert asked <= known, asked - known


def test_every_kind_has_functions_to_check() -> None:
    checks = [set(as_list(row["parts"])) for row in rows_of("function_checks").values()]
    for path in KINDS:
        parts = {part["code"] for part in tomllib.loads(path.read_text("utf-8"))["parts"]}

        assert sum(bool(parts & of) for of in checks) >= 2, path.stem


def as_list(value: object) -> list[object]:
    assert isinstance(value, list)
    return value


@pytest.mark.parametrize("path", sorted((RESOURCES / "drawings").glob("*.toml")), ids=short)
def test_a_drawing_shows_only_parts_that_its_kinds_can_have(path: Path) -> None:
    shapes = {shape["part"] for shape in tomllib.loads(path.read_text("utf-8"))["shapes"]}
    kinds = [tomllib.loads(kind.read_text("utf-8")) for kind in KINDS]
    drawn_with_it = [kind for kind in kinds if kind["drawing"] == path.stem]

    assert drawn_with_it
    assert shapes <= {part["code"] for kind in drawn_with_it for part in kind["parts"]}


def test_every_kind_has_a_drawing() -> None:
    drawings = {path.stem for path in (RESOURCES / "drawings").glob("*.toml")}

    assert {str(toml(path)["drawing"]) for path in KINDS} <= drawings
