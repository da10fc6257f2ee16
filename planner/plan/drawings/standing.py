"""How the truck stands on one set of wheels: each wheel, and how much higher than found the body is over each axle."""

from typing import NamedTuple

from planner.plan.drawings.drawn_values import known_values
from planner.plan.drawings.scene import Spot
from planner.plan.truck.project import OpenProject

WHEEL = ("overall_diameter", "static_loaded_radius")


class StandingWheel(NamedTuple):
    """The wheel at one end, in m: its center seen from the side, the tire's radius, the rim's where it is known."""

    center: Spot
    radius: float
    rim: float | None


class Standing(NamedTuple):
    """The wheels by end, as far as they are known, and the rise at both; None where that is not known."""

    fitment: str
    wheelbase: float
    wheels: dict[str, StandingWheel]
    rises: tuple[float, float] | None

    def raised(self, spot: Spot) -> Spot:
        """Where a point of the body is that stood there as found: on the line through both axles' rises."""
        front, rear = self.rises or (0.0, 0.0)
        return spot[0], spot[1] + front + (rear - front) * -spot[0] / self.wheelbase


def standing(opened: OpenProject, fitment: str, wheelbase: float) -> Standing:
    """As found nothing has risen, whatever is known."""
    wheels: dict[str, StandingWheel] = {}
    for axle, x in (("front", 0.0), ("rear", -wheelbase)):
        diameter, loaded, rim = known_values(opened, fitment, axle, *WHEEL, "specified_rim_diameter")
        if diameter is not None and loaded is not None:
            wheels[axle] = StandingWheel((x, min(loaded, diameter / 2)), diameter / 2, rim / 2 if rim else None)
    rises = [known_values(opened, fitment, axle, "rise")[0] for axle in ("front", "rear")]
    known = (0.0, 0.0) if fitment == "found" else None
    return Standing(fitment, wheelbase, wheels, known if None in rises else (rises[0], rises[1]))
