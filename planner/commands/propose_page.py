"""What `planner propose` prints: the list, what ruled out the rest, the map of sizes, and the space searched."""

from collections.abc import Iterator, Sequence

from planner.commands.page import columns, ink, paragraph
from planner.plan.proposing.question_checks import unmet_together
from planner.plan.proposing.quick_look import RuledOut
from planner.plan.proposing.rows import ProposalRow, out_words, rows
from planner.plan.proposing.search import FitSearch, Proposals, sizes_of
from planner.plan.proposing.size_map import FITS, WISHED_AWAY, size_map
from planner.plan.proposing.space import OFFERED, SearchSpace
from planner.plan.truck.project import OpenProject
from planner.plan.truck.wording import close_words, count, stop_words
from planner.quantities.kinds import LENGTH
from planner.quantities.show import show
from planner.quantities.text import clean

INDENT = 4


def page(opened: OpenProject, found: Proposals, search: FitSearch, full: bool = False) -> list[str]:
    """The answer, line by line; `full` with all that is known of each."""
    lines = [ink(f"{clean(opened.project.vehicle.name or 'A truck without a name')}: what fits", "strong"), ""]
    for line in head(opened, found, search):
        lines += paragraph(line)
    for at, row in enumerate(rows(opened, found, search.wished), 1):
        lines += ["", *_row(opened, at, row, full)]
    lines += ["", *_ruled_out(opened, found), *_map(opened, found)]
    if found.proposals:
        lines += [
            "",
            *paragraph('--full tells more of each. --take N --as NAME --because "why" --apply makes one a candidate.'),
        ]
    return [*lines, "Local codes and licensed practice come first."]


def head(opened: OpenProject, found: Proposals, search: FitSearch) -> Iterator[str]:
    """What was tried, and what to know before the list is read."""
    space = search.space
    ways = count(space.geared, "way", "ways")
    yield (
        f"Tried {found.tried:,} of {found.of:,}: {count(len(space.tires), 'tire')} on "
        f"{count(len(search.pairs), 'rim')} in all, {ways} to gear each."
        + ("" if found.whole else " STOPPED before the end: what wasn't tried may fit better.")
    )
    if search.wished.invented:
        yield "Nothing is entered under [wishes], so the largest tire that clears is looked for."
    if space.template:
        yield f"Studs, bore, disc and ratings of the wheel are taken as {clean(space.template)} has them."
    for flag in found.standing:
        close = "may be" if flag.verdict.answer == "too close to call" else "is"
        where = f"{flag.where}: " if flag.where else ""
        yield f"Whatever you choose, this {close} a stop: {where}{flag.rule.notices}."
    if not found.proposals:
        yield "Nothing that was tried is sure to fit. What ruled it out:"
        return
    shown = len(found.proposals)
    more = f"; {count(found.more, 'more is', 'more are')} as good" if found.more else ""
    yield f"{shown} that nothing beats{more}; {found.beaten:,} fit, and one of these is better in everything compared."
    yield from (f"{line[0].upper()}{line[1:]}." for line in unmet_together(found, search.wished))


def _row(opened: OpenProject, at: int, row: ProposalRow, full: bool) -> list[str]:
    told, fitting = row.tally, row.proposal.fitting
    lines = paragraph(f"{row.what}, backspace {row.backspace}", 0, f"{at:>2}  ")
    lines[0] = ink(lines[0], "strong")
    lines += paragraph("; ".join(row.why), INDENT)
    missed = ["" if one.met or one.wish.largest else " (missed)" for one in row.wishes]
    wishes = [f"{one.wish.called} {one.shown}{miss}" for one, miss in zip(row.wishes, missed, strict=True)]
    lines += paragraph(", ".join(wishes), INDENT) if wishes else []
    lines += paragraph(f"least room: {row.tightest}", INDENT)
    flags = [stop_words(told.stops, told.close_stops), count(told.cautions, "caution"), count(told.notes, "note")]
    flags += [close_words(told.too_close, told.close_stops), f"{told.not_known} not known"]
    lines += paragraph(", ".join(flags), INDENT)
    currency = clean(opened.project.plan.currency or "")
    price = "price not known" if fitting.price is None else f"{fitting.price:,} {currency}".strip()
    days = "" if fitting.days is None else f", {fitting.days:g} days to come"
    lines += paragraph(f"{price}{days}", INDENT) if full or fitting.price is not None else []
    return [*lines, *(columns(_more(row), INDENT) if full else [])]


