"""The truck of whole histories, and what is recorded of it through them: each takes a number to pick by."""

import datetime
from typing import Any

from planner.plan.change.task_recordings import add_task, drop_task, reopen_task, tick_task
from planner.plan.revisit.acceptances import accept as accept_flag
from planner.plan.revisit.acceptances import take_back as take_acceptance_back
from planner.plan.revisit.acceptances import why_not
from planner.plan.state import State
from planner.plan.truck.recording import Recording, RefusedChange
from planner.plan.work.decisions import choose_candidate, decide, decide_anew
from planner.plan.work.task_list import next_up
from planner.project.models.project import FORMAT

DAY = datetime.date(2026, 1, 5)
TRUCK = f"""\
# begun in spring
format = {FORMAT}
my_shed = "the second on the left"

[vehicle] # the donor
wheelbase = "145 in ± 1/2 in" # by tape

[axles.front]
rating = "4,000 lb"

[fitments.found.wheel]
pieces = "one"

[fitments.tall.wheel]
backspace = "5 in ± 1/16 in" # as ordered

[fitments.modest.wheel]
backspace = "4 in ± 1/16 in"

[[parts]]
id = "wheels"
title = "five wheels" # from the fair
price = 285
quantity = 5

[plan]
start = 2026-01-05
hours_a_week = 7

[[tasks]]
id = "own.wash"
title = "wash it"
"""


def nth(found: Any, number: int) -> Any:
    found = list(found)
    if not found:
        raise RefusedChange("there is none")
    return found[number % len(found)]


def listed(state: State) -> Any:
    if state.work is None:
        raise RefusedChange(state.schedule_error)
    return state.work


def ticked(state: State, number: int) -> Recording:
    one = nth(next_up(listed(state)), number)
    return tick_task(state.opened, listed(state), one.id, because="R. looked", anyway=True, on=DAY)


def reopened(state: State, number: int) -> Recording:
    one = nth((one for one in listed(state).items.values() if one.state in ("done", "dropped")), number)
    return reopen_task(state.opened, listed(state), one.id, "not so")


def dropped(state: State, number: int) -> Recording:
    return drop_task(state.opened, listed(state), nth(next_up(listed(state)), number).id, "no need", DAY)


def added(state: State, number: int) -> Recording:
    return add_task(state.opened, listed(state), f"paint wheel {number}", phase="fit")


def decided(state: State, number: int) -> Recording:
    return decide(state.opened, "which rim?", ["8 in", "9 in"], f"{number} in", "why", list(state.opened.keys)[:2])


def decided_anew(state: State, number: int) -> Recording:
    at, _ = nth(enumerate(state.opened.project.decisions), number)
    return decide_anew(state.opened, at, f"{number} in", "why not")


def chosen(state: State, number: int) -> Recording:
    return choose_candidate(state.opened, nth(state.opened.candidates, number), "it clears")


def accepted(state: State, number: int) -> Recording:
    return accept_flag(
        state.opened, nth((flag for flag in state.flags if not why_not(state.opened, flag)), number), "I know"
    )


def accepted_no_longer(state: State, number: int) -> Recording:
    at, _ = nth(enumerate(state.opened.project.acceptances), number)
    return take_acceptance_back(state.opened, at, "after all")


RECORDINGS = (ticked, reopened, dropped, added, decided, decided_anew, chosen, accepted, accepted_no_longer)
