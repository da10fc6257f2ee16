"""The page of figures: every calculation by subject, with its keys, formula, ground and checks."""

import inspect
import re
import shlex
from collections.abc import Iterator

from planner.plan.truck.sweep_results import BY_THE_SWEEP
from planner.plan.truck.sweep_results import FIGURES as SWEPT
from planner.quantities.text import grouped
from planner.reference.by_question import QUESTIONS, PageQuestion, answers, index, read
from planner.reference.markdown import code, contents, link, page, plain, sentence, table
from planner.reference.rows import PublishedRow, Rows, counted
from planner.reference.wording import comes_from, kind_words, read_by, result_words, without
from planner.worksheet.catalog import Catalog
from planner.worksheet.declare import Figure
from planner.worksheet.explain import formula

INTRO = """
Every number that the planner works out, by subject. Each can be asked for on its own:

```sh
planner figure wheel.offset backspace="4 in" rim_width="11 in"
```

and `planner check FILE --figures` works all of them out for a project; `planner why FILE FIGURE` shows what one rests
on.

*Key* is what you give at the bench, *without it* what holds where you do not, *in a project* where the value comes from
when a whole project is worked out. Values in SI are what `--json` gives; people are shown their own units. A figure
carries the tolerances of what went into it. *From memory* behind a ground says that nobody here had that publication
open: look it up before you lean on it. How well each figure was checked is on the page of [checks](checks.md).
"""
SWEEP = """
Worked out from a whole project only: every obstacle that was measured, against the tire and wheel through all their
steer, travel and roll, to a proven bound and not on a grid. What nobody measured is not in it. `planner why FILE
fit.clearance` shows a result.
"""
_DOCTEST = re.compile(r"^>>>.*?(?:\n\n|\Z)", re.MULTILINE | re.DOTALL)
_REFUSES = re.compile(r"\b([Rr])aises(?: Impossible)?\b")


def figures_page(catalog: Catalog, rows: Rows) -> str:
    """The whole page."""
    named = sorted(catalog.figures.values(), key=lambda figure: figure.name)
    subjects = grouped((figure.name.split(".")[0], figure) for figure in named)
    listed = contents((subject, len(figures)) for subject, figures in subjects.items())
    parts = [_subject(catalog, rows, subject, figures) for subject, figures in subjects.items()]
    asked = index((one.words, _answering(catalog, one)) for one in QUESTIONS)
    return page("Figures", INTRO, asked, listed, *parts, _swept(), _assumed(catalog))


def _answering(catalog: Catalog, question: PageQuestion) -> Iterator[str]:
    """Links to what answers a question; the sweep's own section where a rule reads what only the sweep gives."""
    figures, rules = answers(catalog, question)
    swept = {one.node for one in SWEPT}
    if any(swept & set(read(catalog, one)) for one in rules):
        yield link(BY_THE_SWEEP, BY_THE_SWEEP)
    yield from (link(plain(one.means), one.name) for one in figures)


def _subject(catalog: Catalog, rows: Rows, subject: str, figures: list[Figure]) -> Iterator[str]:
    yield from (f"## {subject}", "")
    yield from table(("figure", "what it is"), ((link(one.name, one.name), one.means) for one in figures))
    for one in figures:
        yield from _figure(catalog, one, rows.get(one.node, []))


def _figure(catalog: Catalog, one: Figure, checks: list[PublishedRow]) -> Iterator[str]:
    yield from (f"### {one.name}", "", sentence(one.means), "", "```text", formula(one), "```", "")
    for paragraph in prose(one):
        yield from (plain(paragraph), "")
    yield from table(
        ("key", "kind", "without it", "in a project"),
        (
            (code(taken.name), kind_words(taken.kind), without(catalog, taken), comes_from(catalog, taken))
            for taken in one.inputs
        ),
    )
    if one.parts:
        yield from table(
            ("part of the result", "kind"), ((code(part), result_words(kind)) for part, kind in one.parts.items())
        )
    elif one.kind is not None:
        yield f"- result: {result_words(one.kind)}"
    yield f"- ground: {plain(str(one.ground))}"
    yield f"- checked against: {counted(checks)}"
    yield ""
    if checks:
        yield from _example(one, checks[0])


def prose(one: Figure) -> list[str]:
    """What the function says about itself beyond its worked examples, paragraph by paragraph."""
    text = _DOCTEST.sub("", inspect.getdoc(one.call) or "")
    paragraphs = [_REFUSES.sub(r"\1efused", " ".join(part.split())) for part in text.split("\n\n")]
    told = [part if not part.endswith(":") else _but_last(part) for part in paragraphs]
    return [part for part in told if part]


def _but_last(paragraph: str) -> str:
    """A paragraph without its last sentence, which leads up to an example."""
    return " ".join(re.split(r"(?<=[.;]) ", paragraph)[:-1]).rstrip(";")


def _example(one: Figure, row: PublishedRow) -> Iterator[str]:
    given = " ".join(shlex.quote(f"{key}={value}") for key, value in row.inputs)
    value = f"{row.part.replace('_', ' ')} {row.expected} {row.unit}".strip()
    yield from ("```sh", f"planner figure {one.name} {given}", "```", "")
    yield from (f"Expected: {plain(value)}. From: {plain(row.source.rstrip('.'))} ({row.standing}).", "")


def _swept() -> Iterator[str]:
    """What the sweep gives a project: no single formula has it."""
    yield from (f"## {BY_THE_SWEEP}", "", SWEEP.strip(), "")
    yield from table(
        ("what rules read", "asked for as", "what it is", "kind", "one for each"),
        (
            (code(one.node), code(one.name) if one.name else "", one.means, result_words(one.kind), ", ".join(one.axes))
            for one in SWEPT
        ),
    )


def _assumed(catalog: Catalog) -> Iterator[str]:
    """The values that stand until a person enters better ones."""
    yield from ("## assumed values", "")
    yield "Constants of the trade that stand until you know better. In the project file:"
    yield from (
        "",
        "```toml",
        "[assumptions.nut_factor]",
        'value = "0.15 ± 0.03"',
        'because = "oiled threads"',
        "```",
        "",
    )
    for one in sorted((one for one in catalog.assumed.values() if not one.limit), key=lambda one: one.name):
        yield from (f"### {one.name}", "", sentence(one.means), "")
        yield f"- stands at: {code(one.text)}"
        yield f"- ground: {plain(str(one.ground))}"
        readers = read_by(catalog, one.node, catalog.figures.values())
        if one.better:
            yield f"- better: {plain(one.better)}"
        yield f"- read by: {', '.join(readers) or 'rules only'}"
        yield ""
