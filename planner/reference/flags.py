"""The page of flags: every rule by concern, with its limit, what to do, its two worked examples and its ground."""

import re
from collections.abc import Iterator, Mapping
from typing import Any

from planner.quantities.grammar import bare, read_value
from planner.quantities.show import Style
from planner.quantities.text import grouped
from planner.reference.by_question import QUESTIONS, answers, index
from planner.reference.markdown import code, contents, link, page, plain, sentence, table
from planner.reference.wording import comes_from, margin, read_by
from planner.worksheet.catalog import Catalog
from planner.worksheet.declare import Assumed, Finding, Input, Rule
from planner.worksheet.outcome import number

INTRO = """
Every rule that looks at a plan, by concern. A rule gives one of four answers:

- **clear**: its limit holds even at the worst of the measuring tolerances.
- **raised**: it fails.
- **too close to call**: the tolerances straddle the limit; it says which measurement, taken better, would settle it.
- **not known**: it names exactly what is missing.

Severity is the rule's own: **stop** (do not order, fit or drive), **caution** (needs a decision), **note**. A caution
or a note can be accepted with a reason (`[[acceptances]]` in the project file); a stop can only be cured, or its input
corrected. An acceptance lapses when what it rested on moves.

Within a severity the order is that of the worst that can come of it: a rim or tire that blows apart beside somebody, a
tire that bursts on the road, a wheel that comes off, steering or brakes that fail, control lost, something broken, a
truck that is not legal. What follows from a cause that is told already stands under that flag (*also*) and is counted
with it.

A limit can be set otherwise in the project file, and only with a reason:

```toml
[limits.least_brake_gap]
value = "5 mm"
because = "stones on this road"
```

A rule helps to plan. A plan on which nothing is raised is not a truck released for the road: local codes and licensed
practice come first.
"""
_METRIC = re.compile(r"\d (?:mm|cm|m|km/h|m/s|kg|kN|N|kPa|bar|N·m|kJ)\b")
NOT_GIVEN = "…"  # in place of a value, where there is no truck to take it from
_PASSAGE = re.compile(r"\[([^\[\]]*)\]")
COMES_OF_IT = {
    "blows apart": "a rim or a tire blows apart beside whoever works on it",
    "burst": "a tire bursts",
    "wheel off": "a wheel comes off",
    "steering or brakes": "steering or brakes fail",
    "control": "the driver loses control",
    "breakage": "something breaks",
    "law": "the truck is not legal",
}
_MARKS = {"stop": "**stop**", "caution": "**caution**", "note": "note"}


def flags_page(catalog: Catalog) -> str:
    """The whole page."""
    named = sorted(catalog.rules.values(), key=lambda rule: rule.name)
    concerns = grouped((rule.name.split(".")[0], rule) for rule in named)
    listed = contents((concern, len(rules)) for concern, rules in concerns.items())
    parts = [_concern(catalog, concern, rules) for concern, rules in concerns.items()]
    asked = index(
        (one.words, (link(plain(rule.notices), rule.name) for rule in answers(catalog, one)[1])) for one in QUESTIONS
    )
    return page("Flags", INTRO, asked, listed, *parts, _limits(catalog))


def _concern(catalog: Catalog, concern: str, rules: list[Rule]) -> Iterator[str]:
    yield from (f"## {concern}", "")
    yield from table(
        ("rule", "severity", "raised when"),
        ((link(one.name, one.name), _MARKS[one.severity], one.notices) for one in rules),
    )
    for one in rules:
        yield from _rule(catalog, one)


def _rule(catalog: Catalog, one: Rule) -> Iterator[str]:
    yield from (f"### {one.name}", "", f"{_MARKS[one.severity]}: {plain(one.notices)}", "")
    if one.danger:
        yield f"- the worst that can come of it: {COMES_OF_IT[one.danger]}"
    limits = [found for taken in one.inputs if (found := _limit(catalog, taken)) is not None]
    for limit in limits:
        yield f"- limit: {link(limit.node, limit.name)}, {code(limit.text)}: {plain(limit.means)}"
        yield f"  (ground: {plain(str(limit.ground))})"
    for taken in one.inputs:
        if _limit(catalog, taken) is None:
            missing = " (may be missing)" if taken.optional else ""
            yield f"- reads {code(taken.name)}: {comes_from(catalog, taken)}{missing}"
    if one.only_with:
        yield f"- asked only where there is an entry for: {', '.join(map(code, one.only_with))}"
    if one.follows:
        causes = [catalog.rules[node].name for node in one.follows]
        yield f"- told under its cause, where one of these stands: {', '.join(map(link, causes, causes))}"
    if one.as_found:
        yield "- tells how it stands on the truck as found too"
    if one.bounds:
        yield f"- bounds the [window of backspaces](sweep.md#how-a-bound-is-found), as *{one.bounds}*"
    yield f"- ground: {plain(str(one.ground))}"
    yield ""
    words = Shown(catalog, one, one.fails)
    yield from (f"Do: {sentence(plain(filled(one.cure, words)))}", "")
    if one.if_close:
        yield from (f"Too close to call: {sentence(plain(filled(one.if_close, words)))}", "")
    yield from _examples(catalog, one)


