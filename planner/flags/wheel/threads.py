"""Whether nuts and studs have one thread and hand, and which threads of a truck could be mixed up."""

from planner.quantities.kinds import Length, Text
from planner.quantities.threads import thread_in_words
from planner.sources.citing import COMMON_PRACTICE, practice
from planner.sources.standards import INCH_THREADS
from planner.worksheet.declare import Finding, rule
from planner.worksheet.turning import greatest, least, magnitude, where

_SAME_PITCH = 0.005  # as a part: 20 to the inch and 1.25 mm, which are not the same, are 1.6 % apart
_SAME_DIAMETER = 0.0003  # m: worn threads read so much below their size, and no two sizes of one pitch are so near
_NEARLY_ONE_PITCH = 0.25  # as a part: 1.25 and 1.5 mm still start by hand
_DEPTH = 1.0825  # from a 60° thread's size down to its nut's minor diameter, in pitches: 5/4 × cos 30°


def mates(diameter: float, pitch: float, other: float, other_pitch: float) -> float:
    """Margin in m by which a nut of one of these threads belongs on a stud of the other.

    >>> mates(0.014, 0.0015, 0.0142875, 0.0254 / 18) < 0
    True
    """
    return least(_SAME_DIAMETER - magnitude(other - diameter), _SAME_PITCH * pitch - magnitude(other_pitch - pitch))


def starts_on_it(diameter: float, pitch: float, other: float, other_pitch: float) -> float:
    """Margin in m by which two threads that do not mate catch all the same: the larger one's nut on the smaller stud.

    It catches where the stud is thicker than the nut's minor diameter, and runs on while the pitches are near.

    >>> starts_on_it(0.014, 0.0015, 0.0142875, 0.0254 / 18) > 0
    True
    >>> starts_on_it(0.5625 * 0.0254, 0.0254 / 18, 0.625 * 0.0254, 0.0254 / 18) > 0
    False
    """
    larger = diameter - other
    caught = where(larger, _DEPTH * pitch - larger, _DEPTH * other_pitch + larger)
    coarser = greatest(pitch / other_pitch, other_pitch / pitch)
    near = least(caught, (1.0 + _NEARLY_ONE_PITCH - coarser) * pitch)
    return least(near, -mates(diameter, pitch, other, other_pitch))


@rule(
    severity="stop",
    danger="wheel off",
    notices="the nuts don't have the studs' thread",
    says="The nuts are {nut_thread}: {trouble}.",
    clear_says="The nuts, {nut_thread}, have the studs' diameter and pitch.",
    cure="Never run this nut on, by hand or with a wrench: it goes on, feels tight, strips at speed, and the wheel "
    "comes off. Put a thread gauge on a stud on each side and on a nut, enter what they are, and buy nuts with the "
    "studs' own thread and hand. Replace any stud that had a wrong nut on it.",
    ground=INCH_THREADS.recalled("threads mate by diameter, pitch and hand"),
    holds={
        "nut_thread": "9/16-18",
        "nut_thread_diameter": "0.5625 in",
        "nut_thread_pitch": "1.4111 mm",
        "stud_diameter": "0.5510 in",  # 0.3 mm below its size is wear
        "stud_pitch": "1.4111 mm",
    },
    fails={
        "nut_thread": "M14 x 1.5",
        "nut_thread_diameter": "14 mm",
        "nut_thread_pitch": "1.5 mm",
        "stud_diameter": "9/16 in",
        "stud_pitch": "1.4111 mm",
    },
)
def nut_thread_differs(
    nut_thread: Text,
    nut_thread_diameter: Length,
    nut_thread_pitch: Length,
    stud_diameter: Length,
    stud_pitch: Length,
    nut_thread_hand: Text | None = None,
    thread_hand_left: Text | None = None,
    thread_hand_right: Text | None = None,
) -> Finding | None:
    """Whether diameter, pitch and hand are the studs'; a worn stud reads a little below its size.

    A hand marked on the nut is not known to be a stud's, or none's, until the hands of both sides are entered.
    """
    sizes = (nut_thread_diameter, nut_thread_pitch, stud_diameter, stud_pitch)
    on = ", and this nut still starts on them" if starts_on_it(*sizes) > 0 else ""
    words = {"trouble": f"the studs are {thread_in_words(stud_diameter, stud_pitch)}{on}"}
    hands = (thread_hand_left, thread_hand_right)
    if mates(*sizes) < 0 or nut_thread_hand is None or nut_thread_hand in hands:
        return Finding(where(mates(*sizes), True, False), words)
    if None in hands:
        return None
    return Finding(False, {"trouble": f"{nut_thread_hand}-hand, and no stud of this axle is"})


