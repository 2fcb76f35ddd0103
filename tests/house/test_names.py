"""Holds names to one meaning each: classes in the project, modules on a floor."""

from __future__ import annotations

import ast
from collections import defaultdict
from pathlib import Path

import pytest

from tests.house.shown_text import PACKAGE, python_files

FLOORS = sorted(path for path in PACKAGE.iterdir() if (path / "__init__.py").is_file())
# These names are set by others.
FIXED = {
    "__init__": "Python's own",
    "env": "Alembic looks for a file of this name",
}


@pytest.mark.parametrize("floor", FLOORS, ids=lambda path: path.name)
def test_no_two_modules_of_a_floor_share_a_name(floor: Path) -> None:
    modules = defaultdict(list)
    for path in sorted(floor.rglob("*.py")):
        if path.stem not in FIXED:
            modules[path.stem].append(path.relative_to(floor).as_posix())

    assert {name: paths for name, paths in modules.items() if len(paths) > 1} == {}


def test_no_class_name_stands_for_two_things() -> None:
    classes = defaultdict(list)
    for path in python_files():
        for node in ast.parse(path.read_text("utf-8")).body:
            if isinstance(node, ast.ClassDef) and not node.name.startswith("_"):
                classes[node.name].append(path.relative_to(PACKAGE.parent).as_posix())

    assert {name: paths for name, paths in classes.items() if len(paths) > 1} == {}
