"""What the worksheet costs over calling its functions by hand, and a single edit over everything.

    (cd tests && python -m benchmarks.bench_recalculate [PROJECT])

"By hand" is the same functions on the same values, each call written out with its arguments already fetched.
"""

import time
from collections.abc import Callable
from functools import partial

from benchmarks.ratio import Asked, Ratio, run

from planner.plan.answers.open_project import open_project
from planner.project.faults import as_key
from planner.quantities.quantity import Quantity
from planner.worksheet.cells import laid
from planner.worksheet.outcome import Spot

SHARES = (0.5, 0.9, 0.95, 1.0)


def best(action: Callable[[], object], rounds: int) -> float:
    taken = []
    for _ in range(rounds):
        began = time.process_time()
        action()
        taken.append(time.process_time() - began)
    return min(taken)


def measured(asked: Asked) -> list[Ratio]:
    opened = open_project(asked.project)
    sheet = opened.sheet
    cells = sheet._cells
    straight = [call for call in (laid(cells, at) for at in cells.order) if call is not None]
    calls = [(call, tuple(cells.values[slot] for slot in slots)) for call, slots, _ in straight]

    def by_hand() -> None:
        for call, arguments in calls:
            call(*arguments)

    def edit(spot: Spot, one: Quantity, two: Quantity) -> None:
        sheet.change({spot: two})
        sheet.change({spot: one})

    hand, again = best(by_hand, asked.times(200)), best(sheet.rework, asked.times(200))
    edits = []
    for spot, key in opened.keys.items():
        given = sheet.given(spot)
        if isinstance(given, Quantity):
            other = Quantity(given.value * 1.0001, given.tolerance, given.text)
            edits.append((best(partial(edit, spot, given, other), asked.times(5)) / 2, as_key(key)))
    edits.sort()
    return [
        Ratio(f"the worksheet of {len(calls)} calls", again / hand, "by hand", again, wanted=3),
        *(
            Ratio(f"{share:.0%} of single edits, the last {key},", taken / again, "everything again", taken, wanted=0.2)
            for share, (taken, key) in (
                (share, edits[min(len(edits) - 1, int(share * len(edits)))]) for share in SHARES
            )
        ),
    ]


if __name__ == "__main__":
    run(measured, __doc__)
