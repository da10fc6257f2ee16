"""The page of checks: what each figure was checked against, and which rest on less than a publication."""

from collections.abc import Iterator

from planner.reference.deciding import deciding
from planner.reference.markdown import link, page, plain, table
from planner.reference.rows import (
    OUTSIDE,
    PUBLISHED,
    STANDINGS,
    LibraryChecks,
    Rows,
    best_outside,
    by_standing,
    publications,
)
from planner.reference.wording import FIGURES, FLAGS
from planner.worksheet.catalog import Catalog
from planner.worksheet.declare import Figure

INTRO = """
Every figure is held against values that do not come from this program: each row of `tests/published/*.csv` is an input,
an output, a tolerance, and where they are from. This page counts the rows, so that nobody has to trust more than there
is: a cell copied from a publication into a table of ours, and a formula with numbers put into it, prove less than what
somebody else has worked out. Beside the rows, tests hold formulas against general mathematical libraries, which come to
the answer by another way. No row takes an input that was worked out from its own result.
"""
DECIDES = """
A figure decides where a stop reads it, an order says it or goes by it, or it bounds the backspace that is ordered,
itself or through other figures. A sum by hand, a cell copied from a table and what is remembered do not count for it:
a test takes each number in such a formula with the wrong sign, and twice as large, and wants what others have worked
out alone to show it (`tests/reference/test_deciding.py`). What the sweep finds from them is held as a whole, by the
libraries below.
"""
SOURCES = """
Each by its name, with the rows that it gave; clause, table or line stand with each row and on the pages of the figures.
Sums by hand are left out, also where their formula was read somewhere.
"""
LIBRARIES_SAY = """
Answers are held against libraries that are not ours, on inputs that no table prints; the planner needs none of them to
run. First what is no single figure.
"""
LIBRARIES = (
    ("scipy", "where steer, travel and roll carry the wheel", "tests/trade/fit/conftest.py"),
    ("shapely", "how far a point is from the tire's section", "tests/trade/fit/conftest.py"),
    ("trimesh", "how far a point is from the tire as a solid", "tests/trade/fit/conftest.py"),
    (
        "shapely",
        "where each wheel of a truck, drawn whole from its entries, stands",
        "tests/plan/test_drawn_from_entries.py",
    ),
    ("scipy", "the nearest pose of a steered wheel on a crossed axle", "tests/plan/test_drawn_from_entries.py"),
    ("networkx", "the longest path through the work, and circles in it", "tests/plan/test_schedule.py"),
    ("uncertainties", "how tolerances go through a formula", "tests/worksheet/test_tolerance.py"),
    (
        "pint",
        "the factor of each unit, and the dimension of what each formula gives",
        "tests/trade/test_declarations.py",
    ),
)


def checks_page(catalog: Catalog, rows: Rows, libraries: LibraryChecks) -> str:
    """The whole page."""
    figures = sorted(catalog.figures.values(), key=lambda one: one.name)
    best = {one.node: best_outside(rows.get(one.node, []), libraries.get(one.node, [])) for one in figures}
    return page(
        "Checks",
        INTRO,
        _standings(rows),
        _decides(catalog, rows, libraries, best),
        _counts(catalog, figures, rows, best),
        *_weak(figures, rows, best),
        _memory(catalog),
        _sources(rows),
        _libraries(figures, libraries),
    )


def _standings(rows: Rows) -> Iterator[str]:
    total = by_standing([row for checks in rows.values() for row in checks])
    counts = [(standing, means, str(total[standing])) for standing, means in STANDINGS.items()]
    others = sum(total[standing] for standing in OUTSIDE)
    sums = (("worked out by others", others), ("prove less", total.total() - others), ("all", total.total()))
    counts += [(name, "", str(number)) for name, number in sums]
    yield from table(("standing", "what it says", "rows"), counts)


def _decides(catalog: Catalog, rows: Rows, libraries: LibraryChecks, best: dict[str, str]) -> Iterator[str]:
    """How many of the figures that decide are held by what others have worked out, and by what of it."""
    decides = deciding(catalog)
    published = [node for node in decides if any(row.standing in OUTSIDE for row in rows.get(node, []))]
    answered = [node for node in decides if libraries.get(node)]
    yield from ("## What decides", "", DECIDES, "")
    lines = [
        ("figures that decide", len(decides)),
        ("held by rows that others have worked out", len(published)),
        ("held by a general library", len(answered)),
        ("held by both", len({*published} & {*answered})),
        ("held by neither", sum(not best[node] for node in decides)),
    ]
    yield from table(("", "figures"), [(name, str(number)) for name, number in lines])
    yield ""


