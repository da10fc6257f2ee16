"""The wheel of the fitment in view: the one that suits tire, hub, brake and body."""

from planner.screens.fitment import FitmentPlace


class WheelPlace(FitmentPlace):
    PLACE = "wheel"
    SUBJECTS = ("wheel", "bolts")
    PART = "wheel"
