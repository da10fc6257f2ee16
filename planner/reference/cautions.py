"""The page of cautions: what is not decided here, where the danger is, who decides, and every stop and hold point."""

from collections import defaultdict
from collections.abc import Iterator, Mapping
from itertools import groupby
from typing import NamedTuple

from planner.project.change_kinds import KINDS
from planner.reference.flags import NOT_GIVEN, filled
from planner.reference.markdown import code, link, page, plain, sentence, table
from planner.reference.wording import FLAGS
from planner.tasks.kind import EVERY_STOP, EVERY_WHEEL, StandingTask
from planner.tasks.sequence import standing
from planner.worksheet.catalog import Catalog
from planner.worksheet.declare import Rule

INTRO = """
**Local codes and licensed practice come first.** The planner helps to plan. It inspects nothing, approves nothing and
releases nothing for the road, and a plan on which nothing is raised is only as good as what was measured.

## What it does not decide

- Whether a part is sound. A crack, a worn thread, a rim rusted thin: somebody qualified looks at the part itself.
- Whether the law allows it. Tread cover, width, lamps, lifts, who may work on brakes and steering differ from place to
  place: the office that registers the truck says, and its limits are entered. What is filed here as law is a reading of
  some countries' rules, for finding the passage, and no legal advice.
- Whether a wheel, tire or axle carries the load. That is its maker's rating; the planner only holds loads against it.
- Whether the truck brakes, steers and holds the road. That is shown by a qualified person's road test, not by a sum.
- Which tire, which wheel, which risk. A caution that is accepted is accepted by you, with your reason.

## What it cannot know

- **Unknown is unknown.** What was not entered is never taken as zero or as good: what rests on it is *not known*, and
  a stop that cannot be judged keeps a wheel order from being sent. Nothing here is a reason to guess.
- **It knows what you measured.** An obstacle that nobody measured is not there for the sweep; a reading of the wrong
  stud is believed. Measure twice, two ways, and let another person read the tape.
- **Rubber, springs and frames give.** They are reckoned as rigid: [the method and its limits](sweep.md). Clay and a
  bare wheel come before a tire, and walking pace in a yard before the road.
- **Limits may be practice, not law.** Each rule names its ground; *from memory* means that nobody here had the
  publication open: [look it up](checks.md#grounds-known-from-memory) before you lean on it.
- **It does not watch you work.** A tick says that you say so.

Below stands, word for word, what the tasks and the rules themselves say.
"""


class Danger(NamedTuple):
    """One kind of danger: the tasks and the rules that speak of it, by name; a name that is gone fails the page."""

    title: str
    tasks: tuple[str, ...] = ()
    rules: tuple[str, ...] = ()


DANGERS = (
    Danger(
        "Rims that come apart in pieces",
        ("safe.rim_pieces", "safe.air_out", "measure.found_tires", "fit.old_rims"),
        ("wheel.multi_piece_rims", "wheel.planned_multi_piece_rims", "wheel.flap_missing_or_another_rims"),
    ),
    Danger(
        "Seating a bead",
        ("receive.count", "mock_up.mount_tires", "fit.tires"),
        (
            "tire.rim_diameters_differ",
            "tire.tube_and_rim_mismatched",
            "wheel.bead_seats_slope_otherwise",
            "wheel.radial_on_bias_rim",
            "wheel.tube_of_another_size",
            "wheel.tube_not_for_radials",
        ),
    ),
    Danger(
        "Two wheels side by side",
        ("safe.pair_air", "fit.match", "fit.inner_wheels", "again.inner_nuts"),
        ("wheel.sidewalls_too_near", "wheel.spacing_and_offset", "wheel.inner_valve_out_of_reach"),
    ),
    Danger("Jacks, stands and rolling away", ("safe.chock", "safe.stands", "measure.obstacles", "measure.lift_test")),
    Danger(
        "Wheels welded up, drilled anew or out of true",
        ("order.drawing", "receive.welds_seats", "measure.found_wheels", "receive.circle", "receive.bore"),
        ("wheel.rated_below_load", "wheel.bore_smaller_than_pilot"),
    ),
    Danger(
        "Nuts, studs and threads",
        ("safe.thread_hand", "measure.hub", "decide.nuts", "fit.studs", "fit.wheels", "again.torque_50"),
        (
            "wheel.left_hand_threads",
            "wheel.nut_thread_differs",
            "wheel.threads_nearly_interchange",
            "wheel.threads_differ_left_and_right",
            "wheel.closed_nut_bottoms",
            "wheel.seat_shape_differs",
            "wheel.thread_engagement_short",
            "wheel.studs_past_proof",
            "wheel.spacer_between",
            "wheel.spacer_nuts_short",
            "wheel.hub_studs_hold_wheel_off",
        ),
    ),
    Danger(
        "Brakes",
        ("decide.brakes", "measure.brake", "mock_up.brake_clay", "fit.brakes", "adjust.bleed", "check.hoses"),
        ("brakes.braking_force_lost", "brakes.brake_hose_short"),
    ),
    Danger(
        "Steering",
        ("measure.play", "safe.look_over", "adjust.stops", "adjust.toe", "check.steer"),
        ("fit.locks_too_wide", "steering.scrub_radius_changed", "steering.drag_link_off_level"),
    ),
    Danger(
        "Springs, gears and whatever moves",
        ("mock_up.cycle", "mock_up.full_lock", "fit.gears", "measure.axle_ratio"),
        ("gearing.shaft_joint_too_steep",),
    ),
    Danger(
        "Old tires, and tires that carry too little",
        (),
        (
            "tire.found_tires_too_old",
            "loads.found_tires_overloaded",
            "tire.carries_less_than_load",
            "tire.capacity_and_index",
        ),
    ),
    Danger("Tipping", (), ("stance.cg_not_measured", "stance.stability_fallen")),
    Danger("The first drive", ("check.sign", "road.yard", "road.low_speed", "road.qualified")),
)