def _counts(catalog: Catalog, figures: list[Figure], rows: Rows, best: dict[str, str]) -> Iterator[str]:
    yield from ("## By figure", "")
    held = sum(bool(best[one.node]) for one in figures)
    yield f"Of {len(figures)} figures {held} are held against something that others have worked out."
    yield ""
    decides = deciding(catalog)
    lines = []
    for one in figures:
        counts = by_standing(rows.get(one.node, []))
        numbers = (str(counts[standing] or "") for standing in STANDINGS)
        decided = decides.get(one.node, "")
        lines.append((link(one.name, one.name, FIGURES), decided, *numbers, plain(best[one.node])))
    yield from table(("figure", "decides", *STANDINGS, "best outside check"), lines)


def _weak(figures: list[Figure], rows: Rows, best: dict[str, str]) -> Iterator[list[str]]:
    """The figures for which no publication and no library stands."""
    by_hand: list[Figure] = []
    copied: list[Figure] = []
    recalled: list[Figure] = []
    none: list[Figure] = []
    for one in figures:
        standings = set(by_standing(rows.get(one.node, [])))
        if not standings:
            none.append(one)
        elif not best[one.node]:
            weak = by_hand if "worked by hand" in standings else copied if "transcribed" in standings else recalled
            weak.append(one)
    yield _named(
        "By hand only",
        by_hand,
        "Nothing published stands behind these rows: the value was worked out by hand from the geometry or the "
        "mechanics. That shows the formula to be computed as meant; that it is the right one, its ground has to show.",
    )
    yield _named(
        "Transcribed only",
        copied,
        "Looked up in a table that the planner has itself; its column of sources says what is behind it.",
    )
    yield _named(
        "From memory or common practice only",
        recalled,
        "Tables and factors that nobody here has read in the publication. Look them up before you lean on them.",
    )
    yield _named("Without a row", none, "Worked out from a whole project only; see the tests of their room.")


def _named(heading: str, figures: list[Figure], about: str) -> list[str]:
    if not figures:
        return []
    lines = [
        f"- {link(one.name, one.name, FIGURES)}: {plain(one.means)} (ground: {plain(str(one.ground))})"
        for one in figures
    ]
    return [f"## {heading}", "", about, "", *lines, ""]


def _memory(catalog: Catalog) -> Iterator[str]:
    """Every formula, limit and rule whose ground nobody had open."""
    grounds = [(one.name, one.ground, FIGURES) for one in catalog.figures.values()]
    grounds += [(one.name, one.ground, FLAGS if one.limit else FIGURES) for one in catalog.assumed.values()]
    grounds += [(one.name, one.ground, FLAGS) for one in catalog.rules.values()]
    recalled = sorted(one for one in grounds if "from memory" in (one[1].standing, one[1].text))
    yield from ("## Grounds known from memory", "")
    yield "The publication is named, and nobody here had it open when the formula, the limit or the rule was written."
    yield ""
    yield from (f"- {link(name, name, file)}: {plain(str(ground))}" for name, ground, file in recalled)
    yield ""


def _sources(rows: Rows) -> Iterator[str]:
    yield from ("## Publications behind the rows", "", SOURCES, "")
    counts = publications(rows)
    lines = [(plain(one), *(str(counts[one][standing] or "") for standing in PUBLISHED)) for one in sorted(counts)]
    yield from table(("source", *PUBLISHED), lines)
    yield ""


def _libraries(figures: list[Figure], libraries: LibraryChecks) -> Iterator[str]:
    """What general libraries answer in the tests, beyond the rows."""
    yield from ("## General libraries", "", LIBRARIES_SAY, "")
    lines = [(name, what, f"`{file}`") for name, what, file in LIBRARIES]
    for one in figures:
        for check in libraries.get(one.node, []):
            lines.append((check.library, f"{link(one.name, one.name, FIGURES)}: {plain(check.how)}", f"`{check.test}`"))
    yield from table(("library", "what it answers", "in"), lines)
