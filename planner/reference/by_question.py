"""The questions that somebody comes with, and what answers each: figures and rules, found by where they are declared,
by the entries that they read, and by what can come of them.
"""

from collections.abc import Callable, Iterable, Iterator
from typing import NamedTuple

from planner.reference.markdown import link
from planner.worksheet.catalog import Catalog
from planner.worksheet.declare import Danger, Figure, Rule


class PageQuestion(NamedTuple):
    """A question: the modules that answer it, by their beginnings, and what else does.

    That is whatever reads an entry whose key has one of `entries` in it, or such a limit; every rule of these `dangers`
    with the figures that it reads; and with `bounds` every rule that bounds the backspace. What `entries` find belongs
    to their question, and to no other that only names the module.
    """

    words: str
    modules: tuple[str, ...] = ()
    entries: tuple[str, ...] = ()
    dangers: tuple[Danger, ...] = ()
    bounds: bool = False


QUESTIONS = (
    PageQuestion("Will it rub?", ("trade.fit", "trade.fender", "trade.tire.growth", "flags.fit")),
    PageQuestion("Will the brakes fit inside?", entries=(".brake.radius", ".brake.face", "least_brake_gap")),
    PageQuestion(
        "What do I order?",
        ("trade.wheel", "trade.tire.sizes", "flags.wheel.rim", "flags.wheel.tubes"),
        bounds=True,
    ),
    PageQuestion(
        "Will it bolt on and stay on?",
        ("trade.bolts", *(f"flags.wheel.{one}" for one in ("hub", "nuts", "studs", "threads", "spacers"))),
    ),
    PageQuestion("Do duals fit?", ("trade.wheel.pairs", "trade.wheel.spacing", "flags.wheel.pairs")),
    PageQuestion(
        "Which tire can I run?", ("trade.tire", "flags.tire", "flags.wheel.rim_and_tire", "flags.wheel.tubes")
    ),
    PageQuestion(
        "What can it carry?",
        ("trade.loads", "trade.tire.loading", "trade.tire.ratings", "flags.loads"),
        entries=(".load_rating", ".laden_load"),
    ),
    PageQuestion("Will it still steer?", ("trade.steering", "flags.steering")),
    PageQuestion("Will it still stop?", ("trade.brakes", "flags.brakes")),
    PageQuestion("Will it still pull?", ("trade.gearing", "flags.gearing")),
    PageQuestion("What does the speedometer do?", ("trade.speedometer", "flags.speedometer")),
    PageQuestion("Will it tip, drag or hit the door?", ("trade.stance", "flags.stance")),
    PageQuestion("How will it look?", ("trade.look", "flags.look")),
    PageQuestion("What does the law say?", dangers=("law",)),
    PageQuestion("Are my readings good enough?", ("flags.contradictions", "flags.rolling", "flags.readings")),
    PageQuestion("Does the plan still hold?", ("flags.plan",)),
)


def answers(catalog: Catalog, question: PageQuestion) -> tuple[list[Figure], list[Rule]]:
    """The figures and the rules that a question is answered by, each by name."""
    found = _by_entries(catalog, question)
    narrower = {node for other in QUESTIONS if other is not question for node in _by_entries(catalog, other)}
    of_danger = [one for one in catalog.rules.values() if one.danger in question.dangers]
    found |= {node for one in of_danger for node in (one.node, *read(catalog, one))}
    found |= {one.node for one in catalog.rules.values() if question.bounds and one.bounds}

    def answered(one: Figure | Rule) -> bool:
        return one.node in found or one.node not in narrower and _declared_in(one.call, question.modules)

    return (
        sorted(filter(answered, catalog.figures.values()), key=lambda one: one.name),
        sorted(filter(answered, catalog.rules.values()), key=lambda one: one.order),
    )


def index(rows: Iterable[tuple[str, Iterable[str]]]) -> list[str]:
    """A page's head: the questions, and each with the links that answer it; one without any is left out."""
    listed = [(words, links) for words, those in rows if (links := list(those))]
    parts = [line for words, links in listed for line in ("", f"### {words}", "", *(f"- {one}" for one in links))]
    return ["## By question", "", " · ".join(link(words, words) for words, _ in listed), *parts, ""]


def _declared_in(call: Callable[..., object], modules: Iterable[str]) -> bool:
    return any(call.__module__.startswith(f"planner.{one}") for one in modules)


def _by_entries(catalog: Catalog, question: PageQuestion) -> set[str]:
    """What reads one of the question's entries, and the rules that read such a figure."""
    keys = {node: fact.keys for node, fact in catalog.facts.items()} | {node: (node,) for node in catalog.assumed}
    entered = {node for node, of in keys.items() if any(text in key for key in of for text in question.entries)}
    figures = {one.node for one in catalog.figures.values() if entered & set(read(catalog, one))}
    return figures | {one.node for one in catalog.rules.values() if (entered | figures) & set(read(catalog, one))}


def read(catalog: Catalog, one: Figure | Rule) -> Iterator[str]:
    return (catalog.edge(taken.reads).node for taken in one.inputs if taken.reads)
