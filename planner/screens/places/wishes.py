"""What a person wants from the build, and what can be had for it."""

from planner.screens.places.folded_place import Fold, FoldedPlace

TITLES = {"wishes": "what you want: a range, one value, or as large as clears", "offered": "what you can get"}


class WishesPlace(FoldedPlace):
    PLACE = "wishes"
    ROOTS = tuple(TITLES)
    NEW = "thing you can get"

    def table_title(self, table: str) -> str:
        return TITLES.get(table, table)

    def fold_words(self, fold: Fold) -> tuple[str, str]:
        offered = self.state.opened.project.offered
        one = offered[fold.at] if fold.at < len(offered) else None
        return (one.name or one.kind or fold.key, one.kind or "") if one is not None else (fold.key, "")

    def add_named(self, name: str | None) -> None:
        if name:
            thing = f"offered[{len(self.state.opened.project.offered)}]"
            self.set_now(f"{thing}.name", name, f"{thing}.kind")
