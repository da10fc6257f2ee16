"""What a decision, an acceptance, a tick or a sheet rested on, and what of it has moved since."""

from collections.abc import Iterable, Mapping
from typing import NamedTuple

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

_MATTERS = 1e-6  # relative; less than this is float arithmetic, whatever the tolerance


class BasisChange(NamedTuple):
    """One thing that a record rested on and that is no longer so, as a person reads it.

    `at` is the place of a figure, `own_units` are then and now without the other system of units.
    """

    called: str
    then: str
    now: str
    at: str = ""
    own_units: tuple[str, str] = ("", "")

    @property
    def name(self) -> str:
        """A figure with its place, or an entry."""
        return f"{self.called} ({self.at})" if self.at else self.called

    @property
    def briefly(self) -> tuple[str, str]:
        """Then and now for a narrow place: in one system of units, where they differ in it."""
        then, now = self.own_units
        return (self.then, self.now) if then == now else (then, now)

    @property
    def says(self) -> str:
        """What moved in one sentence."""
        return LOOK_ONCE if self == UNKNOWN_BASIS else f"{self.name} was {self.then}, now {self.now}"


LOOK_ONCE = "what it rested on is not known: look at it once"

UNKNOWN_BASIS = BasisChange("what it rested on", "", NOT_KNOWN)  # of a record without its diary, or written by hand


def changes_in_words(moved: Iterable[BasisChange]) -> str:
    """All that moved in one line."""
    return "; ".join(one.says for one in moved)


def figure_name(opened: OpenProject, spot: Spot) -> str:
    """A figure with its place, by which a record remembers it: `wheel.offset (tall, front)`."""
    return BasisChange(_called(opened, spot), "", "", place_name(spot.place)).name


def _called(opened: OpenProject, spot: Spot) -> str:
    declared = opened.sheet.catalog.figures.get(spot.node)
    return declared.name if declared else spot.node


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
            kept[opened.key_of(source)] = opened.text_of(opened.key_of(source))
        if spot.node in opened.sheet.catalog.figures or spot.node in NODES:
            kept[figure_name(opened, spot)] = _exactly(opened, spot)
    return kept


def basis_now(opened: OpenProject, names: Iterable[str]) -> dict[str, str]:
    """The same entries and figures as a record names, with their values now: for one that was looked at again."""
    spots = {name: spot_named(opened, name) for name in names}
    return {name: opened.text_of(name) if spot is None else _exactly(opened, spot) for name, spot in spots.items()}


def basis_changes(opened: OpenProject, rested_on: Mapping[str, str]) -> tuple[BasisChange, ...]:
    """What has moved by more than its own tolerance, in the order of the record."""
    if not rested_on:
        return ()
    standing = {normal_name(opened.key_of(spot)): spot for spot in opened.keys}  # once, since a record names many
    read = _read_instead(opened, rested_on)
    found = (_movement(opened, read.get(name, name), then, standing) for name, then in rested_on.items())
    return tuple(one for one in found if one is not None)


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
        if entry_name(key) in rested_on and key not in both
    }


def _movement(opened: OpenProject, name: str, then: str, standing: Mapping[str, Spot]) -> BasisChange | None:
    entered = standing.get(normal_name(name))
    if entered is not None:
        given = opened.given(entered)
        if given is not None and (getattr(given, "text", None) or str(given)) == then:
            return None
    spot = spot_named(opened, name)
    if spot is None:
        now = opened.text_of(name)
        return (
            None
            if _same(then, now, opened.kind_of(name))
            else BasisChange(clean(opened.spoken(name)), clean(then), clean(now))
        )
    now = _exactly(opened, spot)
    kind = opened.sheet.catalog.kind(spot.node)
    if _close(then, now, kind):
        return None
    source = opened.sheet.entered(spot)  # what was not entered then, and is now, is told by its key
    was, is_now = _shown(then, kind, opened), _shown(now, kind, opened)
    own_units = (_shown(then, kind, opened, beside=False), _shown(now, kind, opened, beside=False))
    if source is None or spot.node in opened.sheet.catalog.figures:
        return BasisChange(clean(_called(opened, spot)), was, is_now, place_name(spot.place), own_units)
    return BasisChange(clean(opened.spoken(opened.key_of(source))), was, is_now, "", own_units)


def spot_named(opened: OpenProject, name: str) -> Spot | None:
    """The spot of a figure that a record names; None where the name is an entry's key."""
    bare, _, place = name.partition(" (")
    node = opened.sheet.catalog.named(bare)
    if node is None or (not place and node not in opened.sheet.catalog.figures):
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
    outcome, kind = opened.sheet.outcome(spot), opened.sheet.catalog.kind(spot.node)
    if not isinstance(outcome, Known):
        return NOT_KNOWN
    value = number(outcome.value)
    if kind is None or value is None or kind.form not in ("quantity", "ratio"):
        return str(outcome.value)
    half = max(outcome.high - value, value - outcome.low)
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
