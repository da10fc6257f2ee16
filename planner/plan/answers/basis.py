"""What a decision, an acceptance, a tick or a sheet rested on, and what of it has moved since."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from functools import partial

from planner.plan.answers.basis_words import BasisChange, places_told
from planner.plan.answers.kept_answers import NOT_ASKED, answer_words, kept_answer, still_stands
from planner.plan.truck.catalog import ways_in
from planner.plan.truck.entry_names import name_of
from planner.plan.truck.project import OpenProject, entry_name
from planner.plan.truck.sweep_results import NODES
from planner.plan.truck.wording import place_name
from planner.quantities.grammar import Value, read_value
from planner.quantities.kinds import Kind
from planner.quantities.quantity import Quantity
from planner.quantities.show import show, write
from planner.quantities.text import clean, normal_name, same_name
from planner.quantities.unreadable import Unreadable
from planner.worksheet.explain import explain
from planner.worksheet.outcome import Known, Spot, number

NOT_KNOWN = "not known"

FOUND = "found"

CHOSEN = "plan.chosen"

_MATTERS = 1e-6  # relative; less than this is float arithmetic, whatever the tolerance


def figure_name(opened: OpenProject, spot: Spot) -> str:
    """A figure with its place, by which a record remembers it: `wheel.offset (tall, front)`."""
    return BasisChange(opened.sheet.catalog.called(spot.node), "", "", place_name(spot.place)).name


def basis(opened: OpenProject, spots: Iterable[Spot]) -> dict[str, str]:
    """What these values rest on now: every entry behind them as written, and the values themselves, exactly.

    This is what a record gives as `rested_on`; a save puts it into the diary.
    """
    kept: dict[str, str] = {}
    for spot in spots:
        if spot not in opened.sheet:  # an entry for both axles stands at no place of the worksheet itself
            kept[opened.key_of(spot)] = opened.text_of(opened.key_of(spot))
            continue
        for source in _entries(opened, spot):
            kept |= {key: opened.text_of(key) for key in opened.keys_behind(source)}
        if _worked_out(opened, spot.node):
            kept[figure_name(opened, spot)] = _exactly(opened, spot)
    return kept


def shown_basis(opened: OpenProject, spots: Iterable[Spot]) -> dict[str, str]:
    """What is shown at these spots: an entry by its key, anything else by its own value, without what lies behind it.

    Of an entry that was not made yet it is shown that it is not known: that holds until it is made, by any key.
    """
    return {name: value() for name, value in _shown_by(opened, spots)}


def shown_names(opened: OpenProject, spots: Iterable[Spot]) -> Iterator[str]:
    """What `shown_basis` goes by, without the values."""
    return (name for name, _ in _shown_by(opened, spots))


def _shown_by(opened: OpenProject, spots: Iterable[Spot]) -> Iterator[tuple[str, Callable[[], str]]]:
    for spot in spots:
        if any(spot.place) and spot.node in ways_in() and not isinstance(opened.sheet.outcome(spot), Known):
            yield figure_name(opened, spot), lambda: NOT_KNOWN
            continue
        source = opened.sheet.entered(spot) if spot in opened.sheet else spot
        if source is not None and source in opened.keys:
            yield from ((key, partial(opened.text_of, key)) for key in opened.keys_behind(source))
        elif _worked_out(opened, spot.node):
            yield figure_name(opened, spot), partial(_exactly, opened, spot)


def _worked_out(opened: OpenProject, node: str) -> bool:
    catalog = opened.sheet.catalog
    return node in catalog.figures or node in catalog.parts or node in catalog.rules or node in NODES


def basis_now(opened: OpenProject, names: Iterable[str]) -> dict[str, str]:
    """The same entries and figures as a record names, with their values now: for one that was looked at again.

    Where a change to the truck has set another value since, that is what it rests on now.
    """
    names = list(names)
    read = _read_instead(opened, dict.fromkeys(names, ""))
    spots = {read.get(name, name): spot_named(opened, read.get(name, name)) for name in names}
    return {name: opened.text_of(name) if spot is None else _exactly(opened, spot) for name, spot in spots.items()}


def basis_changes(opened: OpenProject, rested_on: Mapping[str, str]) -> tuple[BasisChange, ...]:
    """What has moved by more than its own tolerance, in the order of the record."""
    if not rested_on:
        return ()
    standing = {normal_name(opened.key_of(spot)): spot for spot in opened.keys}  # once, since a record names many
    read = _read_instead(opened, rested_on)
    found = (_movement(opened, read.get(name, name), then, standing) for name, then in rested_on.items())
    along = (
        BasisChange(clean(opened.spoken(name)), clean(rested_on[name]), clean(now))
        for name, now in _moved_along(opened, rested_on)
        if now != rested_on[name]
    )
    return (*(one for one in found if one is not None), *along)


def answer_changes(opened: OpenProject, rested_on: Mapping[str, str]) -> tuple[BasisChange, ...]:
    """What has moved under the answer of a rule: nothing while that stands, and else the entries that moved it."""
    answers = rules_in(opened, rested_on)
    moved = basis_changes(opened, answers)
    if answers and not moved:
        return ()
    behind = {name: then for name, then in rested_on.items() if name not in answers}
    return basis_changes(opened, behind) or moved


def rules_in(opened: OpenProject, rested_on: Mapping[str, str]) -> dict[str, str]:
    """The rules among what a record rested on, with their answers then."""
    catalog = opened.sheet.catalog
    return {name: then for name, then in rested_on.items() if catalog.named(name.partition(" (")[0]) in catalog.rules}


_YES_NO = {"True": "yes", "False": "no"}  # as a record keeps what people write so


def rested_words(opened: OpenProject, rested_on: Mapping[str, str] | None) -> list[tuple[str, str]]:
    """What a record rested on, each with its value of that day, for people: the same at both ends once.

    Stops of which only that they were clear is kept are counted.
    """
    alike: dict[tuple[str, str], list[str]] = {}
    clear = 0
    for name, value in (rested_on or {}).items():
        bare, _, place = name.partition(" (")
        node = opened.sheet.catalog.named(bare) or ""
        if node in opened.sheet.catalog.rules:
            if value == "clear":
                clear += 1
                continue
            value = answer_words(opened, node, value)
        value = _YES_NO.get(value, value)
        if value != NOT_ASKED:
            called = bare if node else opened.spoken(bare)
            alike.setdefault((called, clean(value)), []).append(place.removesuffix(")"))
    told = [
        (clean(f"{called} ({places_told(places)})" if any(places) else called), value)
        for (called, value), places in alike.items()
    ]
    return [*told, *([("stops that were clear", str(clear))] if clear else [])]


def other_chosen(then: str, now: str) -> BasisChange:
    """Another candidate is planned."""
    return BasisChange(name_of(("plan", "chosen"), {}), clean(then), clean(now), key=CHOSEN)


def planned_basis_changes(opened: OpenProject, rested_on: Mapping[str, str]) -> tuple[BasisChange, ...]:
    """What has moved under a record of what is planned: where another candidate is, what differs of that one.

    All that differs by the choice is told as the choice.
    """
    now = _as_planned(opened, rested_on)
    others = {name: then for name, then in rested_on.items() if now.get(name, name) == name}
    moved = basis_changes(opened, others)
    if not basis_changes(opened, {now[name]: then for name, then in rested_on.items() if now.get(name, "")}):
        return moved
    then = dict.fromkeys(fitment_of(opened, name) for name in now)
    return other_chosen(", ".join(then), opened.planned[0]), *moved


def _as_planned(opened: OpenProject, rested_on: Mapping[str, str]) -> dict[str, str]:
    """By the name of what was of a candidate that is no longer planned, the same of what is; "" where that stands too.

    While several are planned each speaks for itself.
    """
    of = {name: fitment_of(opened, name) for name in rested_on}
    gone = {name: fitment for name, fitment in of.items() if fitment not in ("", FOUND, *opened.planned)}
    if not gone or opened.planned == (FOUND,):
        return {}
    if any(fitment in opened.planned for fitment in of.values()):
        return dict.fromkeys(gone, "")
    if len(opened.planned) > 1:
        return {}
    return {name: _of_other(name, fitment, opened.planned[0]) for name, fitment in gone.items()}


def fitment_of(opened: OpenProject, name: str) -> str:
    """The fitment that an entry or a figure is of; empty for what is the truck's."""
    parts = name.split(".")
    if parts[0] == "fitments":
        return parts[1] if len(parts) > 2 else ""
    bare, _, place = name.partition(" (")
    node = opened.sheet.catalog.named(bare) if place else None
    of_fitments = node is not None and "fitment" in opened.sheet.layout.scopes.get(node, ())
    return place.removesuffix(")").split(", ")[0] if of_fitments else ""


