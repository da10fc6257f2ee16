"""Why a list of work cannot be put in order: a circle, a name that is not there, a name used twice."""

from collections.abc import Sequence

from planner.plan.truck.project import OpenProject
from planner.project.faults import Fault
from planner.project.lines import Key, line_of
from planner.quantities.text import clean


class ScheduleError(ValueError):
    """Jobs that cannot be put in order; the text is a line for the person, `jobs` are those that it speaks of."""

    jobs: tuple[str, ...] = ()


class CircularWaits(ScheduleError):
    """Jobs that wait on each other: `circle` in order, each waiting on the next and the last on the first."""

    def __init__(self, circle: Sequence[str]) -> None:
        steps = [f"{one} waits on {other}" for one, other in zip(circle, (*circle[1:], circle[0]), strict=True)]
        super().__init__(", ".join(steps))
        self.circle = self.jobs = tuple(circle)


class NoSuchJob(ScheduleError):
    """A wait on a job that is not there."""

    def __init__(self, job: str, missing: str) -> None:
        super().__init__(f"{job} names {missing}, which isn't there")
        self.job, self.missing = job, missing
        self.jobs = (job,)


class TwiceNamed(ScheduleError):
    """Two jobs or deliveries of one id."""

    def __init__(self, id_: str) -> None:
        super().__init__(f"two are called {id_}")
        self.id = id_
        self.jobs = (id_,)


def as_fault(opened: OpenProject, stuck: ScheduleError) -> Fault:
    """What holds the list up, with the place of the person's own task that it speaks of."""
    ids = [clean(task.id or "") for task in opened.project.tasks]
    at = next((ids.index(job) for job in stuck.jobs if job in ids), None)
    key: Key = ("tasks",) if at is None else ("tasks", at)
    return Fault(f"the tasks can't be put in order: {stuck}", key, line_of(opened.opened.source.lines, key))
