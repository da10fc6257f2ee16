"""Why a list of work cannot be put in order: a circle, a name that is not there, a name used twice."""

from collections.abc import Sequence


class Unschedulable(ValueError):
    """Jobs that cannot be put in order; the text is a line for the person."""


class CircularWaits(Unschedulable):
    """Jobs that wait on each other: `circle` in order, each waiting on the next and the last on the first."""

    def __init__(self, circle: Sequence[str]) -> None:
        steps = [f"{one} waits on {other}" for one, other in zip(circle, (*circle[1:], circle[0]), strict=True)]
        super().__init__(", ".join(steps))
        self.circle = tuple(circle)


class NoSuchJob(Unschedulable):
    """A wait on a job that is not there."""

    def __init__(self, job: str, missing: str) -> None:
        super().__init__(f"{job} names {missing}, which is not there")
        self.job, self.missing = job, missing


class TwiceNamed(Unschedulable):
    """Two jobs or deliveries of one id."""

    def __init__(self, id_: str) -> None:
        super().__init__(f"two are called {id_}")
        self.id = id_
