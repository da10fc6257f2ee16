"""The kinds of change to the truck: what each has to say, what moves with it, its work and its danger."""

from typing import Literal, NamedTuple

Rides = Literal["", "body", "face"]  # what the amount of a change moves: the body over the axle, or the mounting face


class AskedEntry(NamedTuple):
    """An entry that a change of its kind may leave otherwise than it was found: not known until the change sets it.

    It has to be answered where it was found, and `always` where what a change moves matters only then. Any entry of
    `one_of` answers too. An entry's `condition` comes first, and where that says no this one stays as found.
    """

    entry: str  # with {end} for the axle's name
    always: bool = False
    one_of: tuple[str, ...] = ()
    steered: bool = False  # only at an end that steers
    condition: str = ""


class ChangeStep(NamedTuple):
    """Work that comes with a change of its kind, beside the work itself: `when` it is done before or after that.

    `short` is what the wall says.
    """

    id: str
    phase: str
    title: str
    short: str
    how: str
    caution: str = ""
    hours: float = 0.5
    when: Literal["before", "after"] = "after"
    after: tuple[str, ...] = ()  # tasks of the standing list


class KindOfChange(NamedTuple):
    """One kind of change: what it `does` is for its task, `caution` says where the danger of that is.

    `amount` is the entry that says how much, by which all that `rides` is worked out anew. `obstacles` are the kinds of
    obstacle that it moves otherwise than can be worked out. `by_table` asks only for entries of the tables of which the
    change sets something. Of `ways` to say one thing, those that the change does not set hold no longer.
    """

    name: str
    does: str  # what is done, for the task
    caution: str = ""
    asks: tuple[AskedEntry, ...] = ()
    steered: bool = False  # at ends that steer only
    amount: str = ""
    rides: Rides = ""
    obstacles: tuple[str, ...] = ()
    by_table: bool = False
    ways: tuple[tuple[tuple[str, ...], ...], ...] = ()
    steps: tuple[ChangeStep, ...] = ()
    hours: float = 3.0
    phase: str = "fit"
    before: tuple[str, ...] = ()  # tasks of the standing list that wait on it


def _of(table: str, *names: str, **more: object) -> tuple[AskedEntry, ...]:
    return tuple(AskedEntry(f"axles.{{end}}.{table}.{name}", **more) for name in names)  # type: ignore[arg-type]


_TRIED_WITH_IT = ("mock_up.trial_fit",)  # a wheel is tried on the truck as it is to be
_OWN = "axles.{end}.spacer.own_studs"  # an adapter hangs the wheel on studs of its own
_CIRCLE = tuple(
    tuple(f"axles.{{end}}.studs.{name}" for name in way)
    for way in (
        ("circle",),
        ("adjacent_spacing",),
        ("skip_spacing", "skip"),
        ("outer_edge_spacing", "outer_edge_skip"),
        ("points",),
    )
)
_THREAD = (("axles.{end}.studs.threads_per_inch",), ("axles.{end}.studs.pitch",))
_SEAT = (("axles.{end}.nuts.seat_angle",), ("axles.{end}.nuts.ball_radius",))


def _studs_and_nuts(condition: str = "") -> tuple[AskedEntry, ...]:
    """What other studs have of their own, and other nuts."""
    return (
        *_of("studs", "diameter", "length", "torque", "right_thread", "proof_stress", condition=condition),
        AskedEntry(_THREAD[0][0], one_of=_THREAD[1], condition=condition),
        *_of("nuts", "thread", "seat", "closed", "depth", "hand_left", "hand_right", condition=condition),
        AskedEntry(_SEAT[0][0], one_of=_SEAT[1], condition=condition),
        *_of("nuts", "engaged_length"),  # as counted with the wheel that is on: less thread is left of it in any case
    )


