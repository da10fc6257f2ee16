"""Which missing entries decide most: ranked by the rules that wait for them, with the task that settles each."""

from collections.abc import Sequence
from typing import NamedTuple

from planner.plan.answers.flagging import Flag
from planner.plan.truck.project import OpenProject
from planner.plan.truck.wording import count
from planner.project.facts import entrance_at, entrance_of
from planner.quantities.text import clean
from planner.tasks.kind import StandingTask
from planner.tasks.sequence import asked_for, id_at, standing

WEIGHT = {"stop": 9, "caution": 3, "note": 1}  # so that no two cautions come before a stop


class WantedEntry(NamedTuple):
    """A missing entry: its key, as people read it too, what it is, and the rules that wait for it.

    `alone` are those rules that wait for nothing else; `task` is the id of the task that settles it and `title` what
    that says, both empty where none does.
    """

    key: str
    spoken: str
    means: str
    rules: tuple[str, ...]
    alone: tuple[str, ...]
    weight: int
    counts: tuple[str, ...]  # `2 stops`, `1 caution`
    waiting: str  # `2 stops and 1 caution wait`
    task: str = ""
    title: str = ""

    @property
    def is_measured(self) -> bool:
        """Whether it is read off the truck, and not decided."""
        return self.task.startswith(("measure.", "safe.")) or self.key.startswith("obstacles")


def measure_next(opened: OpenProject, found: Sequence[Flag]) -> list[WantedEntry]:
    """Every entry that a rule waits for, the one that decides most first; one that another contradicts was made.

    What counts is how many rules wait for it, the grave ones more; then how many wait for nothing else; then the order
    in which the tasks are done.
    """
    waiting: dict[str, dict[str, str]] = {}  # by key, the severity of each rule by its name
    alone: dict[str, dict[str, None]] = {}
    for flag in found:
        if flag.verdict.answer == "not known":
            for need in flag.needs:
                if need in opened.at_odds:
                    continue
                waiting.setdefault(need, {})[flag.rule.name] = flag.rule.severity
                if len(flag.needs) == 1:
                    alone.setdefault(need, {})[flag.rule.name] = None
    turn = {task.id: at for at, task in enumerate(standing())}
    wanted = [_wanted(opened, key, rules, tuple(alone.get(key, ()))) for key, rules in waiting.items()]

    def place(pair: tuple[WantedEntry, StandingTask | None]) -> tuple[int, int, int, str]:
        one, task = pair
        return -one.weight, -len(one.alone), turn[task.id] if task else len(turn), one.key

    return [one for one, _ in sorted(wanted, key=place)]


def waiting_at_odds(opened: OpenProject, found: Sequence[Flag]) -> dict[tuple[str, ...], tuple[str, ...]]:
    """By the keys of entries that contradict each other the rules that are not known for it: one line for one cause."""
    waiting: dict[tuple[str, ...], dict[str, None]] = {}
    for flag in found:
        for need in flag.needs if flag.verdict.answer == "not known" else ():
            if need in opened.at_odds:
                waiting.setdefault(tuple(sorted({need, *opened.at_odds[need]})), {})[flag.rule.name] = None
    return {keys: tuple(rules) for keys, rules in waiting.items()}


def _wanted(
    opened: OpenProject, key: str, rules: dict[str, str], alone: tuple[str, ...]
) -> tuple[WantedEntry, StandingTask | None]:
    own = opened.truck_key_of(key)
    found = entrance_of(key) if own is None else entrance_at(tuple(map(str, own)))
    severities = list(rules.values())
    told = [count(severities.count(one), one) for one in WEIGHT if one in severities]
    counted = " and ".join([", ".join(told[:-1]), told[-1]] if told[1:] else told)
    wanted = WantedEntry(
        key,
        opened.spoken(key),
        found[0].note.means if found else _measuring(opened, key),
        tuple(rules),
        alone,
        sum(WEIGHT[one] for one in severities),
        tuple(told),
        f"{counted} {'waits' if len(severities) == 1 else 'wait'}",
    )
    if found is None or own is not None:
        return wanted, None
    entrance, at = found
    tasks = asked_for(entrance.fact, found=at.get("fitment", "found") == "found")
    if not tasks:
        return wanted, None
    axle = "" if tasks[0].per == "truck" else at.get("axle", "")
    return wanted._replace(task=id_at(tasks[0], axle), title=tasks[0].title), tasks[0]


def _measuring(opened: OpenProject, key: str) -> str:
    """How an obstacle is measured, by the person's own words."""
    label = next((label for label, one in opened.obstacles.items() if key.startswith(f"{one.key}.")), "")
    return clean(opened.obstacles[label].measured.measure or "") if label else ""
