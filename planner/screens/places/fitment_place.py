"""A place that shows one part, tire or wheel, of one fitment: a candidate, or what was found on the truck."""

from typing import ClassVar

from planner.plan.truck.forms import Field
from planner.plan.truck.pairs import has_pairs
from planner.project.faults import as_key
from planner.quantities.text import clean
from planner.screens.places.facts_place import FactsPlace


class FitmentPlace(FactsPlace):
    """`PART` is the table of a fitment that is shown; what differs at one axle comes after what serves both.

    `IN_PAIRS` are tables that are shown after it where two wheels stand side by side.
    """

    PART: ClassVar[str] = ""
    IN_PAIRS: ClassVar[tuple[str, ...]] = ()
    NEW = "candidate"

    @property
    def root(self) -> str:
        return as_key(("fitments", self.planner.fitment))

    def roots(self) -> tuple[str, ...]:
        places = [self.root, *(f"{self.root}.{axle}" for axle in ("front", "rear"))]
        return tuple(f"{place}.{part}" for part in self.parts() for place in places)

    def parts(self) -> tuple[str, ...]:
        """The tables of the fitment in view that are shown."""
        opened, fitment = self.state.opened, self.planner.fitment
        return (self.PART, *(self.IN_PAIRS if has_pairs(opened, fitment) else ()))

    def shown_fields(self) -> list[Field]:
        """What differs at an axle is shown where something was entered for it: most trucks have one size all round."""
        shown = super().shown_fields()
        differing = {one.table for one in shown if one.written}
        whole = {f"{self.root}.{part}" for part in self.parts()}
        return [one for one in shown if one.table in whole or one.table in differing]

    def table_title(self, table: str) -> str:
        fitment = clean(self.planner.fitment)
        called = "as found" if fitment == "found" else f"candidate {fitment}"
        axle = next((end for end in ("front", "rear") if f".{end}." in table), "")
        return f"{table.rpartition('.')[2]} · {called}{f', {axle}' if axle else ''}   (F9: another)"

    def has(self, key: str) -> bool:
        """An entry of any fitment: the place turns to that one."""
        parts = key.split(".")
        return parts[0] == "fitments" and any(part in parts for part in (self.PART, *self.IN_PAIRS))

    def show_entry(self, key: str) -> bool:
        named = [
            name for name in self.state.opened.project.fitments if key.startswith(as_key(("fitments", name)) + ".")
        ]
        if named and named[0] != self.planner.fitment:
            self.planner.fitment = named[0]
            self.take_state()
        return super().show_entry(key)

    def add_named(self, name: str | None) -> None:
        if name:
            self.edit_new(f"{as_key(('fitments', name))}.tire.designation")
