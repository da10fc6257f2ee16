"""How a figure, an assumed value, a limit and a rule are declared: once, on the function or name that is it."""

import re
from collections.abc import Callable, Mapping
from typing import Any, Literal, NamedTuple, TypeVar, get_args

from planner.quantities.kinds import Kind, kind_of
from planner.sources.citing import Ground

F = TypeVar("F", bound=Callable[..., Any])
Severity = Literal["stop", "caution", "note"]
Danger = Literal["blows apart", "burst", "wheel off", "steering or brakes", "control", "breakage", "law", ""]
SEVERITIES: tuple[Severity, ...] = get_args(Severity)
TO_CLEAR = "to_clear"  # by what a rule's words may quote what its margin lacks at the worst of the tolerances
DANGERS: tuple[Danger, ...] = get_args(Danger)  # what can come of it, what hurts most first
_NAMED = re.compile(r"\{([a-z_]+)\}")


class Impossible(ValueError):
    """A value that cannot be: `key` names the input, `read` what it was, `accepted` what would do; `why_not` where it
    can be, and a formula does without it.

    Both may name inputs in {braces}: a formula knows values, and whoever tells of it puts in what the person wrote.
    """

    def __init__(self, key: str, read: str, accepted: str, why_not: str = "is impossible") -> None:
        super().__init__(key, read, accepted, why_not)
        self.key, self.read, self.accepted, self.why_not = key, read, accepted, why_not

    def __str__(self) -> str:
        return self.told(lambda name: None)

    def told(self, written: Callable[[str], tuple[str, str] | None]) -> str:
        """On one line; `written` gives for an input's name what to call it and its value as written."""

        def fill(text: str, named: bool) -> str:
            pieces = _NAMED.split(text)  # words, name, words, ...
            for at in range(1, len(pieces), 2):
                found = written(pieces[at])
                pieces[at] = pieces[at] if found is None else ", ".join(found) if named else found[1]
            return "".join(pieces)

        own = written(self.key)
        name = own[0] if own is not None else self.key
        return f"{name}: {fill(self.read, named=False)} {self.why_not}; {fill(self.accepted, named=True)}"


class Input(NamedTuple):
    """One parameter of a formula: what it is called at the bench and which node it reads in a worksheet.

    `reads` is a node's name, or None for an input that only the bench gives. A prefix names the place:
    `found_`, `front_` and `rear_` pin it there, `planned_` is this one, `each_` gathers over the innermost axis.
    """

    name: str
    kind: Kind
    optional: bool
    default: Any
    reads: str | None


class Figure(NamedTuple):
    """A number worked out from others; `parts` names the fields where the result has several.

    `picks` names the parts (or "" for a single result) that are picked from a list: between two of them is nothing.
    `turns` names the inputs along which it turns back smoothly.
    """

    node: str
    name: str
    call: Callable[..., Any]
    inputs: tuple[Input, ...]
    kind: Kind | None
    parts: Mapping[str, Kind]
    means: str
    ground: Ground
    form: str | None
    also: tuple[str, ...]
    publishes: Mapping[str, str]
    picks: tuple[str, ...]
    turns: tuple[str, ...]


class Assumed(NamedTuple):
    """A value that stands until the person enters a better one: a constant of the trade, or a rule's limit.

    `better` says what to measure so that it is not needed. Where it is true of a thing, `of` is the entry that names
    the thing: each has an amount of its own, and places that share the entry share the thing.
    """

    text: str
    kind: Kind
    means: str
    ground: Ground
    limit: bool
    node: str = ""
    name: str = ""
    better: str = ""
    of: str = ""


class Finding(NamedTuple):
    """A rule's answer with words of its own: `margin` is below nothing (or False) where it is raised."""

    margin: float | bool
    words: Mapping[str, str] = {}


class Rule(NamedTuple):
    """A look at figures and facts that has something to say; its call gives the margin by which its limit holds."""

    node: str
    name: str
    call: Callable[..., Any]
    inputs: tuple[Input, ...]
    kind: Kind | None
    severity: Severity
    notices: str
    says: str
    cure: str
    ground: Ground
    holds: Mapping[str, Any]
    fails: Mapping[str, Any]
    only_with: tuple[str, ...]
    beyond: str
    clear_says: str
    if_close: str
    bounds: str = ""
    bars: tuple[str, ...] = ()
    close_agrees: bool = False
    danger: Danger = ""
    follows: tuple[str, ...] = ()
    as_found: bool = False

    @property
    def order(self) -> tuple[int, int, str]:
        """The worst first: by severity, within one by what can come of it, and only then by name."""
        return SEVERITIES.index(self.severity), DANGERS.index(self.danger), self.name


