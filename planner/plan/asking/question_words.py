"""A question in words, as terminal and screens show it: what may be typed, how it is taken, and what hangs on it."""

from collections.abc import Iterator

from planner.plan.asking.answering import example_of, such_as
from planner.plan.asking.interview import Interview
from planner.quantities.text import clean


def answer_words(interview: Interview) -> Iterator[str]:
    """What may be typed, with what it is read, and what stands there."""
    asked, fields = interview.asked, interview.fields
    choices = fields[0].choices if len(fields) == 1 else ()
    if choices:
        yield ", ".join(f"{at} {one}" for at, one in enumerate(choices, 1))
    elif fields:
        opened = interview.state.opened
        examples = ", ".join(example_of(opened, one).partition(" ± ")[0] for one in fields)
        yield f"such as {examples}" if examples else "one value"
        if interview.read_with:
            yield f"read with {interview.read_with}  (t: another tool)"
    elif asked is not None:
        yield f"such as {such_as(interview.state.opened, asked.question, 0).partition('such as ')[2]}"
    if asked is not None and asked.question.instead:
        yield f"or {asked.question.instead}"
    standing = [one.written for one in fields if one.written]
    if standing:
        yield f"now: {clean(', '.join(standing))}"


def way_words(interview: Interview) -> list[tuple[str, str]]:
    """Each way to take it, with what marks it; nothing where there is one."""
    ways = interview.ways
    if len(ways) < 2:
        return []
    marks = [f"{'>' if at == interview.way else ' '} {at + 1}  " for at in range(len(ways))]
    return [*zip(marks, (way.name for way in ways), strict=True), ("", "w: how do you want to measure it?")]


def hangs_words(interview: Interview) -> str:
    """What hangs on the present question."""
    asked = interview.asked
    if asked is None:
        return ""
    if asked.question.decides:
        return f"It decides {asked.question.decides}."
    return f"{asked.waiting} for it." if asked.waiting else ""


def known_lines(interview: Interview) -> list[str]:
    """What is known so far of a first wheel."""
    return [clean(one.says) for wheel in interview.state.wheels for one in wheel.lines]
