"""A new obstacle, part or task by its name: `obstacle: rear spring pack`, with what is known of such a thing."""

from collections.abc import Mapping
from typing import Any, NamedTuple

from planner.plan.truck.entry_names import ENDS, OF_OBSTACLES, said
from planner.plan.truck.recording import RefusedChange
from planner.plan.work.dependencies import own_id
from planner.project.changes import rows_at
from planner.project.faults import plain
from planner.project.suspects import SUSPECTS
from planner.quantities.text import clean, normal_name

_LISTS = {"obstacle": ("obstacles", "at"), "part": ("parts", "price"), "task": ("tasks", "phase")}


class NamedEntry(NamedTuple):
    """The key of what was called so, and what its table begins with; that is empty where there is one already."""

    key: str
    begins: Mapping[str, str] = {}


def by_name(data: Mapping[str, Any], written: str) -> NamedEntry:
    """`obstacle: NAME` is its position, `part: NAME` its price, `task: NAME` its phase; so with `NAME's kind`.

    Whatever else is written is a key or a name already, and stays.
    """
    head, colon, rest = written.partition(":")
    kind = head.strip().casefold()
    if not colon or kind not in _LISTS:
        return NamedEntry(written)
    listed, usual = _LISTS[kind]
    there = rows_at(data, (listed,))
    name, field = _apart(normal_name(rest), usual, there)
    if not name:
        raise RefusedChange(f"{plain(written)}: accepted: a name behind it, such as {kind}: spring pack")
    at = _number(name, there)
    if at is not None:
        return NamedEntry(f"{listed}[{at}].{field}")
    return NamedEntry(f"{listed}[{len(there)}].{field}", _begins(kind, name, there))


def _apart(rest: str, usual: str, there: list[dict[str, Any]]) -> tuple[str, str]:
    """The name, and which entry of it: `spring pack's kind`; a name may have such a mark in it: `spring's U-bolts`."""
    labels = {label: key for key, label in OF_OBSTACLES.items()}
    for mark in ("'s ", "s' "):
        name, found, label = rest.rpartition(mark)
        name += mark[:-2].replace("'", "") if name else ""
        whole = _number(rest, there) is not None
        if found and not whole and (not name or label in labels or _number(name, there) is not None):
            return name, labels.get(label, label.replace(" ", "_"))
    return rest, usual


def _number(name: str, there: list[dict[str, Any]]) -> int | None:
    """Which of those that are there is called so."""
    return next((at for at, one in enumerate(there) if said(name) in {said(words) for words in _called(one)}), None)


def _called(table: Mapping[str, Any]) -> list[str]:
    names = [str(table[one]) for one in ("name", "title", "id") if table.get(one)]
    return names + [f"{table['axle']} {name}" for name in names if table.get("axle")]


def _begins(kind: str, name: str, there: list[dict[str, Any]]) -> dict[str, str]:
    if kind != "obstacle":
        taken = [str(one.get("id")) for one in there]
        return {"id": own_id(name, taken) if kind == "task" else own_id(name, taken, ""), "title": clean(name)}
    end, _, rest = name.partition(" ")
    axle, alone = (end, rest) if end in ENDS and rest else ("", name)
    usual = next((one for one in SUSPECTS if alone.startswith(one.name) or one.name.startswith(alone)), None)
    begins = {"name": clean(alone)} | ({"axle": axle} if axle else {})  # which end nobody said is asked, not assumed
    if usual is not None:
        begins |= {"side": usual.side, "moves_with": usual.moves_with, "kind": usual.kind, "measure": usual.measure}
    return begins