def figure(
    *,
    means: str,
    ground: Ground,
    name: str | None = None,
    form: str | None = None,
    also: tuple[str, ...] = (),
    reads: Mapping[str, str | None] | None = None,
    publishes: Mapping[str, str] | None = None,
    picks: tuple[str, ...] = (),
    turns: tuple[str, ...] = (),
) -> Callable[[F], F]:
    """Declare a pure function of SI floats as a figure.

    `name` is what the bench calls it where that differs from the function; `form` the formula as shown, for a body
    with branches (a single `return` is shown as it stands); `also` other names by which formulas may read it;
    `reads` the node behind an input where the name alone does not tell; `publishes` fields of the result that
    are nodes of their own (node name: field); `picks` the fields, or "" for a result that is a single number, that
    are picked from a list and so have no ±; `turns` the inputs along which the figure turns back smoothly, so that
    its least and greatest are searched for. One that turns at a corner is written with `worksheet.turning`.
    """

    def mark(function: F) -> F:
        annotation = function.__annotations__["return"]
        parts: dict[str, Kind] = {}
        if hasattr(annotation, "_fields"):
            parts = {part: kind_of(kind) for part, kind in annotation.__annotations__.items()}
        subject = _subject(function.__module__)
        function.__dict__["declared"] = Figure(
            node=function.__name__,
            name=f"{subject}.{name or function.__name__}",
            call=function,
            inputs=_inputs(function, reads or {}),
            kind=None if parts else kind_of(annotation),
            parts=parts,
            means=means,
            ground=ground,
            form=form,
            also=also,
            publishes=publishes or {},
            picks=picks,
            turns=turns,
        )
        return function

    return mark


def assumed(kind: Any, text: str, *, means: str, ground: Ground, better: str = "", of: str = "") -> Assumed:
    """Declare a named value that a project can override: `flange_thickness = assumed(Distance, "1/2 in", ...)`.

    `better` names what to measure in its place, where a closer answer is wanted. `of` names the entry of what it is
    true of, such as a tire's size: of two of them it may be at either end, each by itself.
    """
    return Assumed(text, kind_of(kind), means, ground, limit=False, better=better, of=of)


def limit(kind: Any, text: str, *, means: str, ground: Ground) -> Assumed:
    """Declare a rule's limit, a named value that the project file can override with a reason."""
    return Assumed(text, kind_of(kind), means, ground, limit=True)


def rule(
    *,
    severity: Severity,
    notices: str,
    says: str,
    clear_says: str,
    cure: str,
    ground: Ground,
    holds: Mapping[str, Any],
    fails: Mapping[str, Any],
    reads: Mapping[str, str | None] | None = None,
    only_with: tuple[str, ...] = (),
    beyond: str = "short by",
    if_close: str = "",
    bounds: str = "",
    bars: tuple[str, ...] = (),
    close_agrees: bool = False,
    danger: Danger = "",
    follows: tuple[str, ...] = (),
    as_found: bool = False,
    subject: str = "",
) -> Callable[[F], F]:
    """Declare a function as a rule: it returns the margin by which its limit holds, True or False, or a `Finding`.

    `notices` names what it sees; `says` is for what is raised, `clear_says` for what is clear, true on every way to a
    clear; they and `cure` may quote inputs and words in braces. `holds` and `fails` are worked examples, written as
    people write: they are its tests and stand on its docs page. `only_with` names inputs without which there is
    nothing to ask: a wish that nobody has, a spare that nobody carries; of those that may be left out one is enough to
    ask for the others. `beyond` says how a limit is missed: "short by", or "over by" where it is a greatest value.
    `if_close` stands for the cure where it is too close to call
    and no better measurement of the same kind is worth asking for. `bounds` is what people are told of a rule that
    bounds the backspace: along it the margin holds between two ends, or up to one. `bars` names the entries that
    contradict each other where it is raised: nothing that rests on them is known then. With `close_agrees` it is clear
    where the tolerances straddle its limit: what may be true of one truck contradicts nothing. `danger` is the worst
    that can come of it, by which flags of one severity are put in order. `follows` names rules that see the cause of
    what this one sees: where one of them stands against the plan at the same place, this one is gathered under it.
    With `as_found` the flag tells how the rule stands on the truck as found: what was always so is told from what the
    build does. `subject` is what it is about where its file does not say.
    """

    def mark(function: F) -> F:
        annotation = function.__annotations__["return"]
        kind = None if annotation in (bool, Finding, Finding | None) else kind_of(annotation)
        function.__dict__["declared"] = Rule(
            node=function.__name__,
            name=f"{subject or _subject(function.__module__)}.{function.__name__}",
            call=function,
            inputs=_inputs(function, reads or {}),
            kind=kind,
            severity=severity,
            notices=notices,
            says=says,
            cure=cure,
            ground=ground,
            holds=holds,
            fails=fails,
            only_with=only_with,
            beyond=beyond,
            clear_says=clear_says,
            if_close=if_close,
            bounds=bounds,
            bars=bars,
            close_agrees=close_agrees,
            danger=danger,
            follows=follows,
            as_found=as_found,
        )
        return function

    return mark


def _subject(module: str) -> str:
    """The folder or file below its room: `planner.trade.wheel.reach` is about `wheel`."""
    parts = module.split(".")
    return parts[2] if len(parts) > 2 else parts[-1]


def _inputs(function: Callable[..., Any], reads: Mapping[str, str | None]) -> tuple[Input, ...]:
    code, defaults = function.__code__, function.__defaults__ or ()
    names = code.co_varnames[: code.co_argcount]
    required = len(names) - len(defaults)
    unknown = set(reads) - set(names)
    if unknown:
        raise TypeError(f"{function.__qualname__} reads {sorted(unknown)}, which it does not take")
    return tuple(
        Input(
            name=name.rstrip("_"),
            kind=kind_of(function.__annotations__[name]),
            optional=index >= required,
            default=defaults[index - required] if index >= required else None,
            reads=reads.get(name, name.rstrip("_")),
        )
        for index, name in enumerate(names)
    )
