"""Limits and assumed values that a person knows better, each with a reason."""

from collections.abc import Iterator
from itertools import groupby

from planner.plan.truck.forms import Field
from planner.screens.places.facts_place import FactsPlace
from planner.screens.widgets.columns import ListRow, heading

TITLES = {"limits": "limits", "assumptions": "assumed values"}


class LimitsPlace(FactsPlace):
    PLACE = "limits"
    ROOTS = tuple(TITLES)

    def entry_rows(self) -> Iterator[ListRow]:
        """A row for each, and one for the reason of what a person set."""
        for root, shown in groupby(self.shown_fields(), lambda one: one.table.partition(".")[0]):
            yield heading(TITLES[root])
            for _, entries in groupby(shown, lambda one: one.table):
                yield from self._one(list(entries))

    def _one(self, entries: list[Field]) -> Iterator[ListRow]:
        is_set = any(one.written for one in entries)
        for one in entries:
            row = self.field_row(one)
            if one.wants.kind is not None:
                yield row
            elif is_set:
                yield row._replace(name=f"  {one.label}: {row.value}", value="")
