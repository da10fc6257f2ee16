"""One figure on its own, worked out from values given by hand: no project, no other figure."""

from collections.abc import Mapping, Sequence
from difflib import get_close_matches
from typing import Any, NamedTuple

from planner.quantities.ends import ends
from planner.quantities.grammar import bare, read_value
from planner.quantities.show import show
from planner.quantities.unreadable import Unreadable
from planner.worksheet.catalog import Catalog
from planner.worksheet.declare import Assumed, Figure, Impossible, Input, Rule
from planner.worksheet.outcome import Known, Spot
from planner.worksheet.spread import between, ends_through, known, value_at


class BadInput(ValueError):
    """A figure asked for with inputs that do not do; the text is one line naming the key."""


class Worked(NamedTuple):
    """A figure's result with the inputs it was worked out from; `assumed` names the ones that nobody gave."""

    figure: Figure
    outcome: Known
    inputs: Mapping[str, Any]
    assumed: frozenset[str]


def work(catalog: Catalog, declared: Figure, given: Mapping[str, Any]) -> Worked:
    """The figure from inputs as a person writes them; raises `BadInput`: the key, what was read, what is accepted."""
    names = [taken.name for taken in declared.inputs]
    for name in given:
        if name not in names:
            near = get_close_matches(name, names, n=1, cutoff=0.6)
            hint = f"; did you mean {near[0]}?" if near else ""
            raise BadInput(f"{name}: not an input of {declared.name}{hint}; accepted: {', '.join(names)}")
    values: dict[str, Any] = {}
    assumed: set[str] = set()
    for taken in declared.inputs:
        value = _take(catalog, declared, taken, given)
        if taken.name not in given and value is not None and value is not taken.default:
            assumed.add(taken.name)
        values[taken.name] = value
    outcome = _outcome(declared, list(values.values()))
    return Worked(declared, outcome, {n: v for n, v in values.items() if v is not None}, frozenset(assumed))


def standing(catalog: Catalog, taken: Input) -> Assumed | None:
    """The assumed value that an input has when nobody gives it."""
    return catalog.assumed.get(taken.reads or taken.name)


def _take(catalog: Catalog, declared: Figure, taken: Input, given: Mapping[str, Any]) -> Any:
    if taken.name in given:
        try:
            return read_value(given[taken.name], taken.kind)
        except Unreadable as trouble:
            raise BadInput(f"{taken.name}: {trouble}") from None
    otherwise = standing(catalog, taken)
    if otherwise is not None:
        return read_value(otherwise.text, otherwise.kind)
    if taken.optional:
        return taken.default
    wanted = ", ".join(f"{one.name} ({one.kind.name})" for one in declared.inputs)
    raise BadInput(f"{taken.name}: missing; {declared.name} takes {wanted}")


def _outcome(declared: Figure, inputs: list[Any]) -> Known:
    plain = [value if value is None else bare(value) for value in inputs]
    try:
        here = declared.call(*plain)
    except Impossible as impossible:
        written = {
            one.name: (one.name, getattr(value, "text", "") or show(value, one.kind))
            for one, value in zip(declared.inputs, inputs, strict=True)
            if value is not None
        }
        raise BadInput(impossible.told(written.get)) from None
    except (ArithmeticError, ValueError) as fault:
        raise BadInput(f"{', '.join(one.name for one in declared.inputs)}: can't all be true ({fault})") from None
    if here is None:
        left_out = ", ".join(one.name for one, value in zip(declared.inputs, inputs, strict=True) if value is None)
        raise BadInput(f"{left_out}: missing; {declared.name} needs more of them to answer")
    return over_tolerances(declared, inputs, plain, here)


def over_tolerances(declared: Figure | Rule, inputs: Sequence[Any], plain: list[Any], here: Any) -> Known:
    """A formula's result `here` with what the tolerances of its inputs do to it."""
    own = {slot: pair for slot, value in enumerate(inputs) if value is not None and (pair := ends(value))}
    slots = range(len(plain))
    spread = ends_through(declared.call, slots, plain, here, lambda slot: {slot: own[slot]} if slot in own else {})

    def settle(shares: dict[int, float]) -> Any:
        return value_at(declared.call, [between(own[n], shares[n]) if n in shares else plain[n] for n in slots])

    picks, turns = (declared.picks, declared.turns) if isinstance(declared, Figure) else ((), ())
    turning = {slot for slot, taken in enumerate(declared.inputs) if taken.name in turns}
    return known(here, spread, settle, lambda slot: Spot(declared.inputs[slot].name, ()), picks, turning)
