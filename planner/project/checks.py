"""What no single entry can tell: entries that contradict each other, each fault with its place."""

from collections.abc import Iterable, Iterator
from math import pi
from typing import Any

from planner.project.faults import Fault, as_key
from planner.project.lines import Key
from planner.project.models.axles import Axle
from planner.project.models.fitments import End, Fitment
from planner.project.models.project import Project
from planner.project.record_checks import record_faults
from planner.quantities.text import clean

MOST = {
    "fitments": 20,
    "drivetrain.gearbox": 30,
    "drivetrain.transfer": 10,
    "changes": 100,
    "changes[].sets": 50,
    "changes[].measured": 50,
    "obstacles": 200,
    "readings": 6_000,
    "readings[].photos": 20,
    "which_counts": 500,
    "offered": 500,
    "wishes.order": 10,
    "decisions": 500,
    "acceptances": 500,
    "tasks": 2_000,
    "tasks[].photos": 20,
    "tasks[].earlier": 500,
    "decisions[].photos": 20,
    "parts": 500,
    "parts[].quotes": 20,
    "parts[].payments": 50,
    "parts[].as_ordered": 100,
    "parts[].photos": 20,
    "plan.stages": 20,
    "wheels": 60,
    "wheels[].photos": 20,
    "outline.pixels": 500,
    "outline.known": 10,
    "sheets": 500,
}
MOST_SWEEPS = 200
TALLEST = 5.0  # m: no road lets a taller truck pass, and feet for inches make one


def checks(project: Project) -> list[Fault]:
    """Every contradiction in a project that is otherwise well formed."""
    return [
        *_too_many(project),
        *_names(("fitments",), project.fitments),
        *_names(("drivetrain", "gearbox"), project.drivetrain.gearbox),
        *_names(("drivetrain", "transfer"), project.drivetrain.transfer),
        *_chosen(project),
        *(fault for name, fitment in project.fitments.items() for fault in _fitment(("fitments", name), fitment)),
        *(fault for name, fitment in project.fitments.items() for fault in _faces(project, name, fitment)),
        *_axle(("axles", "front"), project.axles.front),
        *_axle(("axles", "rear"), project.axles.rear),
        *_obstacles(project),
        *_of_changes(project),
        *_unlikely(project),
        *_repeated(("sheets",), [str(sheet.number) for sheet in project.sheets]),
        *record_faults(project),
    ]


def _axle(key: Key, axle: Axle) -> Iterator[Fault]:
    yield from _tires((*key, "tires"), axle.tires)
    yield from _amounts(key, axle)
    yield from _kingpin(key, axle)
    yield from _stops(key, axle)


def _amounts(key: Key, axle: Axle) -> Iterator[Fault]:
    """How much a change moves says nothing of the truck as it was measured: it stands under the change."""
    for within, value in ((("lift",), axle.lift), (("spacer", "thickness"), axle.spacer.thickness)):
        if value is not None:
            accepted = f'it under a change to the truck, as [changes.sets] "{as_key((*key, *within))}" = "…"'
            yield Fault("your measurements already include it", (*key, *within), None, "", accepted)


def _of_changes(project: Project) -> Iterator[Fault]:
    if project.changes:
        from planner.project.change_checks import change_faults  # most files have none

        yield from change_faults(project)


def _too_many(project: Project) -> Iterator[Fault]:
    """More than any build has, of what everything is judged for: a page would take longer than anybody waits."""
    for name, most in MOST.items():
        for key, held in _lists(project, name.split("."), ()):
            if len(held) > most:
                over = list(held)[most] if isinstance(held, dict) else most
                yield Fault("", (*key, over), None, f"{len(held)} of them", f"{most} at most", (key,))
    obstacles, fitments = len(project.obstacles), len(project.fitments)
    if obstacles * fitments > MOST_SWEEPS:  # each wheel is swept past each of them
        accepted = f"{MOST_SWEEPS // fitments} at most with so many fitments"
        yield Fault("", ("obstacles",), None, f"{obstacles} of them, and {fitments} fitments", accepted)


def _lists(holder: Any, way: list[str], key: Key) -> Iterator[tuple[Key, Any]]:
    """The lists and tables of names that a way such as `parts[]`, `quotes` leads to, each with its key."""
    name, rest = way[0].removesuffix("[]"), way[1:]
    held = getattr(holder, name)
    if not rest:
        yield (*key, name), held
    elif way[0].endswith("[]"):
        for number, one in enumerate(held):
            yield from _lists(one, rest, (*key, name, number))
    else:
        yield from _lists(held, rest, (*key, name))


def _names(key: Key, names: Iterable[str]) -> Iterator[Fault]:
    for name in names:
        if not name.strip() or len(name) > 40 or clean(name) != name:
            yield Fault("", (*key, name), None, name or "an empty name", "a name of 1 to 40 plain characters")


def _chosen(project: Project) -> Iterator[Fault]:
    chosen = project.plan.chosen
    if chosen is None:
        return
    candidates = [name for name in project.fitments if name != "found"]
    if chosen not in candidates:
        accepted = " or ".join(candidates) or "a candidate; there is none under [fitments] yet"
        yield Fault("", ("plan", "chosen"), None, chosen, accepted)


def _fitment(key: Key, fitment: Fitment) -> Iterator[Fault]:
    yield from _end(key, fitment)
    for name, end in (("front", fitment.front), ("rear", fitment.rear)):
        yield from _end((*key, name), end)