def _limit(catalog: Catalog, taken: Input) -> Assumed | None:
    node = catalog.edge(taken.reads).node if taken.reads else ""
    one = catalog.assumed.get(node)
    return one if one is not None and one.limit else None


def _examples(catalog: Catalog, one: Rule) -> Iterator[str]:
    holds, fails = Shown(catalog, one, one.holds), Shown(catalog, one, one.fails)
    names = [taken.name for taken in one.inputs if taken.name in holds or taken.name in fails]
    rows = [(name.replace("_", " "), holds.given(name), fails.given(name)) for name in names]
    if holds.margin or fails.margin:
        rows.append(("*margin*", holds.margin, fails.margin))
    yield from table(("worked example", "clear", "raised"), rows)
    yield from (f"Raised, it says: *{sentence(plain(filled(one.says, fails)))}*", "")
    yield from (f"Clear, it says: *{sentence(plain(filled(one.clear_says, holds)))}*", "")


def filled(template: str, words: Mapping[str, str]) -> str:
    """The words with values put in; a passage in [brackets] is left out where one of its values is not given.

    >>> filled("Turn the stop[ by {turns}][, then {more}].", {"turns": "2", "more": "…"})
    'Turn the stop by 2.'
    """
    pieces = [piece.format_map(words) for piece in _PASSAGE.split(template)]
    return "".join("" if at % 2 and NOT_GIVEN in piece else piece for at, piece in enumerate(pieces))


class Shown(Mapping[str, str]):
    """A worked example's inputs as its author wrote them, and the words that the rule finds in it."""

    def __init__(self, catalog: Catalog, rule: Rule, example: Mapping[str, Any]) -> None:
        self._texts = {name: str(value) for name, value in example.items()}
        values = [self._value(catalog, taken) for taken in rule.inputs]
        self._found = rule.call(*values)
        self._words = self._found.words if isinstance(self._found, Finding) else {}
        self._kind, self._beyond = rule.kind, rule.beyond
        metric = any(_METRIC.search(text) for text in self._texts.values())
        self._style = Style("metric", False) if metric else Style()

    def _value(self, catalog: Catalog, taken: Input) -> Any:
        limit = catalog.assumed.get(catalog.edge(taken.reads).node) if taken.reads else None
        if taken.name not in self._texts and limit is not None:
            self._texts[taken.name] = limit.text
        if taken.name not in self._texts:
            return taken.default
        return bare(read_value(self._texts[taken.name], taken.kind))

    @property
    def margin(self) -> str:
        """By how much the limit holds or fails; empty for an answer that is yes or no."""
        held = getattr(self._found, "margin", self._found)
        value = number(self._found)
        return (
            ""
            if isinstance(held, bool) or value is None or self._kind is None
            else margin(value, self._kind, self._style, self._beyond)
        )

    def given(self, name: str) -> str:
        return plain(self._texts.get(name, ""))

    def __getitem__(self, name: str) -> str:
        return self._words[name] if name in self._words else self._texts.get(name, NOT_GIVEN)

    def __iter__(self) -> Iterator[str]:
        return iter(dict.fromkeys((*self._texts, *self._words)))

    def __len__(self) -> int:
        return len(list(iter(self)))


def _limits(catalog: Catalog) -> Iterator[str]:
    """Every limit that can be set otherwise."""
    yield from ("## limits", "")
    for one in sorted((one for one in catalog.assumed.values() if one.limit), key=lambda one: one.name):
        readers = read_by(catalog, one.node, catalog.rules.values())
        yield from (f"### {one.name}", "", sentence(plain(one.means)), "")
        yield f"- stands at: {code(one.text)}"
        if one.node in catalog.facts:
            yield f"- entered at: {', '.join(map(code, catalog.facts[one.node].keys))}"
        yield f"- ground: {plain(str(one.ground))}"
        yield f"- read by: {', '.join(readers) or 'figures only'}"
        yield ""
