"""What a person wants from the build, and what can be had for it."""

from planner.screens.places.folded_place import FoldedPlace

TITLES = {"wishes": "what you want: a range, one value, or as large as clears", "offered": "what you can get"}


class WishesPlace(FoldedPlace):
    PLACE = "wishes"
    NEW = "thing you can get"

    def roots(self) -> tuple[str, ...]:
        return tuple(TITLES)

    def table_title(self, table: str) -> str:
        return TITLES.get(table, table)

    def fold_words(self, table: str) -> tuple[str, str]:
        offered = self.state.opened.project.offered
        at = int(table.partition("[")[2].rstrip("]"))
        one = offered[at] if at < len(offered) else None
        return (one.name or one.kind or table, one.kind or "") if one is not None else (table, "")

    def add_named(self, name: str | None) -> None:
        if name:
            thing = f"offered[{len(self.state.opened.project.offered)}]"
            self.set_now(f"{thing}.name", name, f"{thing}.kind")
