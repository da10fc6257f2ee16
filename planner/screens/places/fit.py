"""Whether it touches, where, and what would make it not touch."""

from collections.abc import Iterator

from planner.plan.figures import value_text
from planner.plan.placing import where
from planner.screens.facts import FactsPlace
from planner.screens.ledger import Row, heading
from planner.worksheet.outcome import Spot

SWEPT = (
    ("least_clearance", "clearance_place"),
    ("inner_steer_limit", "inner_steer_binds"),
    ("outer_steer_limit", "outer_steer_binds"),
    ("window_width", "window_words"),
    ("largest_tire", "largest_tire_binds"),
)


class FitPlace(FactsPlace):
    PLACE = "fit"
    SUBJECTS = ("fit", "fender", "steering")

    def roots(self) -> tuple[str, ...]:
        return ()

    def entry_rows(self) -> Iterator[Row]:
        opened = self.state.opened
        for node, beside in SWEPT:
            spots = [spot for spot in opened.sheet.spots(node) if spot.place[0] in opened.planned]
            if spots:
                yield heading(f"swept: {node.replace('_', ' ')}")
            for spot in spots:
                place = opened.swept.results.get(Spot(beside, spot.place), "")
                yield Row(
                    where(spot.place, alone=len(opened.planned) == 1),
                    value_text(opened, spot),
                    str(place),
                    spot=spot,
                    about=(node, spot.place),
                )