def _of_other(name: str, fitment: str, other: str) -> str:
    """The same entry or figure of another fitment."""
    if name.startswith("fitments."):
        return f"fitments.{other}{name.removeprefix(f'fitments.{fitment}')}"
    bare, _, place = name.partition(" (")
    return f"{bare} ({clean(other)}{place.removeprefix(fitment)}"


def _read_instead(opened: OpenProject, rested_on: Mapping[str, str]) -> dict[str, str]:
    """By the key of an entry as found, the key of what a change sets over it for the candidate that a record is of.

    A record that names no candidate, as of a reading, is of the truck as it was found.
    """
    if not opened.trucks:
        return {}
    named = {name.split(".")[1] for name in rested_on if name.startswith("fitments.")}
    trucks = [truck for name, truck in opened.trucks.items() if name in named]
    both = {opened.truck_key_of(name) for name in rested_on}  # it rested on what was found beside what was planned
    return {
        entry_name(key): entry_name(entry.key)
        for truck in trucks
        for key, entry in truck.set_over.items()
        if entry_name(key) in rested_on and key not in both and not entry.moved
    }


def _moved_along(opened: OpenProject, rested_on: Mapping[str, str]) -> Iterator[tuple[str, str]]:
    """What a record of a candidate rested on as it was found, and what a change moves since: the text now."""
    named = {name.split(".")[1] for name in rested_on if name.startswith("fitments.")}
    for spot, own in opened.along.items():
        name = entry_name(own)
        if spot.place[0] in named and name in rested_on and opened.key_of(spot) not in rested_on:
            yield name, str(getattr(opened.given(spot), "text", ""))


