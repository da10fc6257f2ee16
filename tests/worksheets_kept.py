"""What a tolerance does to a figure worked out once: another worksheet with the same entries behind it has the same.

Tests open one truck hundreds of times, or with one entry changed. A figure's spread rests on the entries behind it,
each as it was read and where it was made, and on the formulas in between: by those it is kept. What has no value, and
what is waited for, is asked of each worksheet itself. The worksheet's own tests keep nothing (`worksheet/conftest.py`).
"""

from collections import OrderedDict
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from typing import Any, NamedTuple
from unittest import mock
from weakref import WeakKeyDictionary

from planner.worksheet.layout import Layout
from planner.worksheet.outcome import Known, Outcome, Spot
from planner.worksheet.sheet import Worksheet
from planner.worksheet.what_if import WhatIf

LAYOUTS = 24  # each has outcomes of its own
MOST = 40_000  # outcomes of one


class Kept(NamedTuple):
    """What was worked out on one layout, and for each step the entries that can lie behind it."""

    layout: Layout
    outcomes: dict[tuple[int, int], Known]
    tried: dict[Any, Outcome]
    behind: dict[int, tuple[int, ...]]


class Trying(NamedTuple):
    """What a trial rests on: the worksheet that it was made of, its prints as they were then, those behind a step."""

    sheet: Worksheet
    prints: dict[int, int]
    made_of: Any
    behind: dict[int, int]


_KEPT: OrderedDict[int, Kept] = OrderedDict()
_prints: WeakKeyDictionary[Worksheet, dict[int, int]] = WeakKeyDictionary()
_trying: WeakKeyDictionary[WhatIf, Trying] = WeakKeyDictionary()
_outcome, _change, _rework, _what_if = Worksheet.outcome, Worksheet.change, Worksheet.rework, Worksheet.what_if
_tried = WhatIf.outcome


def kept_of(layout: Layout) -> Kept:
    kept = _KEPT.setdefault(id(layout), Kept(layout, {}, {}, {}))
    _KEPT.move_to_end(id(layout))
    if len(_KEPT) > LAYOUTS:
        _KEPT.popitem(last=False)
    for each in (kept.outcomes, kept.tried):
        if len(each) > MOST:
            each.clear()
    return kept


def entry_print(sheet: Worksheet, at: int) -> int:
    root = sheet._root(at)
    return hash((repr(sheet._cells.given[at]), root, sheet._source(root)))


def print_of(sheet: Worksheet, at: int, known: dict[int, int]) -> int:
    """Equal for two steps only if all that their values and spreads rest on is."""
    if at not in known:
        cells = sheet._cells
        if cells.given[at] is not None:
            known[at] = entry_print(sheet, at)
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
    kept, key = kept_of(sheet.layout).outcomes, (at, print_of(sheet, at, _prints.setdefault(sheet, {})))
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


# trials of an entry


def what_if(sheet: Worksheet, entries: Any, without: Any, as_found: tuple[str, str]) -> WhatIf:
    entries, without = tuple(entries), tuple(without)
    made = _what_if(sheet, entries, without, as_found)
    _trying[made] = Trying(sheet, _prints.setdefault(sheet, {}), (entries, without, as_found), {})
    return made


def behind(kept: Kept, at: int) -> tuple[int, ...]:
    """Every step that an entry may be made at, and that lies behind one, by whatever way."""
    if at not in kept.behind:
        seen, ahead = set[int](), [at]
        while ahead:
            one = ahead.pop()
            if one >= 0 and one not in seen:
                seen.add(one)
                ahead.extend(kept.layout.steps[one].slots)
        catalog, steps = kept.layout.catalog, kept.layout.steps
        entered = (one for one in seen if steps[one].spot.node in {*catalog.facts, *catalog.assumed})
        kept.behind[at] = tuple(sorted(entered))
    return kept.behind[at]


def tried(trial: WhatIf, asked: Spot, entry: float) -> Outcome:
    made = _trying.get(trial)
    if made is None or _prints.get(made.sheet) is not made.prints:
        return _tried(trial, asked, entry)
    kept, at = kept_of(made.sheet.layout), made.sheet.layout.index[asked]
    if at not in made.behind:
        given = made.sheet._cells.given
        prints = [(one, entry_print(made.sheet, one)) for one in behind(kept, at) if given[one] is not None]
        made.behind[at] = hash(tuple(prints))
    key = at, made.behind[at], made.made_of, entry
    if key not in kept.tried:
        found = _tried(trial, asked, entry)
        if not isinstance(found, Known):
            return found
        kept.tried[key] = found
    return kept.tried[key]


@contextmanager
def kept() -> Iterator[None]:
    with ExitStack() as patched:
        patched.enter_context(
            mock.patch.multiple(Worksheet, outcome=outcome, change=changed, rework=reworked, what_if=what_if)
        )
        patched.enter_context(mock.patch.object(WhatIf, "outcome", tried))
        yield


@contextmanager
def none_kept() -> Iterator[None]:
    """Every outcome worked out, as the program does it."""
    with ExitStack() as patched:
        patched.enter_context(
            mock.patch.multiple(Worksheet, outcome=_outcome, change=_change, rework=_rework, what_if=_what_if)
        )
        patched.enter_context(mock.patch.object(WhatIf, "outcome", _tried))
        yield
