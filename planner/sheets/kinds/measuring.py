"""The measuring sheet: what is not known, in the order of the truck's state, where the tape goes, and blanks."""

from collections.abc import Iterator
from typing import NamedTuple

from planner.plan.asking.evening import MOST_NEXT
from planner.plan.asking.questions import ENDS, IN_ORDER, INBOARD, OFF, PLATE, SCALE, SIDEWALL, TABLE, WHEELS, Question
from planner.plan.drawings.scene import Dimension, Label, Scene
from planner.project.models.measurements import Point
from planner.project.sides import SIDES
from planner.quantities.kinds import POSITION
from planner.quantities.show import default_unit
from planner.quantities.text import clean, grouped
from planner.sheets.blocks import (
    Blank,
    BlankEnd,
    Blanks,
    Block,
    Caution,
    DrawingBlock,
    Heading,
    Paragraph,
    SignatureBox,
)
from planner.sheets.heights import head_height, page_height
from planner.sheets.kind import CannotPrint, Content, SheetKind, Subject, stops
from planner.sheets.stud_tapes import hubs
from planner.sheets.tape_places import OBSTACLES, PLACES, STUDS, TapePlace
from planner.sheets.wanted_readings import (
    WantedReading,
    better_readings,
    next_questions,
    next_readings,
    read_again,
    wanted_readings,
)
from planner.tasks.sequence import asked_for
from planner.worksheet.outcome import Spot

JACK = (
    "Never get under a truck that's only on a jack. Hard, level ground, wheels chocked both ways, the axle on rated "
    "stands before a wheel comes off. If the rims may come apart in pieces, let all the air out first, cores out; if "
    "in doubt leave the nuts alone and ask a shop with a cage."
)


class TruckState(NamedTuple):
    """How the truck is while a part of the sheet is filled in: where one stands then, and how it has to be."""

    title: str
    stands: tuple[str, ...]
    how: str = ""
    caution: str = ""


STATES = (
    TruckState(
        "As it stands: on its wheels, at ride height",
        (WHEELS,),
        "On hard, level ground, chocked, loaded the way you drive it, tires at their pressure, wheels straight ahead. "
        "Roll it back and forth first, so that the springs settle.",
    ),
    TruckState(
        "Jacked, wheel off",
        (OFF,),
        "Where it has to be at ride height, set that end of the axle on its stand as high as it sat.",
        JACK,
    ),
    TruckState("Sidewalls and plates", (SIDEWALL, PLATE)),
    TruckState("On the scale", (SCALE,), "One axle at a time, the other one level with it, ready for use."),
    TruckState("At the table: to decide, or to copy from the makers' tables", (TABLE,)),
)
DEFAULT = "This sheet has everything the rules still need. One page for the next evening: --next; everything: --all."
NEXT = "One page for the next evening: what decides most, in the order you walk around the truck."
ALL = "This sheet has everything, known or not."
HOW = (
    "Measure what you can reach safely. Left and right each have a blank: fill in both, even if they are the same. "
    "Next to each reading is the tool it takes and how close it reads; if you read another way, or the part "
    "is rough, write after ± how far off it may be. Where a line comes again, measure it again: another way, or let "
    "somebody else do it. An order rests on it."
)
AXES, TAPE = ("forward", "outboard", "up"), "with a tape and a square"
ROOM = 560.0  # pt; of the shorter paper, below the head of the page for the next evening
NEAREST = (
    "Whatever comes nearest to the tire decides the backspace: have somebody else measure that one again, left and "
    "right, without looking at your figures."
)


def build(subject: Subject) -> Content:
    asked = subject.asked
    raised = stops(subject.flags)
    room = ROOM - head_height(subject.opened.project.vehicle.name or "", raised)
    wanted, parts = _next(subject, room) if asked.next_only else _whole(subject)
    if not parts:
        raise CannotPrint(
            "nothing left to measure: everything the rules need is known; ask for everything to get the whole sheet"
        )
    head: list[Block] = [
        Paragraph(NEXT if asked.next_only else ALL if asked.everything else DEFAULT),
        Paragraph(HOW, small=asked.next_only),
        SignatureBox("Measured by", ("name, date, tools used", "temperature, ground, load on the truck")),
    ]
    return Content((*head, *parts), tuple(_known(subject, wanted)), reasons=raised)


