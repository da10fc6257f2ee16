"""The kinds of change to the truck: what each is asked for, what moves with it, its work and its danger."""

from typing import Literal, NamedTuple

Ends = Literal["any", "steered"]  # the ends of the truck that a kind is about
Rides = Literal["", "body", "face"]  # what the amount of a change moves: the body over the axle, the mounting face out


class AskedEntry(NamedTuple):
    """An entry that a change of its kind may leave otherwise than it was found: not known until the change sets it.

    `always` also where nothing was found, since what a change moves may matter only then. `one_of` are entries of which
    any answers; `unless` is an entry of the change that, where it says no, leaves this one as it was found.
    """

    entry: str  # with {end} for the axle's name
    always: bool = False
    one_of: tuple[str, ...] = ()
    unless: str = ""
    steered: bool = False  # asked only at an end that steers

    @property
    def answers(self) -> tuple[str, ...]:
        return (self.entry, *self.one_of)


class ChangeStep(NamedTuple):
    """Work that comes with a change of its kind; the first `mends` the change itself, its caution is the kind's."""

    id: str
    phase: str
    title: str
    how: str
    caution: str
    hours: float
    after: tuple[str, ...] = ()  # steps of the same change, and tasks of the standing list
    before: tuple[str, ...] = ()  # the same, that wait on it


class KindOfChange(NamedTuple):
    """One kind: `amount` is the entry that says how much, by which all that `rides` is worked out anew.

    `obstacles` are the kinds of obstacle that it moves otherwise than can be worked out. Where the change sets an entry
    of a way to say something (`instead`), the other ways that were found do not hold any more.
    """

    name: str
    caution: str
    asks: tuple[AskedEntry, ...] = ()
    ends: Ends = "any"
    amount: str = ""
    rides: Rides = ""
    obstacles: tuple[str, ...] = ()
    instead: tuple[tuple[str, ...], ...] = ()
    steps: tuple[ChangeStep, ...] = ()


KINDS: tuple[KindOfChange, ...] = (
    KindOfChange(
        "steering stops",
        "Steering stops are safety parts: somebody licensed for steering work sets both sides alike and "
        "turns the wheels lock to lock, also at full bump, before the truck moves.",
    ),
    KindOfChange(
        "lift",
        "A lift moves the steering, the brake hoses and the propeller shafts: a licensed shop looks at all three "
        "before the truck moves.",
    ),
    KindOfChange(
        "bump stop",
        "Without its bump stops the axle reaches what the stop kept it from: look at full bump on stands, "
        "nobody under the truck.",
    ),
    KindOfChange("fender or bed trimmed", ""),
    KindOfChange(
        "spacer or adapter",
        "A spacer hangs the wheel on its own bolts and loads the wheel bearings more. Many places "
        "forbid them. Tighten both rows of nuts to their torque, and again after 50 miles.",
    ),
    KindOfChange(
        "studs and nuts",
        "A wheel comes off where thread, seat or length is wrong: the same thread, hand and seat on "
        "every stud, full engagement, and the torque again after 50 miles.",
    ),
    KindOfChange(
        "hub bore or ring",
        "A hub that is cut cannot be made whole again: a machine shop does it, and somebody qualified "
        "says first that the hub still carries the load.",
    ),
    KindOfChange(
        "gear set",
        "Front and rear ratios that differ bind the driveline in four-wheel drive: both axles, or neither.",
    ),
    KindOfChange("speedometer gear or adapter", ""),
    KindOfChange(
        "brake parts", "Brakes are work for a licensed shop, with a road test by them before anybody else drives."
    ),
    KindOfChange(
        "steering parts", "Steering is work for a licensed shop, with a road test by them before anybody else drives."
    ),
    KindOfChange("other", ""),
)


def kind_called(name: str) -> KindOfChange:
    """The kind of that name: there is one for each that a file may have."""
    return next(one for one in KINDS if one.name == name)
