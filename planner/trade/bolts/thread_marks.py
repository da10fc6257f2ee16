"""Threads of nuts and studs by their marks, and the studs' pitch, and how deep a closed nut must be."""

from planner.quantities.fineness import INCH
from planner.quantities.kinds import Count, Distance, Length, Position, SmallestPosition, Text
from planner.quantities.threads import ThreadMark, read_thread
from planner.quantities.unreadable import Unreadable
from planner.sources.reasoning import GEOMETRY
from planner.sources.standards import INCH_THREADS
from planner.worksheet.declare import Impossible, figure


@figure(
    means="thread of the nuts as marked",
    ground=INCH_THREADS.recalled("designations: size, threads per inch, series; ISO 261 and 965-1 for M threads"),
    form="diameter and pitch as marked, threads per inch taken into the inch",
    publishes={"nut_thread_diameter": "diameter", "nut_thread_pitch": "pitch", "nut_thread_hand": "hand"},
)
def nut_thread_size(nut_thread: Text) -> ThreadMark:
    """Nominal diameter and pitch in m. Raises Impossible for a text that is no thread.

    9/16-18: 14.2875 mm, 25.4 / 18 = 1.4111 mm.

    >>> size = nut_thread_size("9/16-18 UNF LH")
    >>> round(size.diameter * 1000, 4), round(size.pitch * 1000, 4), size.hand
    (14.2875, 1.4111, 'left')
    """
    return _thread("nut_thread", nut_thread)


@figure(
    means="thread of the studs on the truck's right side as marked",
    ground=INCH_THREADS.recalled("designations: size, threads per inch, series; ISO 261 and 965-1 for M threads"),
    form="diameter and pitch as marked, threads per inch taken into the inch",
    publishes={"right_stud_diameter": "diameter", "right_stud_pitch": "pitch"},
)
def right_stud_size(right_stud_thread: Text) -> ThreadMark:
    """The same of the studs on the right side, where they are other ones.

    >>> round(right_stud_size("M14 x 1.5").pitch, 6)
    0.0015
    """
    return _thread("right_stud_thread", right_stud_thread)


@figure(
    means="pitch of the studs' thread, from one thread to the next",
    ground=GEOMETRY,
    form="pitch, else 1 in / threads per inch",
)
def stud_pitch(pitch: Length | None = None, threads_per_inch: Count | None = None) -> Length | None:
    """In m; nothing where neither was entered. Raises where both were.

    >>> round(stud_pitch(threads_per_inch=16) * 1000, 4)
    1.5875
    """
    if pitch is not None and threads_per_inch is not None:
        raise Impossible("pitch", "{pitch}", "give one of the two, this or {threads_per_inch}")
    return pitch if pitch is not None else INCH / threads_per_inch if threads_per_inch else None


@figure(
    means="depth a closed nut needs with the planned wheels",
    ground=GEOMETRY,
)
def least_nut_depth(engaged_length: Position, least_nut_room: Distance) -> SmallestPosition:
    """In m: as far as the stud reaches into the nut on its seat, and room behind its end.

    >>> least_nut_depth(30.0, 1.5)
    31.5
    """
    return engaged_length + least_nut_room


def _thread(key: str, text: str) -> ThreadMark:
    try:
        return read_thread(text)
    except Unreadable as trouble:
        raise Impossible(key, f"'{trouble.read}'", trouble.accepted) from None
