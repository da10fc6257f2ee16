"""What is said of a search, of each proposal and of what ruled out the rest, for a page as for the screens."""

from __future__ import annotations

from collections.abc import Iterator

from planner.plan.answers.flagging import tally_words
from planner.plan.proposing.question_checks import unmet_together
from planner.plan.proposing.quick_look import NO_STEP, READS_CLOSER, RuledOut
from planner.plan.proposing.rows import ProposalRow
from planner.plan.proposing.search import FitSearch, Proposals
from planner.plan.proposing.size_map import FITS, WISHED_AWAY, SizeMap
from planner.plan.proposing.space import SearchSpace
from planner.plan.proposing.wish_axes import NEAR
from planner.plan.truck.project import OpenProject
from planner.plan.truck.wording import count
from planner.quantities.text import clean

OUTSIDE = {
    "diameter": f"more than {NEAR:.0%} outside of the diameter you want".replace("%", " %"),
    "section_width": f"more than {NEAR:.0%} outside of the section width you want".replace("%", " %"),
    "budget": "over your budget",
    "longest_lead_time": "longer to wait than you'd accept",
}
STOPPED = "STOPPED before the end: what wasn't tried may fit better."


def space_words(space: SearchSpace, pairs: int) -> str:
    """`60 tires, 310 with a rim, 3 ways to gear each`."""
    return f"{count(len(space.tires), 'tire')}, {pairs:,} with a rim, {count(space.geared, 'way')} to gear each"


def head(found: Proposals, search: FitSearch, so_far: bool = False) -> Iterator[str]:
    """What was tried, or was `so_far` while the search goes on, and what to know before the list is read."""
    told = f"Tried {found.tried:,} of {found.of:,}: {space_words(search.space, len(search.pairs))}."
    yield f"So far: {told}" if so_far else told if found.whole else f"{told} {STOPPED}"
    if search.wished.invented:
        yield "Nothing is entered under [wishes], so it looks for the largest tire that clears."
    if search.space.template:
        like = clean(search.space.template)
        yield f"Studs, bore, disc, drop center, barrel and ratings are taken from {like}: ask the wheel maker."
    for flag in found.standing:
        close = "may be" if flag.verdict.answer == "too close to call" else "is"
        yield f"Whatever you choose, this {close} a stop: {flag.notice}."
    if not found.proposals:
        yield "Nothing that was tried is sure to fit."
        return
    more = f"; {count(found.more, 'more is', 'more are')} as good" if found.more else ""
    beaten = (
        f"; {found.beaten:,} more fit, and for each of them one here is at least as good in every way"
        if found.beaten
        else ""
    )
    yield f"{len(found.proposals)} that nothing beats{more}{beaten}."
    yield from (f"{line[0].upper()}{line[1:]}." for line in unmet_together(found, search.wished))


def row_lines(opened: OpenProject, row: ProposalRow) -> Iterator[str]:
    """Why it is listed, what it has of what is wished, the least room, and its flags counted."""
    yield "; ".join(row.why)
    missed = ["" if one.met or one.wish.largest else " (missed)" for one in row.wishes]
    wishes = [f"{one.wish.called} {one.shown}{miss}" for one, miss in zip(row.wishes, missed, strict=True)]
    if wishes:
        yield ", ".join(wishes)
    yield f"least room: {row.tightest}"
    asked = [one for one in row.proposal.full.flags if one.verdict.answer == "not known"]
    stops = sum(one.rule.severity == "stop" for one in asked)
    may_be = f" ({stops} of them may be {'a stop' if stops == 1 else 'stops'})" if stops else ""
    yield f"{', '.join(tally_words(row.tally))}{may_be}"
    if row.proposal.fitting.price is not None:
        yield price_words(opened, row)


def price_words(opened: OpenProject, row: ProposalRow) -> str:
    """What the set costs, and when it is there."""
    fitting, currency = row.proposal.fitting, clean(opened.project.plan.currency or "")
    price = "price not known" if fitting.price is None else f"{fitting.price:,} {currency}".strip()
    return f"{price}, {'lead time not known' if fitting.days is None else f'{fitting.days:g} days to come'}"


def row_pairs(row: ProposalRow) -> Iterator[tuple[str, str]]:
    """What is told of a proposal where all of it is asked for."""
    if row.window:
        yield "backspace", row.window
    if row.worst is not None:
        close = " (too close to call)" if row.worst.verdict.answer == "too close to call" else ""
        yield "first flag", f"{row.worst.rule.severity}: {row.worst.notice}{close}"
    teeth = row.proposal.fitting.combination.driven.teeth
    if teeth is not None:
        yield "speedometer", f"driven gear of {teeth} teeth"
    elif row.driven_teeth is not None:
        yield "speedometer", f"a driven gear of {row.driven_teeth} teeth would read closest"


def ruled_out_words(opened: OpenProject, found: Proposals) -> list[tuple[int, str]]:
    """What ruled out the rest and how many, the most first, with those that only a doubt rules out."""
    told: dict[RuledOut, list[int]] = {}
    better: dict[RuledOut, str] = {}
    for one, number in found.ruled_out:
        at = one._replace(close=False, better="")
        counts = told.setdefault(at, [0, 0])
        counts[0] += number
        counts[1] += number if one.close else 0
        better[at] = better.get(at) or one.better
    lines = []
    for one, (number, close) in sorted(told.items(), key=lambda pair: -pair[1][0]):
        doubt = f"; {'all' if close == number else f'{close:,}'} of them just too close to call" if close else ""
        if close and better[one]:
            doubt += f": measure {opened.the(better[one])} better"
        lines.append((number, f"{out_words(opened, one)}{doubt}"))
    return lines


def out_words(opened: OpenProject, one: RuledOut) -> str:
    """What ruled out so many, in words that follow their number."""
    if one.rule == NO_STEP:
        return "no backspace that is made lies between what the two axles allow"
    if one.rule == READS_CLOSER:
        return "another speedometer gear reads closer"
    if one.rule.startswith("wishes."):
        return OUTSIDE[one.rule.removeprefix("wishes.")]
    if one.about in opened.obstacles:
        return f"{clean(one.about)}: too close at every backspace, with the readings off the wrong way"
    where = f"{one.about}: " if one.about else ""
    rule = opened.sheet.catalog.rule_named(one.rule)
    return f"{where}{one.rule if rule is None else rule.notices}"


def map_key(opened: OpenProject, drawn: SizeMap, found: Proposals) -> Iterator[tuple[str, str]]:
    """What each mark of the map stands for."""
    marks = {mark for line in drawn.lines for mark in line[8:].split()}
    if found.proposals:
        yield "1…", "a size on the list"
    if FITS in marks:
        yield FITS, "fits, and is beaten"
    yield from ((letter, out_words(opened, out)) for letter, out in drawn.letters)
    if WISHED_AWAY in marks:
        yield WISHED_AWAY, "outside of what you want"
