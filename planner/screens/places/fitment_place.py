"""A place that shows one part, tire or wheel, of one fitment: a candidate, or what was found on the truck."""

from typing import ClassVar

from planner.plan.truck.forms import Field
from planner.project.faults import as_key
from planner.quantities.text import clean
from planner.screens.places.facts_place import FactsPlace


class FitmentPlace(FactsPlace):
    """`PART` is the table of a fitment that is shown; what differs at one axle comes after what serves both."""

    PART: ClassVar[str] = ""
    NEW = "candidate"

    @property
    def root(self) -> str:
        return as_key(("fitments", self.planner.fitment))

    def roots(self) -> tuple[str, ...]:
        ends = (f"{self.root}.{axle}.{self.PART}" for axle in ("front", "rear"))
        return (f"{self.root}.{self.PART}", *ends)

    def shown_fields(self) -> list[Field]:
        """What differs at an axle is shown where something was entered for it: most trucks have one size all round."""
        shown = super().shown_fields()
        differing = {one.table for one in shown if one.written}
        whole = f"{self.root}.{self.PART}"
        return [one for one in shown if one.table == whole or one.table in differing]

    def table_title(self, table: str) -> str:
        fitment = clean(self.planner.fitment)
        called = "as found" if fitment == "found" else f"candidate {fitment}"
        axle = next((end for end in ("front", "rear") if f".{end}." in table), "")
        return f"{self.PART} · {called}{f', {axle}' if axle else ''}   (F9: another)"

    def has(self, key: str) -> bool:
        """An entry of any fitment: the place turns to that one."""
        parts = key.split(".")
        return parts[0] == "fitments" and self.PART in parts

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
