"""A mock-up reading as it stands to the sweep: what it proves of an obstacle, or that it contradicts the entries."""

from typing import Literal, NamedTuple

from planner.project.mock_ups import BrakeGap, MockUp
from planner.quantities.quantity import Band

Answer = Literal["agrees", "differs", "not known"]


class Moved(NamedTuple):
    """What moved under a reading since it was taken, in words: of the wheel that was on, and of all else."""

    wheel: str = ""
    truck: str = ""


class HeldMockUp(NamedTuple):
    """One reading against the sweep of its own candidate: what is `predicted` of its side, and what it proves.

    `why` says why it is not held against anything, or why one that agrees proves nothing yet. `least` is what the
    clearance cannot be under in service, None where not everything was reached or said: `missing` has what. `most` is
    what it cannot be over, None where the wheel may have gone further than the plan lets it. `off` is taken off what
    was read. `margin` is how far it lies within what can be, below nothing where no truck has both, None where it says
    nothing. `rests_on` are the entries that the prediction rests on most.
    """

    taken: MockUp | BrakeGap
    label: str
    axle: str
    answer: Answer
    why: str = ""
    predicted: Band | None = None
    least: float | None = None
    most: float | None = None
    missing: tuple[str, ...] = ()
    off: tuple[tuple[str, float], ...] = ()
    margin: float | None = None
    rests_on: tuple[str, ...] = ()

    @property
    def fitment(self) -> str:
        return self.taken.reading.fitment or ""

    @property
    def called(self) -> str:
        """What people call the place that it is at."""
        return f"{self.axle} brake" if isinstance(self.taken, BrakeGap) else self.label

    @property
    def side(self) -> str:
        return self.taken.reading.side or ""

    def proves(self, fitment: str, label: str) -> bool:
        """Whether it proves anything of an obstacle past this candidate's wheel."""
        return self.answer == "agrees" and not self.why and (self.fitment, self.label) == (fitment, label)