def _whole(subject: Subject) -> tuple[list[WantedReading], list[Block]]:
    wanted = wanted_readings(subject)
    return wanted, list(_by_state(subject, wanted, list(_obstacles(subject))))


def _next(subject: Subject, room: float) -> tuple[list[WantedReading], list[Block]]:
    """As many of the next readings as fit one page, and drawings of them where there is room left."""
    most = MOST_NEXT
    while True:
        questions = next_questions(subject, most)
        wanted = next_readings(subject, questions, most)
        again = read_again(subject, questions, most)
        around = [
            *_next_obstacles(subject, questions),
            *(one for one in _obstacles(subject) if one.readings[0].key in again),
        ]
        listed, drawn = (list(_by_state(subject, wanted, around, drawn)) for drawn in (False, True))
        if page_height(drawn) <= room:
            return wanted, drawn
        if most == 1 or page_height(listed) <= room:
            return wanted, listed
        most -= 1


def _by_state(
    subject: Subject, wanted: list[WantedReading], obstacles: list[Blank], drawn: bool = True
) -> Iterator[Block]:
    told: set[str] = set()
    for state in STATES:
        here = [one for one in wanted if one.stand in state.stands]
        around = obstacles if OFF in state.stands else []
        if here or around:
            yield Heading(state.title)
            yield from [Caution(state.caution)] if state.caution else []
            yield from [Paragraph(state.how)] if state.how else []
            yield from _readings(here, subject, told) if drawn else _listed(here, subject)
            yield from _around(around, subject)


def _known(subject: Subject, wanted: list[WantedReading]) -> Iterator[Spot]:
    """The values that stand beside a blank: the sheet rests on them."""
    sheet = subject.opened.sheet
    for one in wanted:
        at = subject.opened.spot_at(one.key)
        if at is not None:
            yield from (spot for spot in sheet.spots(at.node) if sheet.entered(spot) == at)


def _readings(here: list[WantedReading], subject: Subject, told: set[str]) -> Iterator[Block]:
    """What is read in one state: place by place where there is a drawing of it, then the rest."""
    filed: set[str] = set()
    for place in PLACES if here and here[0].stand != TABLE else ():
        mine = [one for one in here if one.fact in place.marks]
        filed.update(one.key for one in mine)
        if mine:
            yield Heading(place.title, 2)
            yield from _place(place, mine, subject, told)
    yield from _listed([one for one in here if one.key not in filed], subject)


def _listed(several: list[WantedReading], subject: Subject) -> Iterator[Block]:
    if several:
        yield Blanks(tuple(_blanks({}, several, subject)))


def _place(place: TapePlace, mine: list[WantedReading], subject: Subject, told: set[str]) -> Iterator[Block]:
    order = list(place.marks)
    mine = sorted(mine, key=lambda one: (order.index(one.fact), one.key))
    for how in dict.fromkeys(_task_words(one) for one in mine):
        if how and how not in told:
            told.add(how)
            yield Paragraph(how)
    letters = {place.marks[one.fact] for one in mine} - {""}
    if letters:
        yield DrawingBlock(_only(_scene(place, mine, subject), letters), 165)
    yield Blanks(tuple(_blanks(place.marks, mine, subject)))


def _scene(place: TapePlace, mine: list[WantedReading], subject: Subject) -> Scene:
    """Where the tape goes; the hub with its own number of studs, both hubs where these differ."""
    if place is not STUDS:
        return place.draw()
    numbers: dict[int | None, list[str]] = {}
    for axle in ENDS:
        if any(axle in one.where for one in mine):
            count = subject.opened.sheet.value(subject.opened.spot("stud_count", fitment="found", axle=axle))
            numbers.setdefault(int(count) if count else None, []).append(axle)
    return hubs([(number, " and ".join(axles)) for number, axles in numbers.items()])


