"""What stands against a hold point and against an order: stops that are raised, or too close to call.

No reason helps against them. A stop holds back the parts that it would make wrong, never those that cure it. One that
is not known is signed over only with a reason: the program cannot judge every truck, and the person can look.
"""

from collections.abc import Iterable, Mapping, Sequence

from planner.plan.answers.flagging import STANDING, Flag, of_plan
from planner.plan.truck.wording import count
from planner.plan.work.dependencies import all_before, standing_task_of
from planner.plan.work.item import Item
from planner.plan.work.measured_twice import AGAIN, once_words
from planner.plan.work.parts import NeededPart, by_title, matching_parts
from planner.project.models.work import Task
from planner.quantities.text import clean, normal_name
from planner.tasks.kind import StandingTask

# What a stop of these rules would make wrong, by what its part is called or is: all else is no worse for it.
MADE_WRONG = {
    "wheels": ("fit.", "wheel.", "brakes.", "tire.", "steering.", "loads."),
    "tires": ("fit.", "tire.", "stance.", "brakes.", "wheel.rim_", "wheel.bead_", "wheel.spacing_", "wheel.sidewalls_"),
    "gears": ("gearing.",),
}


MOST_NAMED = 4  # entries that are asked for in one line


def open_stops(found: Iterable[Flag], rules: Sequence[str], answers: Sequence[str] = STANDING) -> tuple[Flag, ...]:
    """The stops of rules whose names begin so with one of these answers; those that stand, if none is said.

    A rule of the plan itself is among them only by its own name.
    """
    return tuple(
        flag
        for flag in found
        if rules
        and flag.rule.severity == "stop"
        and (flag.rule.name in rules if of_plan(flag.rule) else flag.rule.name.startswith(tuple(rules)))
        and flag.verdict.answer in answers
    )


def stops_against(found: Iterable[Flag], task: StandingTask | None) -> tuple[Flag, ...]:
    """The stops that stand against signing a hold point."""
    return open_stops(found, task.guards) if task is not None else ()


def not_known_words(lost: Sequence[Flag]) -> str:
    """How many they are, and what to enter for them."""
    rules = len({flag.rule.name for flag in lost})
    wants = list(dict.fromkeys(clean(want) for flag in lost for want in flag.wants))
    more = f" and {len(wants) - MOST_NAMED} more" if len(wants) > MOST_NAMED else ""
    troubles = dict.fromkeys(clean(flag.verdict.trouble) for flag in lost if flag.verdict.trouble)
    told = [f"enter {', '.join(wants[:MOST_NAMED])}{more}"] if wants else []
    return f"{count(rules, 'stop')} it guards against can't be judged yet: {'; '.join([*troubles, *told])}"


def stops_in_words(stops: Sequence[Flag], at: str = "") -> str:
    """`rear: the barrel is too close to the brake (too close to call); ...`, without the place that is `at` hand."""
    return "; ".join(dict.fromkeys(flag.told(at) for flag in stops))


def why_not_sign(one: Item, items: Mapping[str, Item]) -> str:
    """What stands against signing a hold point, whatever reason is given; empty where nothing does."""
    if one.stops:
        return f"{clean(one.id)} can't be signed while there's a stop: {stops_in_words(one.stops)}"
    if one.once:
        return f"{clean(one.id)} can't be signed yet: {once_words(one.once)}; {AGAIN}"
    if one.stage is not None and one.stage.counts_on:
        return f"{clean(one.id)} can't be signed: {'; '.join(one.stage.counts_on)}"
    again = [*_decisions_again(one, items), *(f"'{question}'" for question in one.undecided)] if one.guards else []
    return f"{clean(one.id)} can't be signed until you look at {', '.join(again)} again" if again else ""


def _decisions_again(one: Item, items: Mapping[str, Item]) -> list[str]:
    """The decisions somewhere before a task that are to be looked at again."""
    before = all_before(one.id, items)
    decisions = (each for id_, each in items.items() if id_ in before and each.phase == "decide" and not each.hold)
    return [clean(each.id) for each in decisions if each.state == "look again"]


def can_be_wrong(need: NeededPart) -> list[str]:
    """What a part is of all that a stop can make wrong: wheels, tires, gears."""
    return [name for name in MADE_WRONG if matching_parts([need], (name,))]


def made_wrong_by(need: NeededPart, found: Iterable[Flag]) -> tuple[Flag, ...]:
    """The open stops by which a part would be ordered wrong."""
    rules = tuple(rule for name in can_be_wrong(need) for rule in MADE_WRONG[name])
    return open_stops(found, rules) if rules else ()


def ordered_wrong(need: NeededPart, found: Iterable[Flag]) -> str:
    """Why a part would be ordered wrong, whatever reason is given; empty where no stop says so."""
    stops = made_wrong_by(need, found)
    told = [name for name in can_be_wrong(need) if by_title(need, name)]
    taken = f" (taken for {' and '.join(told)} by its title: enter its kind if it is something else)" if told else ""
    words = f"{need.called}{taken} would be ordered wrong while there's a stop: {stops_in_words(stops)}"
    return words if stops else ""


def guarding_task(record: Task) -> StandingTask | None:
    """The hold point that a record signed, where it guards anything."""
    placed = standing_task_of(normal_name(record.id or "")) if record.state == "done" else None
    return placed[0] if placed is not None and placed[0].guards else None
