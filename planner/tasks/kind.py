"""What a task of the standing sequence is: what to do, where it can hurt, what it waits on, what is written down."""

from typing import Literal, NamedTuple

from planner.quantities.kinds import Kind
from planner.sources.citing import Ground

Phase = Literal[
    "make safe",
    "measure",
    "decide",
    "order",
    "receive",
    "mock up",
    "fit",
    "adjust",
    "check",
    "road test",
    "check again",
]
PHASES: tuple[Phase, ...] = (
    "make safe",
    "measure",
    "decide",
    "order",
    "receive",
    "mock up",
    "fit",
    "adjust",
    "check",
    "road test",
    "check again",
)
Per = Literal["truck", "axle", "steered axle"]
MOST_LETTERS = 34  # of a task on the wall, which is read from afar
MOST_LABEL = 14
# The one caution of each phase that hangs on the wall: what kills there.
WORST: dict[Phase, str] = {
    "make safe": "Never under a truck on a jack. No nut before the air is out.",
    "measure": "A jack sinks: axle on stands first.",
    "decide": "Nothing is ordered while a stop is up.",
    "order": "No order before the drawing is signed.",
    "receive": "A wheel that's off goes back, bare.",
    "mock up": "Nobody under it while the axle moves.",
    "fit": "Your life hangs on these nuts.",
    "adjust": "Steering or brakes not right? Don't move it.",
    "check": "Nobody drives before this page is signed.",
    "road test": "Brakes first, at a walk, in a yard.",
    "check again": "Nuts come loose: retorque, then drive.",
}


class Bound(NamedTuple):
    """One end of an acceptable range: `times` what stands at `of`, and `more`, less `less`.

    `of`, `more` and `less` are each the name of a figure, fact or limit, or a value as people write it. What a
    node's own tolerance leaves open is not acceptable for sure; with `nominal` its middle counts, for what was ordered
    with a tolerance.
    """

    of: str
    ground: Ground
    times: float = 1.0
    more: str = ""
    less: str = ""
    nominal: bool = False

    @property
    def nodes(self) -> tuple[str, ...]:
        """What it reads in the worksheet, at the task's own axle and for the fitment that is planned."""
        return tuple(part for part in (self.of, self.more, self.less) if part.isidentifier())


class Record(NamedTuple):
    """The value that is written down with the tick, and what is acceptable; a text has no range.

    `fills` is the fact that the value is a reading of: a tick writes it there where nothing stands yet. With `gaps` it
    is of the room at the brake or, a text, at obstacles, and a tick writes each as a mock-up reading. `short` is its
    label on the wall, at most `MOST_LABEL` letters.
    """

    label: str
    kind: Kind
    least: Bound | None = None
    most: Bound | None = None
    fills: str = ""
    gaps: bool = False
    short: str = ""

    @property
    def nodes(self) -> tuple[str, ...]:
        return tuple(node for bound in (self.least, self.most) if bound for node in bound.nodes)


class Only(NamedTuple):
    """Where a task applies: where the node `reads` has one of `values`, or differs from the node `other`.

    `unknown` says what holds while a node is not known: a safety task stays, work that nobody chose does not appear.
    For a task of the whole truck it is enough that a condition holds at one axle.
    """

    reads: str
    values: tuple[str, ...] = ()
    other: str = ""
    unknown: bool = True


class TaskInterval(NamedTuple):
    """When something is to be done again: by distance and by months, whichever comes first; `first` where sooner.

    `once` is for what is done once, so long after the first drive, and does not come again.
    """

    distance: str
    months: int
    ground: Ground
    first: str = ""
    once: bool = False


EVERY_STOP = ("",)  # what a hold point guards that lets no stop pass
EVERY_WHEEL = ("plan.received_wheel_will_not_do",)  # and what stands against a wheel that came


class StandingTask(NamedTuple):
    """One task of the sequence that every such build goes through.

    `id` is its name for good: ticks, notes and recorded values are filed under it, so it is never renamed or given
    to another task. `after` names tasks; `parts` and `orders` name what it needs at hand and what it orders, by the
    ids of project parts or the beginnings of them (`nuts` is also `nuts_left`). `torque` is the node of a fastener's
    torque. A `hold` stops what follows until a person has signed; what a person adds to a phase is done before the one
    that `closes` it. It `guards` the rules whose names begin so: while a
    stop of one is raised or too close to call it cannot be signed, and a signature lapses; over one that is
    not known it is signed only with a reason. With `twice` it is signed, whatever the reason, once all that a wheel
    order rests on was measured twice. `asks` are the facts that it settles: `found_…` only for the truck as found,
    `planned_…` only for a candidate. `for_rules` are the rules whose flag asks for it. With `if_raised` it is in the
    list only while one of those is raised; it keeps its records meanwhile. `applies` holds all its conditions
    together. With `every` it comes up once the truck is on the road, and again after each time. With `for_changes` it
    is in the list only where a change of one of these kinds is made. `short` is what the wall says, an imperative of
    at most `MOST_LETTERS`; what is done on `each_wheel` has a box there for each. `tools` are what to get out
    before it begins.
    """

    id: str
    phase: Phase
    title: str
    how: str
    hours: float
    after: tuple[str, ...] = ()
    caution: str = ""
    records: Record | None = None
    torque: str | None = None
    parts: tuple[str, ...] = ()
    orders: tuple[str, ...] = ()
    hold: bool = False
    closes: bool = False
    guards: tuple[str, ...] = ()
    twice: bool = False
    asks: tuple[str, ...] = ()
    for_rules: tuple[str, ...] = ()
    if_raised: bool = False
    applies: tuple[Only, ...] = ()
    per: Per = "truck"
    every: TaskInterval | None = None
    for_changes: tuple[str, ...] = ()
    short: str = ""
    each_wheel: bool = False
    tools: str = ""

    @property
    def rests_on_something(self) -> bool:
        """Whether what is entered or worked out can move under a tick of it."""
        return bool(self.asks or (self.records and self.records.nodes) or self.torque or self.hold or self.orders)