KINDS: tuple[KindOfChange, ...] = (
    KindOfChange(
        "steering stops",
        "Set the stops on both sides, and lock them.",
        "Steering stops are safety parts: have somebody licensed for steering work set both sides the same and "
        "steer lock to lock, at full bump too, before the truck moves.",
        asks=_of("steering", "stop_angle", "stop_angle_out"),
        steered=True,
        hours=1,
    ),
    KindOfChange(
        "lift",
        "Both sides of an axle the same, on stands under the frame. New U-bolts, tightened crosswise with the truck's "
        "weight on the springs. Never stack two blocks, and never use blocks on an axle that steers.",
        "A lift moves the steering, the brake hoses and the driveshafts: have a licensed shop look at all three "
        "before the truck moves. A spring under load throws its bolts: nobody in line with it.",
        asks=(
            *_of("travel", "bump", "droop", "most_cross_travel", "side_shift"),
            AskedEntry("axles.{end}.kingpin.caster", steered=True),
            AskedEntry("axles.{end}.steering.drag_link_angle", always=True, steered=True),
            AskedEntry("axles.{end}.driveshaft_angle", always=True),
            AskedEntry("axles.{end}.brake.hose_slack", always=True),
        ),
        amount="axles.{end}.lift",
        rides="body",
        obstacles=("steering", "brake", "spring"),
        hours=8,
        steps=(
            ChangeStep(
                "law",
                "decide",
                "Ask if the law allows the lift, and what it takes",
                "Ask: does the law allow the lift?",
                "The office that registers the truck says how far body, bumper and headlights may go up, and who has "
                "to look at it. Enter the most under legal.greatest_lift.",
                when="before",
                after=("safe.local_code",),
            ),
            ChangeStep(
                "shafts",
                "adjust",
                "Let the axle hang, then press it to its stops: driveshafts and their joints",
                "Swing the axle: shafts and joints",
                "Turn them by hand at full droop and at full bump: no slip joint apart or bottomed, no joint binding, "
                "pinion and transfer case at matching angles.",
                "Nobody under the axle while it moves; on stands under the frame. A shaft that comes apart at speed "
                "digs in.",
                hours=2,
                after=("fit.wheels",),
            ),
            ChangeStep(
                "caster",
                "adjust",
                "Have an alignment shop set caster and get the drag link close to level",
                "Have caster and drag link set",
                "A lift rotates the axle: less caster makes the truck wander. Use shims or an arm made for it; don't "
                "heat or bend any part.",
                "Steering is a job for somebody licensed for it.",
                hours=2,
                after=("fit.wheels",),
            ),
            ChangeStep(
                "u_bolts",
                "check again",
                "Retorque the U-bolts after 50 miles (80 km), and at 500 (800 km)",
                "Retorque U-bolts, 50 and 500 miles",
                "With the weight on the springs, crosswise, to their maker's torque.",
                "A loose U-bolt lets the axle walk: it steers the truck.",
                after=("again.torque_50",),
            ),
        ),
        phase="mock up",
        before=_TRIED_WITH_IT,
    ),
    KindOfChange(
        "bump stop",
        "Both sides the same, where the axle hits them square.",
        "Without its bump stops the axle hits what the stop kept it from: check full bump on stands, nobody under "
        "the truck.",
        asks=_of("travel", "bump", "bump_gives", "stops_apart"),
        steps=(
            ChangeStep(
                "full_bump",
                "adjust",
                "Jack the axle to its new stops: tire, drag link, oil pan, shaft",
                "Jack the axle to its new stops",
                "One side, then the other, then both, wheels lock to lock. Put clay where it comes close.",
                "Nobody under the truck while the axle moves; on stands under the frame.",
                after=("fit.wheels",),
            ),
        ),
        phase="mock up",
        before=_TRIED_WITH_IT,
    ),
    KindOfChange(
        "fender or bed trimmed",
        "Mark it from the mock-up, cut less than the mark, try again. Roll or cover the edge, paint bare metal.",
        "Look behind the panel before you cut: brake lines, fuel line and tank, wires. Don't cut anything that "
        "carries load, and don't leave a sharp edge toward the tire.",
        asks=_of("fender", "axle_to_fender", "face_to_edge", "ahead", "up_ahead", "top", "up_behind", "behind"),
        hours=4,
    ),
    KindOfChange(
        "spacer or adapter",
        "Hub face bare and flat, the spacer flat on it before any nut goes on. Its own nuts in a star, in three "
        "stages, with a torque wrench and a paint mark; then the wheel.",
        "A spacer hangs the wheel on its own bolts and puts more load on the wheel bearings. Many places don't "
        "allow them. Torque both rows of nuts, and again after 50 miles (80 km).",
        asks=(
            AskedEntry(_OWN, always=True),
            *_of("studs", "count", condition=_OWN),
            *(
                AskedEntry(
                    name, one_of=tuple(way[0] for way in _CIRCLE if way != own and way[0] != name), condition=_OWN
                )
                for own, name in ((_CIRCLE[0], _CIRCLE[0][0]), (_CIRCLE[2], _CIRCLE[2][1]), (_CIRCLE[3], _CIRCLE[3][1]))
            ),
            *_studs_and_nuts(_OWN),
            *_of("spacer", "studs_engaged", "hub_studs_proud", always=True, condition=_OWN),
            *_of("hub", "pilot", "centring"),
        ),
        amount="axles.{end}.spacer.thickness",
        rides="face",
        ways=(_CIRCLE, _THREAD, _SEAT),
        hours=2,
        steps=(
            ChangeStep(
                "law",
                "decide",
                "Ask if the law allows spacers, and if the axle maker does",
                "Ask: law and axle maker allow it?",
                "Many places don't allow them, and some insurance won't pay with them. Ask in writing; also ask what "
                "a wheel with the offset you want costs.",
                when="before",
                after=("safe.local_code",),
            ),
            ChangeStep(
                "dry",
                "receive",
                "Try the spacer dry: flat on the hub, no stud sticking out of it",
                "Try the spacer dry on the hub",
                "Straightedge over its face: no hub stud or nut sticks out. It centers on the hub with no play. Count "
                "the turns of its nuts. Both have a rating and a maker's mark, the same on both.",
                "A wheel that sits on the end of a stud feels tight and comes loose.",
                when="before",
            ),
            ChangeStep(
                "inner_nuts",
                "check again",
                "Wheels off after 50 miles (80 km): retorque the spacers' own nuts",
                "Retorque the spacers' own nuts",
                "You can't see or reach them with the wheel on. Paint marks where they were, no crack at a hole. Then "
                "the wheels back on, torqued again.",
                "If an inner nut has moved, put new studs and nuts there before you drive it. Truck on stands, one "
                "wheel at a time.",
                hours=2,
                after=("again.torque_50",),
            ),
        ),
        phase="mock up",
        before=_TRIED_WITH_IT,
    ),
    KindOfChange(
        "studs and nuts",
        "All of them on a hub, pressed in square; each nut runs on by hand all the way.",
        "Wrong thread, seat or length and the wheel comes off: same thread, hand and seat on every stud, full "
        "engagement, and retorque after 50 miles (80 km).",
        asks=_studs_and_nuts(),
        by_table=True,
        ways=(_THREAD, _SEAT, (("axles.{end}.studs.diameter",), _CIRCLE[3])),  # what was read over the old studs
    ),
    KindOfChange(
        "hub bore or ring",
        "The ring seated to its shoulder, no burrs; check pilot runout with a dial indicator.",
        "You can't put metal back on a hub: have somebody qualified say first that it still carries the load, and "
        "have a machine shop cut it.",
        asks=_of("hub", "pilot", "centring"),
        phase="mock up",
        before=_TRIED_WITH_IT,
    ),
    KindOfChange(
        "gear set",
        "Set up by somebody who does it for a living, both axles to the same ratio; the gear task says what to write "
        "down.",
        "Different ratios front and rear bind the driveline in four-wheel drive: change both axles, or neither.",
        asks=(
            AskedEntry("axles.{end}.ratio", one_of=("axles.{end}.ring_teeth", "axles.{end}.pinion_teeth")),
            AskedEntry("axles.{end}.ring_teeth", one_of=("axles.{end}.ratio",)),
            AskedEntry("axles.{end}.pinion_teeth", one_of=("axles.{end}.ratio",)),
        ),
        ways=((("axles.{end}.ratio",), ("axles.{end}.ring_teeth", "axles.{end}.pinion_teeth")),),
        hours=10,
        steps=(
            ChangeStep(
                "run_in",
                "road test",
                "Run the new gears in: short and easy, cooled, then longer",
                "Run the new gears in, easy",
                "Twenty easy miles (30 km), then let them cool; no loads and no high speed for 500 miles (800 "
                "km), then new oil.",
                "If a set howls or runs too hot to touch, stop and look at it: gears that seize lock the axle.",
                hours=1,
                after=("road.low_speed",),
            ),
        ),
    ),
    KindOfChange(
        "speedometer gear or adapter",
        "Count the teeth on both gears before it goes in.",
        asks=(
            AskedEntry(
                "drivetrain.speedometer.driven_teeth",
                always=True,
                one_of=tuple(
                    f"drivetrain.speedometer.{name}"
                    for name in ("drive_teeth", "adapter_ratio", "cable_turns_per_mile", "pulses_per_revolution")
                ),
            ),
        ),
        hours=1.5,
    ),
    KindOfChange(
        "brake parts",
        "Both sides of an axle the same; new hoses and fluid of the kind the seals need.",
        "Brakes are a job for a licensed shop. They road-test it before anybody else drives.",
        asks=(*_of("brake", "radius", "face", "hose_slack"), *_of("brake", "torque_gain", always=True)),
        obstacles=("brake",),
        hours=8,
        phase="mock up",
        before=_TRIED_WITH_IT,
    ),
    KindOfChange(
        "steering parts",
        "New cotter pins, nuts at the maker's torque, nothing heated or bent.",
        "Steering is a job for a licensed shop. They road-test it before anybody else drives.",
        asks=_of("steering", "stop_angle", "stop_angle_out", "drag_link_angle"),
        steered=True,
        obstacles=("steering",),
        hours=6,
        phase="mock up",
        before=_TRIED_WITH_IT,
    ),
    KindOfChange("other", "", hours=1),
)


def kind_called(name: str) -> KindOfChange:
    """The kind of that name: there is one for each that a file may have."""
    return next(one for one in KINDS if one.name == name)
