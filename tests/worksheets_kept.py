"""What a tolerance does to a figure worked out once: another worksheet with the same entries behind it has the same.

Tests open one truck hundreds of times, or with one entry changed. A figure's spread rests on the entries behind it,
each as it was read and where it was made, and on the formulas in between: by those it is kept. What has no value, and
what is waited for, is asked of each worksheet itself. The worksheet's own tests keep nothing (`worksheet/conftest.py`).
"""

from collections import OrderedDict
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any
from unittest import mock
from weakref import WeakKeyDictionary

from planner.worksheet.layout import Layout
from planner.worksheet.outcome import Known, Outcome, Spot
from planner.worksheet.sheet import Worksheet

LAYOUTS = 24  # each has outcomes of its own

_KEPT: OrderedDict[int, tuple[Layout, dict[tuple[int, int], Known]]] = OrderedDict()
_prints: WeakKeyDictionary[Worksheet, dict[int, int]] = WeakKeyDictionary()
_outcome, _change, _rework = Worksheet.outcome, Worksheet.change, Worksheet.rework


def print_of(sheet: Worksheet, at: int, known: dict[int, int]) -> int:
    """Equal for two steps only if all that their values and spreads rest on is."""
    if at not in known:
        cells, given = sheet._cells, sheet._cells.given[at]
        if given is not None:
            root = sheet._root(at)
            known[at] = hash((repr(given), root, sheet._source(root)))
        elif cells.troubles[at] is not None:
            known[at] = 0  # whoever reads it takes its default
        else:
            slots = cells.layout.steps[at].slots
            known[at] = hash(tuple(print_of(sheet, slot, known) if slot >= 0 else 0 for slot in slots))
    return known[at]


def outcome(sheet: Worksheet, spot: Spot) -> Outcome:
    at = sheet.layout.index[spot]
    if at in sheet._outcomes or sheet._cells.troubles[at] is not None:
        return _outcome(sheet, spot)
    layout, kept = _KEPT.setdefault(id(sheet.layout), (sheet.layout, {}))
    assert layout is sheet.layout
    _KEPT.move_to_end(id(layout))
    if len(_KEPT) > LAYOUTS:
        _KEPT.popitem(last=False)
    key = at, print_of(sheet, at, _prints.setdefault(sheet, {}))
    if key not in kept:
        found = _outcome(sheet, spot)
        if isinstance(found, Known):
            kept[key] = found
        return found
    sheet._outcomes[at] = kept[key]
    return kept[key]


def changed(sheet: Worksheet, edits: Any) -> Any:
    _prints.pop(sheet, None)
    return _change(sheet, edits)


def reworked(sheet: Worksheet) -> None:
    _prints.pop(sheet, None)
    _rework(sheet)


@contextmanager
def kept() -> Iterator[None]:
    with mock.patch.multiple(Worksheet, outcome=outcome, change=changed, rework=reworked):
        yield


@contextmanager
def none_kept() -> Iterator[None]:
    """Every outcome worked out, as the program does it."""
    with mock.patch.multiple(Worksheet, outcome=_outcome, change=_change, rework=_rework):
        yield
