"""Limits and assumed values that a person knows better, each with a reason."""

from planner.screens.facts import FactsPlace


class LimitsPlace(FactsPlace):
    PLACE = "limits"

    def roots(self) -> tuple[str, ...]:
        return ("limits", "assumptions")
