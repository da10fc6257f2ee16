"""What the worksheet costs over calling its functions by hand, and a single edit over everything: prints ratios.

    python tests/benchmarks/bench_recalculate.py [PROJECT]

"By hand" is the same functions on the same values, each call written out with its arguments already fetched.
"""

import sys
import time
from pathlib import Path

from planner.plan.answers.open_project import open_project
from planner.quantities.quantity import Quantity
from planner.worksheet.cells import laid
from planner.worksheet.outcome import Spot

HERE = Path(__file__).resolve().parents[2]


def best(action, rounds: int = 200) -> float:
    taken = []
    for _ in range(rounds):
        began = time.process_time_ns()
        action()
        taken.append(time.process_time_ns() - began)
    return min(taken) / 1e3


def main() -> None:
    path = Path(sys.argv[1]) if len(sys.argv) > 1 else HERE / "projects" / "county-road-4x4.toml"
    opened = open_project(path)
    sheet = opened.sheet
    cells = sheet._cells
    known = [laid(cells, at) for at in cells.order]
    straight = [call for call in known if call is not None]
    calls = [(call, tuple(cells.values[slot] for slot in slots)) for call, slots, _ in straight]

    def by_hand() -> None:
        for call, arguments in calls:
            call(*arguments)

    hand, again = best(by_hand), best(sheet.rework)
    print(f"{len(calls)} calls by hand {hand:.0f} us, the worksheet {again:.0f} us: {again / hand:.2f} x (wanted: 3 x)")
    ratios = []
    for spot, key in opened.keys.items():
        given = sheet.given(spot)
        if not isinstance(given, Quantity):
            continue
        other = Quantity(given.value * 1.0001, given.tolerance, given.text)

        def edit(spot: Spot = spot, one: Quantity = given, two: Quantity = other) -> None:
            sheet.change({spot: two})
            sheet.change({spot: one})

        ratios.append((best(edit, 5) / 2 / again, ".".join(key)))
    ratios.sort()
    print(f"{len(ratios)} single edits against everything again (wanted: 0.2 x)")
    for share in (0.5, 0.9, 0.95, 1.0):
        ratio, key = ratios[min(len(ratios) - 1, int(share * len(ratios)))]
        print(f"  {share:4.0%} of them at most {ratio:.3f} x   ({key})")


if __name__ == "__main__":
    main()