@rule(
    severity="caution",
    danger="wheel off",
    notices="front and rear studs have threads that nearly interchange",
    says="The front studs are {front}, the rear ones {rear}: these threads nearly match. A nut of one starts on the "
    "other, feels tight, and strips.",
    clear_says="Front and rear studs have {told}.",
    cure="Mix up a nut and the wheel comes off. Two cans for the nuts, marked front and rear; paint the stud ends and "
    "nuts of one axle; a thread gauge in the cab, and each axle's own nuts with the spare. If a nut won't run down "
    "with your fingers, take it off again. Best is one thread all around: have a shop press in studs.",
    ground=COMMON_PRACTICE,
    holds={
        "front_stud_diameter": "9/16 in",
        "front_stud_pitch": "1.4111 mm",
        "rear_stud_diameter": "5/8 in",
        "rear_stud_pitch": "1.4111 mm",
    },
    fails={
        "front_stud_diameter": "9/16 in",
        "front_stud_pitch": "1.4111 mm",
        "rear_stud_diameter": "14 mm",
        "rear_stud_pitch": "1.5 mm",
    },
)
def threads_nearly_interchange(
    front_stud_diameter: Length, front_stud_pitch: Length, rear_stud_diameter: Length, rear_stud_pitch: Length
) -> Finding:
    """Whether the threads are the same, or so far apart that no nut of one starts on the other."""
    sizes = (front_stud_diameter, front_stud_pitch, rear_stud_diameter, rear_stud_pitch)
    near = starts_on_it(*sizes)
    told = "one thread" if mates(*sizes) >= 0 else "threads that don't start on each other"
    words = {"told": told, "front": thread_in_words(*sizes[:2]), "rear": thread_in_words(*sizes[2:])}
    return Finding(where(near, False, True), words)


@rule(
    severity="note",
    danger="wheel off",
    notices="front and rear studs have different threads",
    says="The front studs are {front}, the rear ones {rear}: sooner or later the nuts end up in one can.",
    clear_says="{sound}.",
    cure="Two cans for the nuts, marked front and rear, and nuts for both axles with the spare. If a nut won't run "
    "down with your fingers, take it off again.",
    ground=COMMON_PRACTICE,
    holds={
        "front_stud_diameter": "9/16 in",
        "front_stud_pitch": "1.4111 mm",
        "rear_stud_diameter": "9/16 in",
        "rear_stud_pitch": "1.4111 mm",
    },
    fails={
        "front_stud_diameter": "1/2 in",
        "front_stud_pitch": "1.27 mm",
        "rear_stud_diameter": "9/16 in",
        "rear_stud_pitch": "1.4111 mm",
    },
)
def threads_differ_front_to_rear(
    front_stud_diameter: Length, front_stud_pitch: Length, rear_stud_diameter: Length, rear_stud_pitch: Length
) -> Finding:
    """Whether the threads are the same; those that nearly match are told by the rule for them."""
    sizes = (front_stud_diameter, front_stud_pitch, rear_stud_diameter, rear_stud_pitch)
    words = {
        "front": thread_in_words(*sizes[:2]),
        "rear": thread_in_words(*sizes[2:]),
        "sound": "Front and rear studs have the same thread"
        if mates(*sizes) >= 0
        else "Front and rear studs have threads that nearly match; another rule covers that",
    }
    return Finding(where(greatest(mates(*sizes), starts_on_it(*sizes)), True, False), words)


@rule(
    severity="stop",
    danger="wheel off",
    notices="the studs of one axle have different threads left and right",
    says="The studs on the right side are {right_stud_thread}, those on the left {left}: {trouble}.",
    clear_says="The studs of both sides have one thread, {right_stud_thread}.",
    cure="Don't move the truck, and keep each side's nuts away from the other: they end up in one pile sooner or "
    "later, and a wrong one strips on the road. One axle, one thread: a hub or studs came from another truck. Have a "
    "shop press in new studs on one side, all of them.",
    ground=practice("lug nuts on one axle are one size; only the hand may differ side to side"),
    holds={
        "right_stud_thread": "9/16-18",
        "right_stud_diameter": "0.5625 in",
        "right_stud_pitch": "1.4111 mm",
        "stud_diameter": "0.5510 in",
        "stud_pitch": "1.4111 mm",
    },
    fails={
        "right_stud_thread": "M14 x 1.5",
        "right_stud_diameter": "14 mm",
        "right_stud_pitch": "1.5 mm",
        "stud_diameter": "9/16 in",
        "stud_pitch": "1.4111 mm",
    },
    only_with=("right_stud_thread",),
)
def threads_differ_left_and_right(
    right_stud_thread: Text,
    right_stud_diameter: Length,
    right_stud_pitch: Length,
    stud_diameter: Length,
    stud_pitch: Length,
) -> Finding:
    """Whether both sides have one diameter and one pitch; the hand is told elsewhere."""
    sizes = (right_stud_diameter, right_stud_pitch, stud_diameter, stud_pitch)
    near = starts_on_it(*sizes) > 0
    trouble = "a nut of one starts on the other, feels tight, and strips" if near else "no nut goes on both"
    words = {"trouble": trouble, "left": thread_in_words(*sizes[2:])}
    return Finding(where(mates(*sizes), True, False), words)
