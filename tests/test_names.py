"""One word, one thing: no class of the planner shares its name with another."""

import ast
from collections import defaultdict
from pathlib import Path

PLANNER = Path(__file__).parents[1] / "planner"


def test_no_class_name_stands_twice():
    where: dict[str, list[str]] = defaultdict(list)
    for path in sorted(PLANNER.rglob("*.py")):
        for node in ast.parse(path.read_text(encoding="utf-8")).body:
            if isinstance(node, ast.ClassDef):
                where[node.name].append(str(path.relative_to(PLANNER)))
    assert len(where) > 200  # else nothing was looked at
    assert not {name: files for name, files in where.items() if len(files) > 1}
