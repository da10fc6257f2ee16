"""Limits and assumed values that a person knows better, each with a reason."""

from planner.screens.places.facts_place import FactsPlace


class LimitsPlace(FactsPlace):
    PLACE = "limits"

    def roots(self) -> tuple[str, ...]:
        return ("limits", "assumptions")