def _more(row: ProposalRow) -> Iterator[tuple[str, str]]:
    """What is told of a proposal where all of it is asked for."""
    if row.window:
        yield "backspace", row.window
    if row.worst is not None:
        close = " (too close to call)" if row.worst.verdict.answer == "too close to call" else ""
        where = f"{row.worst.where}: " if row.worst.where else ""
        yield "first flag", f"{row.worst.rule.severity}: {where}{row.worst.rule.notices}{close}"
    teeth = row.proposal.fitting.combination.driven.teeth
    if teeth is not None:
        yield "speedometer", f"driven gear of {teeth} teeth"
    elif row.driven_teeth is not None:
        yield "speedometer", f"a driven gear of {row.driven_teeth} teeth would read closest"


def _ruled_out(opened: OpenProject, found: Proposals) -> list[str]:
    """What ruled out the rest, the most first, with those that only a doubt rules out."""
    told: dict[RuledOut, list[int]] = {}
    better: dict[RuledOut, str] = {}
    for one, number in found.ruled_out:
        at = one._replace(close=False, better="")
        counts = told.setdefault(at, [0, 0])
        counts[0] += number
        counts[1] += number if one.close else 0
        better[at] = better.get(at) or one.better
    if not told:
        return []
    lines = [ink("What ruled out the rest", "strong")]
    for one, (number, close) in sorted(told.items(), key=lambda pair: -pair[1][0]):
        doubt = "" if not close else f"; {close:,} of them only in doubt"
        if close and better[one]:
            doubt += f": measure {opened.the(better[one])} better"
        lines += paragraph(f"{out_words(opened, one)}{doubt}", 2, f"{number:>6,}  ")
    return lines


def _map(opened: OpenProject, found: Proposals) -> list[str]:
    drawn = size_map(found, opened.style)
    if not drawn.lines:
        return []
    lines = ["", ink("Sizes: diameter up, section width across", "strong"), *drawn.lines]
    keys = [*((letter, out_words(opened, out)) for letter, out in drawn.letters)]
    marks = {mark for line in drawn.lines for mark in line[8:].split()}
    first = [("1…", "a size on the list")] if found.proposals else []
    first += [(FITS, "fits, and is beaten")] if FITS in marks else []
    last = [(WISHED_AWAY, "outside of what you want")] if WISHED_AWAY in marks else []
    return [*lines, *columns([*first, *keys, *last])]


def space_page(opened: OpenProject, space: SearchSpace) -> list[str]:
    """What would be tried, each with where it is known from, and how to have it otherwise."""
    pairs = list(space.pairs())
    lines = [ink("What would be tried", "strong"), ""]
    lines += paragraph(
        f"{count(len(space.tires), 'tire')}, {len(pairs):,} with a rim, {count(space.geared, 'way', 'ways')} to gear "
        f"each: {len(pairs) * space.geared:,} combinations."
    )
    lines += ["", ink("Tires", "strong")]
    lines += columns(
        (clean(one.size), f"{_size(opened, *sizes_of(one))}; {_from(one.known_from)}") for one in space.tires
    )
    lines += ["", ink("Rims", "strong")]
    lines += columns((f"{one.code:g}x{one.width.removesuffix(' in')}", _from(one.known_from)) for one in space.rims)
    lines += paragraph("and made to order, every half inch that the tire takes, at each step of backspace", 2)
    lines += ["", ink("Gears", "strong")]
    lines += columns((one.ratio or "as they are", _from(one.known_from)) for one in space.gears)
    lines += ["", ink("Speedometer gears", "strong")]
    lines += columns(
        ("as it is" if one.teeth is None else f"{one.teeth} teeth", _from(one.known_from)) for one in space.driven
    )
    lines += _left_out(space.left_out)
    lines += ["", *paragraph(
        "Enter what you can get under [[offered]], such as planner change FILE "
        "'offered[0].designation=37x12.50R17LT'. --offered tries only that, --only TEXT only sizes with that in them."
    )]  # fmt: skip
    return lines


def _left_out(left_out: Sequence[str]) -> list[str]:
    if not left_out:
        return []
    return ["", ink("Left out", "strong"), *(line for one in left_out for line in paragraph(one, 2))]


def _size(opened: OpenProject, tall: float, wide: float) -> str:
    return " x ".join(show(one, LENGTH, opened.style, 0.0, beside=False) for one in (tall, wide))


def _from(known_from: str) -> str:
    return "you entered it under [[offered]]" if known_from == OFFERED else clean(known_from)
