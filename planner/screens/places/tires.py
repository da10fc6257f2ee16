"""The tire of the fitment in view: its size, its rating, the rim it wants, its age."""

from planner.screens.fitment import FitmentPlace


class TiresPlace(FitmentPlace):
    PLACE = "tires"
    SUBJECTS = ("tire", "loads")
    PART = "tire"