def cautions_page(catalog: Catalog) -> str:
    """The whole page."""
    tasks = {task.id: task for task in standing()}
    rules = {rule.name: rule for rule in catalog.rules.values()}
    parts = (_dangers(tasks, rules), _changes(), _holds(tasks), _rest(tasks), _stops(rules))
    return page("Cautions and their limits", INTRO, *parts)


def _dangers(tasks: Mapping[str, StandingTask], rules: Mapping[str, Rule]) -> Iterator[str]:
    for danger in DANGERS:
        yield from (f"## {danger.title}", "")
        yield from (_said(tasks[name]) for name in danger.tasks)
        for name in danger.rules:
            cure = sentence(plain(filled(rules[name].cure, defaultdict(lambda: NOT_GIVEN))))
            yield f"- {link(sentence(plain(rules[name].notices)), name, FLAGS)} {cure}"
        yield ""


def _changes() -> Iterator[str]:
    yield from ("## Changes to the truck", "", "Said at the task of a change, by its kind.", "")
    for kind in KINDS:
        told = [(kind.name, kind.caution), *((step.title, step.caution) for step in kind.steps)]
        yield from (f"- *{sentence(plain(what))}* {plain(caution)}" for what, caution in told if caution)
    yield ""


def _said(task: StandingTask) -> str:
    return f"- *{sentence(plain(task.title))}* {plain(task.caution)}"


def _guards(task: StandingTask) -> str:
    guards = [f"stops of {name.removesuffix('.')}" for name in task.guards if name not in (*EVERY_STOP, *EVERY_WHEEL)]
    guards += ["every stop"] if set(EVERY_STOP) <= set(task.guards) else []
    guards += ["every wheel that came"] if set(EVERY_WHEEL) <= set(task.guards) else []
    return ", ".join(guards)


def _holds(tasks: Mapping[str, StandingTask]) -> Iterator[str]:
    yield from ("## Where work stops until somebody has signed", "")
    yield from ("Nothing behind a hold point goes on before it is signed, with a word on what was looked at.", "")
    yield from (
        "No reason signs one while a stop that it guards is raised or too close to call: its signature lapses.",
        "",
    )
    held = [(task.phase, plain(task.title), code(task.id), _guards(task)) for task in tasks.values() if task.hold]
    yield from table(("phase", "hold point", "task", "guards"), held)


def _rest(tasks: Mapping[str, StandingTask]) -> Iterator[str]:
    """The cautions that stand under no danger above, by phase."""
    told = {name for danger in DANGERS for name in danger.tasks}
    left = [task for task in tasks.values() if task.caution and task.id not in told]
    yield from ("## Every other caution of the tasks", "")
    for phase, some in groupby(left, key=lambda task: task.phase):
        yield from (f"### {phase}", "", *map(_said, some), "")


def _stops(rules: Mapping[str, Rule]) -> Iterator[str]:
    yield from ("## Every stop", "")
    yield "Do not order, fit or drive while one is raised, too close to call or not known. A stop cannot be accepted:"
    yield from ("it is cured, or what went into it was wrong and is corrected.", "")
    stops = sorted(rule.name for rule in rules.values() if rule.severity == "stop")
    rows = [(link(name, name, FLAGS), plain(rules[name].notices), plain(str(rules[name].ground))) for name in stops]
    yield from table(("stop", "raised when", "ground"), rows)
