"""The page of checks: what each figure was checked against, and which rest on less than a publication."""

from collections.abc import Iterator

from planner.reference.markdown import link, page, plain, table
from planner.reference.rows import OUTSIDE, PUBLISHED, STANDINGS, Rows, by_standing, documents, publications
from planner.reference.wording import FIGURES, FLAGS
from planner.worksheet.catalog import Catalog
from planner.worksheet.declare import Figure

INTRO = """
Every figure is held against values that do not come from this program: each row of `tests/published/*.csv` is an input,
an output, a tolerance, and where they are from. This page counts the rows, so that nobody has to trust more than there
is. Beside the rows, tests hold formulas against general mathematical libraries where one can answer the same question.
"""
SOURCES = """
Each by its name, with the rows that it gave; clause, table or line stand with each row and on the pages of the figures.
Sums by hand are left out, also where their formula was read somewhere.
"""
LIBRARIES_SAY = """
Whole answers are held against libraries that are not ours, on inputs that no table prints; the planner needs none of
them to run.
"""
LIBRARIES = (
    ("scipy", "the circle through measured studs, by least squares", "tests/trade/test_bolts.py"),
    ("scipy", "where steer, travel and roll carry the wheel", "tests/trade/fit/conftest.py"),
    ("shapely", "how far a point is from the tire's section", "tests/trade/fit/conftest.py"),
    ("trimesh", "how far a point is from the tire as a solid", "tests/trade/fit/conftest.py"),
    ("networkx", "the longest path through the work, and circles in it", "tests/plan/test_schedule.py"),
    ("uncertainties", "how tolerances go through a formula", "tests/worksheet/test_tolerance.py"),
    (
        "pint",
        "the factor of each unit, and the dimension of what each formula gives",
        "tests/trade/test_declarations.py",
    ),
)


def checks_page(catalog: Catalog, rows: Rows) -> str:
    """The whole page."""
    figures = sorted(catalog.figures.values(), key=lambda one: one.name)
    return page(
        "Checks",
        INTRO,
        _standings(rows),
        _counts(figures, rows),
        *_weak(figures, rows),
        _memory(catalog),
        _sources(rows),
        _libraries(),
    )


def _standings(rows: Rows) -> Iterator[str]:
    total = by_standing([row for checks in rows.values() for row in checks])
    counts = [(standing, means, str(total[standing])) for standing, means in STANDINGS.items()]
    yield from table(("standing", "what it says", "rows"), [*counts, ("all", "", str(total.total()))])


def _counts(figures: list[Figure], rows: Rows) -> Iterator[str]:
    yield from ("## By figure", "")
    lines = []
    for one in figures:
        counts = by_standing(rows.get(one.node, []))
        against = plain("; ".join(documents(rows.get(one.node, []))))
        numbers = (str(counts[standing] or "") for standing in STANDINGS)
        lines.append((link(one.name, one.name, FIGURES), *numbers, against))
    yield from table(("figure", *STANDINGS, "against"), lines)


def _weak(figures: list[Figure], rows: Rows) -> Iterator[list[str]]:
    """The figures for which no publication and no library stands."""
    by_hand: list[Figure] = []
    recalled: list[Figure] = []
    none: list[Figure] = []
    for one in figures:
        standings = set(by_standing(rows.get(one.node, [])))
        if not standings:
            none.append(one)
        elif not standings & set(OUTSIDE):
            (by_hand if "worked by hand" in standings else recalled).append(one)
    yield _named(
        "By hand only",
        by_hand,
        "Nothing published stands behind these rows: the value was worked out by hand from the geometry or the "
        "mechanics. That shows the formula to be computed as meant; that it is the right one, its ground has to show.",
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


def _libraries() -> Iterator[str]:
    """What general libraries answer in the tests, beyond the rows."""
    yield from ("## General libraries", "", LIBRARIES_SAY, "")
    yield from table(
        ("library", "what it answers", "in"), [(name, what, f"`{file}`") for name, what, file in LIBRARIES]
    )
