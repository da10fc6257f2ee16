"""The sweep of one truck made once: who opens it again, with other ticks or decisions, has the same results.

Tests open one example hundreds of times, and most of each opening is the sweep. The key is all that a sweep can read:
the project but for what is named here, what in it is not known, and every entry of its worksheets.
"""

from collections import OrderedDict
from collections.abc import Iterator
from contextlib import contextmanager
from hashlib import sha256
from typing import Any
from unittest import mock

from planner.plan.fit import run_sweep
from planner.plan.truck.project import OpenProject, style_of
from planner.plan.truck.sweep_results import SweepResults
from planner.project.models.project import Project

RECORDS = {"decisions", "tasks", "parts", "wheels", "buyer", "sheets"}  # what was done, not what the truck is
MOST = 256

_KEPT: OrderedDict[bytes, SweepResults] = OrderedDict()
_made = run_sweep.run_sweep


def _read_of(project: Project, bounding: set[str]) -> Iterator[Any]:
    """What a sweep may read of the models themselves; their facts are entries of the worksheet."""
    for name, value in project:
        if name == "vehicle":
            yield style_of(project)
        elif name == "plan":
            yield project.plan.chosen
        elif name == "acceptances":  # a caution taken on bounds no backspace
            yield sorted({(one.flag, one.at or "", bool(one.because)) for one in value if one.flag in bounding})
        elif name not in RECORDS:
            yield name, value


def sweep_key(planned: OpenProject) -> bytes:
    """Equal for two projects only if a sweep of them must give the same."""
    opened, trucks = planned.opened, planned.trucks
    bounding = {rule.name for rule in planned.sheet.catalog.rules.values() if rule.bounds}
    read: list[Any] = [
        [*_read_of(one, bounding)] for one in (opened.project, *(truck.project for truck in trucks.values()))
    ]
    read += [(name, truck.set_over, truck.changes, truck.barred) for name, truck in trucks.items()]
    read += [
        opened.faults,
        sorted(map(repr, opened.not_known)),
        opened.was,
        opened.counted,
        planned.keys,
        planned.alone,
        planned.mock_ups,
    ]
    read += [sheet._entries for sheet in (planned.sheet, *planned.side_sheets.values())]
    return sha256(repr(read).encode()).digest()


def swept(planned: OpenProject) -> SweepResults:
    key = sweep_key(planned)
    if key not in _KEPT:
        _KEPT[key] = _made(planned)
        if len(_KEPT) > MOST:
            _KEPT.popitem(last=False)
    _KEPT.move_to_end(key)
    return SweepResults(*(type(one)(one) for one in _KEPT[key]))


@contextmanager
def kept() -> Iterator[None]:
    with mock.patch.object(run_sweep, "run_sweep", swept):
        yield


@contextmanager
def none_kept() -> Iterator[None]:
    """Every sweep made, as the program makes it."""
    with mock.patch.object(run_sweep, "run_sweep", _made):
        yield
