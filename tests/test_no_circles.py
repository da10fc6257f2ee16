"""No two modules of the planner need each other: imports inside functions, and those for types alone, count too."""

import ast
from itertools import pairwise
from pathlib import Path

import networkx

ROOT = Path(__file__).parents[1]


def imports(folder):
    """Every module below a folder, with an arrow to each module below it that is imported anywhere in it."""
    paths = {module_name(path, folder): path for path in (folder / "planner").rglob("*.py")}
    arrows = networkx.DiGraph()
    arrows.add_nodes_from(paths)
    for name, path in paths.items():
        package = name if path.name == "__init__.py" else name.rpartition(".")[0]
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            for wanted in imported(node, package):
                if wanted in paths and wanted != name:
                    arrows.add_edge(name, wanted)
    return arrows


def module_name(path, folder):
    parts = path.relative_to(folder).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def imported(node, package):
    """The names that one statement may read as a module: `from a import b` may mean `a`, and `a.b`."""
    if isinstance(node, ast.Import):
        return [one.name for one in node.names]
    if isinstance(node, ast.ImportFrom):
        above = package.split(".")[: len(package.split(".")) + 1 - node.level] if node.level else []
        base = ".".join([*above, *([node.module] if node.module else [])])
        return [base, *(f"{base}.{one.name}" for one in node.names)]
    return []


def circles(arrows):
    """One way round in each knot of modules, as a line to be read."""
    knots = (one for one in networkx.strongly_connected_components(arrows) if len(one) > 1)
    rounds = [networkx.find_cycle(arrows.subgraph(knot)) for knot in knots]
    return sorted(" → ".join([rounds_of[0][0], *(end for _, end in rounds_of)]) for rounds_of in rounds)


def test_no_two_modules_need_each_other():
    found = circles(imports(ROOT))
    assert not found, "these import each other in a circle; cut it at its cause:\n" + "\n".join(found)


def test_a_circle_is_found_however_it_is_hidden_and_is_named(tmp_path):
    room = tmp_path / "planner" / "room"
    room.mkdir(parents=True)
    (room / "__init__.py").write_text("")
    (room / "first.py").write_text("def late():\n    from planner.room import second\n")
    (room / "second.py").write_text("if TYPE_CHECKING:\n    import planner.room.third\n")
    (room / "third.py").write_text("from .first import late\n")
    (room / "apart.py").write_text("from planner.room.first import late\n")
    (found,) = circles(imports(tmp_path))
    steps = found.split(" → ")
    assert steps[0] == steps[-1] and set(steps) == {f"planner.room.{one}" for one in ("first", "second", "third")}
    follows = {"first": "second", "second": "third", "third": "first"}
    assert all(follows[a.rpartition(".")[2]] == b.rpartition(".")[2] for a, b in pairwise(steps))


def test_modules_that_follow_each_other_are_no_circle(tmp_path):
    room = tmp_path / "planner"
    room.mkdir()
    (room / "low.py").write_text("")
    (room / "high.py").write_text("from planner import low\nfrom planner.low import anything\n")
    assert circles(imports(tmp_path)) == []
