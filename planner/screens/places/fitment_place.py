"""A place that shows one part, tire or wheel, of one fitment: a candidate, or what was found on the truck."""

from collections.abc import Iterator
from typing import ClassVar

from planner.plan.truck.forms import Field
from planner.plan.truck.pairs import has_pairs
from planner.project.faults import as_key
from planner.project.models.entry import entries
from planner.project.models.fitments import End
from planner.quantities.text import clean
from planner.screens.places.facts_place import FactsPlace
from planner.screens.widgets.columns import ListRow
from planner.screens.widgets.row_list import RowList

ENDS = ("front", "rear")
EACH = "each end"


class FitmentPlace(FactsPlace):
    """`PART` is the table of a fitment that is shown; what differs at one axle comes after what serves both.

    `IN_PAIRS` are tables that are shown after it where two wheels stand side by side, `OWN` entries of the set itself.
    """

    PART: ClassVar[str] = ""
    IN_PAIRS: ClassVar[tuple[str, ...]] = ()
    OWN: ClassVar[tuple[str, ...]] = ()
    NEW = "candidate"

    def __init__(self) -> None:
        super().__init__()
        self._each_end = False  # whether what is entered for one axle alone is shown where nothing is

    @property
    def root(self) -> str:
        return as_key(("fitments", self.planner.fitment))

    def roots(self) -> tuple[str, ...]:
        places = [self.root, *(f"{self.root}.{axle}" for axle in ENDS)]
        own = [f"{self.root}.{name}" for name in self.OWN]
        own += [f"{self.root}.{axle}.{name}" for axle in ENDS for name in self.OWN if name in entries(End)]
        return (*(f"{place}.{part}" for part in self.parts() for place in places), *own)

    def parts(self) -> tuple[str, ...]:
        """The tables of the fitment in view that are shown."""
        opened, fitment = self.state.opened, self.planner.fitment
        return (self.PART, *(self.IN_PAIRS if self._each_end or has_pairs(opened, fitment) else ()))

    def shown_fields(self) -> list[Field]:
        """What differs at an axle is shown where something was entered for it: most trucks have one size all round."""
        shown = super().shown_fields()
        if self._each_end:
            return shown
        differing = {one.table for one in shown if one.written}
        ends = tuple(f"{self.root}.{axle}." for axle in ENDS)
        return [one for one in shown if not one.key.startswith(ends) or one.table in differing]

    def entry_rows(self) -> Iterator[ListRow]:
        yield from super().entry_rows()
        if len(self.shown_fields()) < len(super().shown_fields()) or self._each_end:
            fold = "▾" if self._each_end else "▸"
            yield ListRow(f"{fold} front or rear by itself", f"the {self.PART} of one axle, if it differs", about=EACH)

    def on_row_list_chosen(self, event: RowList.Chosen) -> None:
        if event.row.about == EACH:
            self._each_end = not self._each_end
            self.fill()
        else:
            super().on_row_list_chosen(event)

    def table_title(self, table: str) -> str:
        fitment = clean(self.planner.fitment)
        called = "as found" if fitment == "found" else f"candidate {fitment}"
        axle = next((end for end in ENDS if f".{end}." in table), "")
        part = "the set" if table == self.root else table.rpartition(".")[2]
        return f"{part} · {called}{f', {axle}' if axle else ''}   (F9: another)"

    def has(self, key: str) -> bool:
        """An entry of any fitment: the place turns to that one."""
        _, inner = self.in_fitment(key)
        return bool(inner) and inner[inner[0] in ENDS] in (self.PART, *self.IN_PAIRS, *self.OWN)

    def show_entry(self, key: str) -> bool:
        self.turn_to(key)
        if super().show_entry(key) or self._each_end:
            return super().show_entry(key)
        self._each_end = True
        self.fill()
        return super().show_entry(key)

    def add_named(self, name: str | None) -> None:
        if name:
            self.edit_new(f"{as_key(('fitments', name))}.tire.designation")