def _movement(opened: OpenProject, name: str, then: str, standing: Mapping[str, Spot]) -> BasisChange | None:
    entered = standing.get(normal_name(name))
    if entered is not None:
        given = opened.given(entered)
        if given is not None and (getattr(given, "text", None) or str(given)) == then:
            return None
    spot = spot_named(opened, name)
    if spot is None:
        now = opened.text_of(name)
        if _same(then, now, opened.kind_of(name)):
            return None
        was, is_now = (clean(_YES_NO.get(one, one)) for one in (then, now))
        return BasisChange(clean(opened.spoken(name)), was, is_now, key=clean(name))
    now, catalog = _exactly(opened, spot), opened.sheet.catalog
    if spot.node in catalog.rules:
        if still_stands(then, now):
            return None
        was, is_now = (clean(answer_words(opened, spot.node, one)) for one in (then, now))
        turned = then.partition(",")[0] != now.partition(",")[0]
        return BasisChange(clean(catalog.called(spot.node)), was, is_now, place_name(spot.place), turned=turned)
    kind = catalog.kind(spot.node)
    if _close(then, now, kind):
        return None
    source = opened.sheet.entered(spot)  # what was not entered then, and is now, is told by its key
    was, is_now = _shown(then, kind, opened), _shown(now, kind, opened)
    own_units = (_shown(then, kind, opened, beside=False), _shown(now, kind, opened, beside=False))
    if source is None or spot.node in catalog.figures:
        return BasisChange(clean(catalog.called(spot.node)), was, is_now, place_name(spot.place), own_units)
    key = opened.key_of(source)
    return BasisChange(clean(opened.spoken(key)), was, is_now, "", own_units, key=clean(key))


def spot_named(opened: OpenProject, name: str) -> Spot | None:
    """The spot of a figure that a record names; None where the name is an entry's key."""
    bare, _, place = name.partition(" (")
    node = opened.sheet.catalog.named(bare)
    if node is None or (not place and not _worked_out(opened, node)):
        return None
    wanted = normal_name(place.removesuffix(")"))
    return next((spot for spot in opened.sheet.spots(node) if same_name(place_name(spot.place), wanted)), None)


def _entries(opened: OpenProject, spot: Spot) -> list[Spot]:
    """Where the entries behind a value were made."""
    found: dict[Spot, None] = {}
    waiting = [explain(opened.sheet, spot)]
    while waiting:
        reason = waiting.pop()
        if reason.entered_at is not None and reason.entered_at in opened.keys:
            found[reason.entered_at] = None
        waiting.extend(reversed(reason.rests_on))
    return list(found)


def _exactly(opened: OpenProject, spot: Spot) -> str:
    if spot.node in opened.sheet.catalog.rules:
        return kept_answer(opened, spot)
    outcome, kind = opened.sheet.outcome(spot), opened.sheet.catalog.kind(spot.node)
    if not isinstance(outcome, Known):
        return NOT_KNOWN
    value = number(outcome.value)
    if kind is None or value is None or kind.form not in ("quantity", "ratio"):
        counted = kind is not None and kind.form == "count" and value is not None
        return f"{value:g}" if counted else str(outcome.value)
    picked = "" in opened.sheet.catalog.picks(spot.node)  # one of a list: the next one is another
    half = 0.0 if picked else max(outcome.high - value, value - outcome.low)
    try:
        return write(Quantity(value, half), kind)
    except ValueError:  # a spread without a bound cannot be written
        return write(value, kind)


def _read(text: str, kind: Kind | None) -> Value:
    if kind is None:
        return text
    try:
        return read_value(text, kind)
    except Unreadable:
        return text


def _same(then: str, now: str, kind: Kind | None) -> bool:
    """Whether an entry still says the same, however it is written."""
    return then == now or (kind is not None and _read(then, kind) == _read(now, kind))


def _close(then: str, now: str, kind: Kind | None) -> bool:
    """Whether a figure is where it was, to within the tolerance that it had then."""
    before, after = _read(then, kind), _read(now, kind)
    if not isinstance(before, Quantity) or not isinstance(after, Quantity):
        return then == now
    return abs(after.value - before.value) <= max(before.tolerance, _MATTERS * abs(before.value))


def _shown(text: str, kind: Kind | None, opened: OpenProject, beside: bool = True) -> str:
    value = _read(text, kind)
    if kind is None or not isinstance(value, Quantity):
        return clean(text)
    return show(value, kind, opened.style, beside=beside)