def _only(scene: Scene, letters: set[str]) -> Scene:
    """The drawing with the letters of what is wanted, so that the others are not looked for in the list below."""

    def wanted(one: Dimension | Label) -> bool:
        return len(one.text) > 1 or one.text in letters

    return scene._replace(
        dimensions=tuple(filter(wanted, scene.dimensions)), labels=tuple(filter(wanted, scene.labels))
    )


def _blanks(marks: dict[str, str], several: list[WantedReading], subject: Subject) -> Iterator[Blank]:
    """A row for each fact, with a blank for each place where it is wanted."""
    for (fact, times), same in grouped(((one.fact, one.times), one) for one in several).items():
        one = same[0]
        what = one.means[0].upper() + one.means[1:]
        unit = default_unit(one.kind, subject.opened.style)
        spread = one.kind.form in ("quantity", "ratio") and one.kind.name != "rim code" and one.stand != TABLE
        readings = tuple(BlankEnd(each.where, each.key, each.known, each.better) for each in same)
        yield Blank(
            marks.get(fact, ""), what, one.how, readings, unit, spread, tool=one.tool, sides=one.sides, times=times
        )


# what's around the wheel


def _around(obstacles: list[Blank], subject: Subject) -> Iterator[Block]:
    if obstacles:
        yield Heading(OBSTACLES.title, 2)
        yield Paragraph(NEAREST)
        if not subject.asked.next_only:
            yield DrawingBlock(OBSTACLES.draw(), 150)
        yield Blanks(tuple(obstacles))


def _obstacles(subject: Subject) -> Iterator[Blank]:
    """Obstacles that nobody measured, that are to be read once more, or all of them."""
    better = {key.rpartition(".")[0]: how for key, how in better_readings(subject).items()}
    unit = default_unit(POSITION, subject.opened.style)
    for label, one in subject.opened.obstacles.items():
        measured = one.measured
        missing = measured.at is None or measured.moves_with is None or measured.axle is None
        if missing or one.key in better or subject.asked.everything:
            how = f"{clean(measured.measure)}. " if measured.measure else ""
            fixed = "" if measured.moves_with else "Say what it moves with: body, axle or knuckle."
            closely = better.get(one.key, "")
            at = BlankEnd("one end" if measured.to else "", f"{one.key}.at", _point(measured.at), closely)
            to = BlankEnd("other end", f"{one.key}.to", _point(measured.to), closely)
            readings = (at, to) if measured.to else (at,)
            sides = SIDES if measured.side == "both" else (measured.side,)
            yield Blank("", clean(label), f"{how}{fixed}", readings, unit, True, AXES, TAPE, sides)


def _next_obstacles(subject: Subject, questions: list[Question]) -> Iterator[Blank]:
    """The nearest obstacle at an end of which nothing is known yet, and what is asked for as many as there are."""
    unit = default_unit(POSITION, subject.opened.style)
    for question in questions:
        if question.id.endswith(INBOARD):
            end = BlankEnd("its name ______________________________", "obstacles")
            yield Blank("", question.asks, question.how, (end,), unit, True, AXES, TAPE, SIDES)
        elif question.id in IN_ORDER:
            yield Blank("", question.asks, question.how, (BlankEnd("", question.id),), spread=False)


def _point(point: Point | None) -> str:
    return "" if point is None else ", ".join(clean(axis.text) for axis in point)


def _task_words(one: WantedReading) -> str:
    """How the standing task that settles a fact goes about it."""
    tasks = asked_for(one.fact, found=not one.key.startswith("fitments.") or one.key.startswith("fitments.found"))
    return tasks[0].how if tasks else ""


KIND = SheetKind("measuring", "Measuring sheet", "what to measure, with drawings and blanks", build)
