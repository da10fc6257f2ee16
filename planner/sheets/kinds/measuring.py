"""The measuring sheet: what is not known yet, with a drawing of where the tape goes and a blank for each reading."""

from collections.abc import Iterator
from typing import NamedTuple

from planner.plan.drawings.scene import Dimension, Label, Scene
from planner.plan.truck.catalog import entry_key
from planner.plan.truck.change_words import entries_of, planned_changes
from planner.plan.truck.pairs import asked_there
from planner.plan.truck.project import OpenProject
from planner.plan.truck.reading_words import reading_lines, taken_at
from planner.plan.work.change_tasks import unmeasured
from planner.project.facts import AXES, entrance_of
from planner.project.models.measurements import Point
from planner.quantities.kinds import POSITION
from planner.quantities.kinds import Kind as ValueKind
from planner.quantities.show import default_unit
from planner.quantities.text import clean
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
from planner.sheets.kind import CannotPrint, Content, SheetKind, Subject, stops
from planner.sheets.tape_places import OBSTACLES, PLACES, TapePlace
from planner.tasks.sequence import asked_for
from planner.worksheet.outcome import Spot

JACK = (
    "Never get under a truck that's only on a jack. Hard, level ground, wheels chocked both ways, the axle on rated "
    "stands before a wheel comes off. If the rims may come apart in pieces, let all the air out first, cores out; if "
    "in doubt leave the nuts alone and ask a shop with a cage."
)
NOT_BY_TAPE = ("use", "legal", "plan")
MORE_CLOSELY = "more closely than now"


class WantedReading(NamedTuple):
    """A reading that is wanted: where it is entered and what is known of it."""

    fact: str
    key: str
    kind: ValueKind
    means: str
    how: str
    where: str
    known: str = ""
    better: str = ""


def build(subject: Subject) -> Content:
    wanted = [*_wanted(subject), *_after_changes(subject)]
    obstacles = list(_obstacles(subject))
    if not wanted and not obstacles:
        raise CannotPrint(
            "nothing left to measure: everything the rules need is known; ask for everything to get the whole sheet"
        )
    blocks: list[Block] = [
        Paragraph(
            "Measure what you can reach safely. Write the value as you read it, and next to it how far off it may be: "
            "half the smallest division you could see, more if the part is rough. Measure both sides; if they differ "
            "by more than that, write both."
        ),
        Caution(JACK),
        SignatureBox("Measured by", ("name", "date", "tools used", "temperature, ground, load on the truck")),
    ]
    taped = [one for one in wanted if not _not_by_tape(one)]
    filed: set[str] = set()
    told: set[str] = set()
    for place in PLACES:
        mine = [one for one in taped if one.fact in place.marks]
        filed.update(one.key for one in mine)
        if mine:
            blocks += _place(place, mine, subject, told)
    if obstacles:
        blocks += [
            Heading(OBSTACLES.title),
            DrawingBlock(OBSTACLES.draw(), 150),
            Blanks(tuple(obstacles)),
        ]
    rest = [one for one in taped if one.key not in filed]
    if rest:
        blocks += [Heading("Plates, scales and counts"), Blanks(tuple(_blanks({}, rest, subject)))]
    chosen = [one for one in wanted if _not_by_tape(one)]
    if chosen:
        blocks += [
            Heading("To decide, or to copy from the makers' tables"),
            Blanks(tuple(row._replace(spread=False) for row in _blanks({}, chosen, subject))),
        ]
    raised = stops(subject.flags)
    return Content(tuple(blocks), tuple(_known(subject, wanted)), "STOP RAISED" if raised else "", raised)


def _known(subject: Subject, wanted: list[WantedReading]) -> Iterator[Spot]:
    """The values that stand beside a blank: the sheet rests on them."""
    sheet = subject.opened.sheet
    for one in wanted:
        at = subject.opened.spot_at(one.key)
        if at is not None:
            yield from (spot for spot in sheet.spots(at.node) if sheet.entered(spot) == at)


def _place(place: TapePlace, mine: list[WantedReading], subject: Subject, told: set[str]) -> Iterator[Block]:
    order = list(place.marks)
    mine = sorted(mine, key=lambda one: (order.index(one.fact), one.key))
    yield Heading(place.title)
    for how in dict.fromkeys(_task_words(one) for one in mine):
        if how and how not in told:
            told.add(how)
            yield Paragraph(how)
    letters = {place.marks[one.fact] for one in mine} - {""}
    if letters:
        yield DrawingBlock(_only(place.draw(), letters), 165)
    yield Blanks(tuple(_blanks(place.marks, mine, subject)))


def _only(scene: Scene, letters: set[str]) -> Scene:
    """The drawing with the letters of what is wanted, so that the others are not looked for in the list below."""

    def wanted(one: Dimension | Label) -> bool:
        return len(one.text) > 1 or one.text in letters

    return scene._replace(
        dimensions=tuple(filter(wanted, scene.dimensions)), labels=tuple(filter(wanted, scene.labels))
    )


