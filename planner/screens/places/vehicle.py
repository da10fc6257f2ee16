"""The truck as a whole: its sizes and weights, what it is to do, and what the law asks."""

from planner.screens.places.facts_place import FactsPlace


class VehiclePlace(FactsPlace):
    PLACE = "vehicle"
    ROOTS = ("vehicle", "use", "legal")