def _faces(project: Project, name: str, fitment: Fitment) -> Iterator[Fault]:
    """A wheel that stands alone lies on its hub: an offset taken to the face between a pair's discs is another one."""
    for axle, end, own in (
        ("front", fitment.front, project.axles.front),
        ("rear", fitment.rear, project.axles.rear),
    ):
        tires = end.tires or fitment.tires or own.tires
        at: Key = ("fitments", name, axle) if end.wheel.offset_face else ("fitments", name)
        if tires == 2 and (end.wheel.offset_face or fitment.wheel.offset_face) == "disc":
            wheels = ((("fitments", name, axle, "wheel"), end.wheel), (("fitments", name, "wheel"), fitment.wheel))
            entered = [(*key, one) for key, wheel in wheels for one in ("offset", "backspace") if getattr(wheel, one)]
            yield Fault(
                f"the {axle} wheel is a single, and sits on its hub with the other face",
                (*at, "wheel", "offset_face"),
                None,
                "disc",
                f"hub, with the offset to that face; for just the {axle} wheel, under fitments.{name}.{axle}.wheel",
                tuple(entered),
            )


def _tires(key: Key, tires: int | None) -> Iterator[Fault]:
    """An axle has one wheel at each end, or a pair; nothing is known of one that has more."""
    if tires not in (None, 2, 4):
        more = "the planner doesn't do more than four on one axle, so nothing that rests on them is known"
        problem = more if tires > 4 else ""
        yield Fault(problem, key, None, str(tires), "2, or 4 if there are two wheels side by side at each end")


def _end(key: Key, end: End) -> Iterator[Fault]:
    tire, wheel = end.tire, end.wheel
    yield from _tires((*key, "tires"), end.tires)
    of, on = (*key, "tire"), (*key, "wheel")
    tall = (*of, "overall_diameter")
    for entry, value, most, bound, what in (
        ((*of, "tread_width"), tire.tread_width, (*of, "section_width"), tire.section_width, "the section width"),
        ((*of, "section_width"), tire.section_width, tall, tire.overall_diameter, "the overall diameter"),
        ((*of, "narrowest_rim"), tire.narrowest_rim, (*of, "widest_rim"), tire.widest_rim, "the widest rim"),
        ((*on, "rim_width"), wheel.rim_width, tall, tire.overall_diameter, "the tire's overall diameter"),
        (
            (*of, "least_pressure"), tire.least_pressure,
            (*of, "rated_pressure"), tire.rated_pressure, "the rated pressure",
        ),
    ):  # fmt: skip
        if value is not None and bound is not None and value.value > bound.value:
            yield Fault("", entry, None, value.text, f"at most {what}, {bound.text}", (most,))


def _obstacles(project: Project) -> Iterator[Fault]:
    for index, obstacle in enumerate(project.obstacles):
        if obstacle.to is not None and obstacle.at is None:
            other: tuple[Key, ...] = (("obstacles", index, "at"),)
            yield Fault("an edge needs both ends", ("obstacles", index, "to"), accepted="enter `at` too", against=other)


def _kingpin(key: Key, axle: Axle) -> Iterator[Fault]:
    """A kingpin that leans beyond anything built, or stands beyond the middle of its own axle."""
    for name, lean in (("inclination", axle.kingpin.inclination), ("caster", axle.kingpin.caster)):
        if lean is not None and abs(lean.value) >= pi / 4:
            yield Fault("", (*key, "kingpin", name), None, lean.text, "a lean of less than 45 deg either way")
    inset = axle.kingpin.inset
    if inset is not None and axle.face_to_face is not None and abs(inset.value) >= axle.face_to_face.value / 2:
        accepted = f"less than half the face-to-face width, {axle.face_to_face.text}"
        yield Fault("", (*key, "kingpin", "inset"), None, inset.text, accepted, ((*key, "face_to_face"),))


def _stops(key: Key, axle: Axle) -> Iterator[Fault]:
    """An outer wheel that turns further than the inner one, all tolerances counted: the two readings are swapped."""
    inner, outer = axle.steering.stop_angle, axle.steering.stop_angle_out
    if inner is not None and outer is not None and outer.low > inner.high:
        accepted = f"no more than the inner wheel's {inner.text}; are the two swapped?"
        yield Fault(
            "", (*key, "steering", "stop_angle_out"), None, outer.text, accepted, ((*key, "steering", "stop_angle"),)
        )


def _unlikely(project: Project) -> Iterator[Fault]:
    """A range the wrong way round, and a truck that passes under no bridge."""
    lowest, highest = project.use.lowest_cruise_engine_speed, project.use.highest_cruise_engine_speed
    if lowest is not None and highest is not None and lowest.value > highest.value:
        accepted = f"no more than the highest, {highest.text}; are the two swapped?"
        against: tuple[Key, ...] = (("use", "highest_cruise_engine_speed"),)
        yield Fault("", ("use", "lowest_cruise_engine_speed"), None, lowest.text, accepted, against)
    height = project.vehicle.overall_height
    if height is not None and height.value > TALLEST:
        accepted = f"no more than {TALLEST:g} m; is it the right unit?"
        yield Fault("", ("vehicle", "overall_height"), None, height.text, accepted)


def _repeated(key: Key, names: list[str | None]) -> Iterator[Fault]:
    seen: dict[str, int] = {}
    for index, name in enumerate(names):
        if name is None:
            continue
        first = seen.setdefault(name, index)
        if first != index:
            other: tuple[Key, ...] = ((*key, first),)
            yield Fault("two have the same name", (*key, index), None, name, "a name of its own for each", other)