def _blanks(marks: dict[str, str], several: list[WantedReading], subject: Subject) -> Iterator[Blank]:
    """A row for each fact, with a blank for each place where it is wanted."""
    by_fact: dict[str, list[WantedReading]] = {}
    for one in several:
        by_fact.setdefault(one.fact, []).append(one)
    for fact, same in by_fact.items():
        one = same[0]
        what = one.means[0].upper() + one.means[1:]
        unit = default_unit(one.kind, subject.opened.style)
        spread = one.kind.form in ("quantity", "ratio") and one.kind.name != "rim code"
        readings = tuple(BlankEnd(each.where, each.key, each.known, each.better) for each in same)
        yield Blank(marks.get(fact, ""), what, one.how, readings, unit, spread)


def _wanted(subject: Subject) -> Iterator[WantedReading]:
    better = {key: better for key, better in _better(subject)}
    asked = dict.fromkeys(_needs(subject))
    for key in better:
        asked.setdefault(key)
    if subject.asked.everything:
        asked |= dict.fromkeys(_everything(subject))
    for key in asked:
        found = entrance_of(key)
        if found is None:
            continue
        entrance, at = found
        known = _known_text(subject.opened, key)
        close = better.get(key, "")
        where = ", ".join(_said(at[axis]) for axis in AXES if axis in at)
        yield WantedReading(
            entrance.fact, key, entrance.kind, entrance.note.means, entrance.note.how, where, known,
            close or (MORE_CLOSELY if known and key in better else ""),
        )  # fmt: skip


def _known_text(opened: OpenProject, key: str) -> str:
    """What an entry is so far, and by whose readings; a side that was not read is said too."""
    taken = taken_at(opened, key)
    text = taken or (opened.written_at(key) if opened.spot_at(key) is not None else "")
    return f"{text} ({'; '.join(reading_lines(opened, key))})" if taken else text


def _after_changes(subject: Subject) -> Iterator[WantedReading]:
    """What a change set or moved that is done, and that nobody has measured since."""
    opened = subject.opened
    for number in planned_changes(opened):
        if opened.project.changes[number].state != "done":
            continue
        sets = {
            opened.truck_key_of(one.set_at): f"set to {one.planned}, found {one.found}"
            for one in entries_of(opened, number)
        }
        for own, key in unmeasured(opened, number).items():
            found = entrance_of(own)
            if found is None:
                continue
            entrance, at = found
            where = ", ".join(_said(at[axis]) for axis in AXES if axis in at)
            known = sets.get(opened.truck_key_of(key), "")
            yield WantedReading(entrance.fact, key, entrance.kind, entrance.note.means, entrance.note.how, where, known)


def _said(name: str) -> str:
    """A name of the person's, or that there is one blank for all that will have one."""
    return f"each {clean(name[1:-1])}" if name.startswith("<") else clean(name)


def _needs(subject: Subject) -> Iterator[str]:
    """Every entry that a rule waits for, those of the gravest rules first."""
    for flag in subject.flags:
        if flag.verdict.answer == "not known":
            yield from flag.needs


def _better(subject: Subject) -> Iterator[tuple[str, str]]:
    """What would settle a close call, and how well it must be measured."""
    for flag in subject.flags:
        if flag.verdict.answer == "too close to call":
            for key, to in flag.better:
                yield key, f"within {to}" if to else ""


def _everything(subject: Subject) -> Iterator[str]:
    opened = subject.opened
    for node in opened.sheet.catalog.facts:
        for spot in opened.sheet.spots(node):
            if spot.place[0] in ("", "found", *opened.planned) and asked_there(opened, spot):
                yield _key_at(subject, spot)


def _key_at(subject: Subject, spot: Spot) -> str:
    entered = subject.opened.sheet.entered(spot)
    return subject.opened.key_of(entered) if entered else entry_key(spot)


def _obstacles(subject: Subject) -> Iterator[Blank]:
    """Obstacles that nobody measured, or that decide a close call, or all of them."""
    better = {key.rpartition(".")[0] for key, _ in _better(subject)}
    for label, one in subject.opened.obstacles.items():
        measured = one.measured
        missing = measured.at is None or measured.moves_with is None or measured.axle is None
        if missing or one.key in better or subject.asked.everything:
            how = f"{clean(measured.measure)}. " if measured.measure else ""
            fixed = "" if measured.moves_with else "Say what it moves with: body, axle or knuckle."
            closely = "more closely" if one.key in better else ""
            at = BlankEnd("one end" if measured.to else "", f"{one.key}.at", _point(measured.at), closely)
            to = BlankEnd("other end", f"{one.key}.to", _point(measured.to), closely)
            readings = (at, to) if measured.to else (at,)
            unit = default_unit(POSITION, subject.opened.style)
            yield Blank("", clean(label), f"{how}{fixed}", readings, unit, True, ("forward", "outboard", "up"))


def _point(point: Point | None) -> str:
    return "" if point is None else ", ".join(clean(axis.text) for axis in point)


def _not_by_tape(one: WantedReading) -> bool:
    candidate = one.key.startswith("fitments.") and not one.key.startswith("fitments.found.")
    return candidate or one.key.split(".")[0] in NOT_BY_TAPE or one.fact.startswith("wanted_")


def _task_words(one: WantedReading) -> str:
    """How the standing task that settles a fact goes about it."""
    tasks = asked_for(one.fact, found=not one.key.startswith("fitments.") or one.key.startswith("fitments.found"))
    return tasks[0].how if tasks else ""


KIND = SheetKind("measuring", "Measuring sheet", "what to measure, with drawings and blanks", build)
