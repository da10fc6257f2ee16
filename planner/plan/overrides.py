"""What a person puts in place of a limit or of an assumed value, in [limits] and [assumptions]."""

from collections.abc import Iterable, Mapping

from planner.project.faults import Fault
from planner.project.models.work import Change
from planner.quantities.grammar import Value, read_value
from planner.quantities.unreadable import Unreadable
from planner.worksheet.declare import Assumed


def override(table: str, name: str, change: Change, known: Mapping[str, Assumed]) -> Value | Fault:
    """The value to take for one of those that are `known` in this table, or what is wrong with it."""
    if name not in known:
        from difflib import get_close_matches  # only a slip of the pen needs it

        near = get_close_matches(name, known, n=1, cutoff=0.6)
        accepted = f"{near[0]}, if that is what you meant" if near else _listed(known)
        return Fault(f"there is no such entry in [{table}]", (table, name), None, name, accepted)
    if change.value is None:
        return Fault(
            "it has no value", (table, name), accepted=f'value = "{known[name].text}" is what stands without it'
        )
    if known[name].limit and not change.because:
        return Fault("a limit is set aside only with a reason", (table, name), accepted='because = "…"')
    return _read(known[name], change.value, (table, name, "value"))


def _read(one: Assumed, value: object, key: tuple[str, ...]) -> Value | Fault:
    try:
        return read_value(value, one.kind)
    except Unreadable as trouble:
        return Fault(f"it {trouble.problem}", key, None, trouble.read, trouble.accepted)


def _listed(names: Iterable[str]) -> str:
    return "one of " + ", ".join(sorted(names))
