"""What pydantic finds wrong with an entry, in our words."""

from typing import Any

from planner.project.faults import Fault
from planner.project.lines import Key
from planner.quantities.grammar import as_text
from planner.quantities.unreadable import Accepted

_NUMBERS = (("a number", "8"), ("a whole number", "8"))
_BOUNDS = {
    "greater_than": ("more than", "gt"),
    "greater_than_equal": ("at least", "ge"),
    "less_than": ("less than", "lt"),
    "less_than_equal": ("at most", "le"),
}


def model_fault(error: Any, units: str = "inch") -> Fault:
    """One fault of pydantic's in our words; what was read is shown where it is a plain value."""
    fault = _fault(error)
    accepted = fault.accepted if isinstance(fault.accepted, Accepted) else None
    example = _example(fault.key, units) if accepted is not None else ""
    return fault._replace(accepted=accepted.with_example(example)) if accepted is not None and example else fault


def _example(key: Key, units: str) -> str:
    """How the entry at a key is written, or one of a list; empty where nothing is known of it."""
    from planner.project.starting import example_at  # only a fault needs it

    example = example_at(key, units)
    if isinstance(key[-1], int) and isinstance(example, list):
        example = example[key[-1]] if key[-1] < len(example) else ""
    return "" if isinstance(example, (list, dict)) else str(example)


def _fault(error: Any) -> Fault:
    key: Key = tuple(error["loc"])
    given, kind, context = error.get("input"), error["type"], error.get("ctx", {})
    read = context.get("read") or as_text(given)
    match kind:
        case "unreadable":
            return Fault(f"it {context['problem']}", key, None, read, context["accepted"])
        case "missing":
            return Fault("this entry is missing", key)
        case "literal_error":
            return Fault("", key, None, read, context["expected"])
        case "model_type" | "dict_type":
            return Fault("", key, None, read, f"a table, [{'.'.join(map(str, key))}] or {{ ... }}")
        case "list_type" | "tuple_type":
            return Fault("", key, None, read, "a list, [ ... ]")
        case "string_type":
            return Fault("", key, None, read, 'a text, in "quotes"')
        case "too_short" | "too_long":
            return Fault(
                "",
                key,
                None,
                f"{context.get('actual_length')} of them",
                f"{context.get('max_length', context.get('min_length'))} of them",
            )
        case _ if kind.startswith(("date", "is_instance")):
            return Fault("", key, None, read, "a date such as 2026-03-14, without quotes")
        case "greater_than" | "greater_than_equal" | "less_than" | "less_than_equal":
            words, bound = _BOUNDS[kind]
            return Fault("", key, None, read, f"{words} {float(context[bound]):g}")
        case _ if kind.startswith(("int", "decimal", "float", "finite")):
            return Fault("", key, None, read, Accepted(*_NUMBERS[kind.startswith("int")]))
        case _:
            return Fault(str(error["msg"]).lower(), key, None, read)
