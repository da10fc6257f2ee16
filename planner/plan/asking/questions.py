"""The questions for a person at the truck: in one sentence each, with where they stand and what hangs on it.

What is not in the table has the words of the entry's own declaration (`plain_questions.py`).
"""

from collections.abc import Mapping
from functools import lru_cache
from types import MappingProxyType
from typing import NamedTuple

from planner.project.faults import as_key

STANDS = (
    "at the sidewall",
    "on its wheels",
    "wheel off",
    "at the plate",
    "on a scale",
    "at the table",
)  # in the order in which one walks around the truck
SIDEWALL, WHEELS, OFF, PLATE, SCALE, TABLE = STANDS

ENDS = ("front", "rear")
LARGEST, MIDDLE = "largest", "middle"  # what may be said in place of a tire and of a rim's width


class Way(NamedTuple):
    """One way to take the answer: what it is called, and the entries that it gives, in the order of typing."""

    name: str
    keys: tuple[str, ...]


class Question(NamedTuple):
    """One thing to measure, look up or decide; with several `ways` any one of them will do.

    `id` is the key under which it is put off; `instead` is what may be said in place of a value, and what that means.
    `first` are asked before all others: what the truck stands on, and what can kill. `also` are entries that give the
    same and are too long to be typed here.
    """

    id: str
    name: str
    asks: str
    how: str
    decides: str
    stand: str
    ways: tuple[Way, ...]
    first: bool = False
    instead: str = ""
    also: tuple[str, ...] = ()

    def at(self, axle: str, fitment: str) -> "Question":
        """The question at one end of the truck and of one candidate."""

        def put(text: str) -> str:
            return text.replace("{axle}", axle).replace("{fitment}", as_key((fitment,)))

        ways = tuple(Way(put(way.name), tuple(map(put, way.keys))) for way in self.ways)
        return self._replace(
            id=put(self.id), name=put(self.name), asks=put(self.asks), how=put(self.how), decides=put(self.decides),
            ways=ways, also=tuple(map(put, self.also)),
        )  # fmt: skip

    @property
    def keys(self) -> tuple[str, ...]:
        """Every entry that settles it, whichever way it is taken."""
        return tuple(dict.fromkeys((*(key for way in self.ways for key in way.keys), *self.also)))


def one_entry(
    key: str, name: str, asks: str, how: str, decides: str, stand: str, first: bool = False, instead: str = ""
) -> Question:
    return Question(key, name, asks, how, decides, stand, (Way("", (key,)),), first, instead)


_STUDS = "axles.{axle}.studs."
QUESTIONS = (
    one_entry(
        "fitments.found.tire.designation",
        "tires on the truck",
        "What size is molded on the tires on the truck now?",
        "Read it off the sidewall and write it the way it's molded.",
        "what every change is compared with: height, gearing, brakes, speedometer",
        SIDEWALL,
        first=True,
    ),
    one_entry(
        "fitments.found.wheel.pieces",
        "rims that come apart",
        "One-piece or multi-piece rims? A ring, a split or a row of bolts at the edge means multi.",
        "Multi-piece rims kill: look around both edges and don't loosen anything. If you can't tell, say multi. Let "
        "ALL the air out, cores out, before you touch a nut.",
        "if you may touch a nut before the air is out",
        SIDEWALL,
        first=True,
    ),
    Question(
        "axles.{axle}.studs.circle",
        "{axle} bolt circle",
        "How many studs at the {axle}, and how far apart: the bolt circle?",
        "From the center of one stud to the center of the next, or from the same edge to the same edge.",
        "which wheels bolt on",
        WHEELS,
        (
            Way(
                "studs, and center to center of two next to each other", (f"{_STUDS}count", f"{_STUDS}adjacent_spacing")
            ),
            Way(
                "studs, center to center of two farther apart, spaces between",
                (f"{_STUDS}count", f"{_STUDS}skip_spacing", f"{_STUDS}skip"),
            ),
            Way(
                "studs, over the outsides of two, spaces between",
                (f"{_STUDS}count", f"{_STUDS}outer_edge_spacing", f"{_STUDS}outer_edge_skip"),
            ),
            Way("studs, and the circle by a drawing or plate", (f"{_STUDS}count", f"{_STUDS}circle")),
        ),
        first=True,
        also=(f"{_STUDS}points",),
    ),
    one_entry(
        "axles.{axle}.fender.axle_to_fender",
        "{axle} axle to fender",
        "How far is it from the {axle} axle center to the tightest place of the fender opening?",
        "Truck on its wheels, on the level, loaded the way you drive it. Both sides; give the smaller.",
        "the largest tire",
        WHEELS,
    ),
    one_entry(
        "axles.{axle}.travel.bump",
        "{axle} bump travel",
        "How much bump is left at the {axle}?",
        "Truck on its wheels, on the level, loaded the way you drive it. From the rubber stop straight up to what it "
        "hits. Both sides; give the larger.",
        "the largest tire",
        WHEELS,
    ),
    one_entry(
        "axles.{axle}.fender.face_to_edge",
        "{axle} hub face to fender edge",
        "How far outside the hub's mounting face is the {axle} fender edge?",
        "Hang a plumb line from the lip, and measure across to the face the wheel bolts to. Minus if the lip is "
        "inside it.",
        "how far out the tire may sit, and so the backspace",
        WHEELS,
    ),
    one_entry(
        "axles.{axle}.brake.radius",
        "{axle} brake radius",
        "How far from the axle center does the {axle} brake reach: drum, backing plate or caliper?",
        "Treat brake dust as asbestos. Wheel off means axle on a rated stand. The largest radius inside the wheel: a "
        "big caliper or a string around it, and half the diameter.",
        "the smallest rim",
        OFF,
    ),
    Question(
        "obstacles.{axle}.inboard",
        "{axle} nearest obstacle",
        "What comes closest to the inside of the {axle} tire, and where is it?",
        "Its name, then from the middle of the hub's face: how far ahead (behind: minus), how far inboard, how far up "
        "(down: minus).",
        "the most backspace",
        OFF,
        (Way("", ("obstacles.{axle}.inboard",)),),
    ),
    one_entry(
        "axles.{axle}.fender.clearance",
        "room wanted, {axle}",
        "How much room do you want around the {axle} tire?",
        "For flex, mud, chains. 1 in (25 mm) is little on a truck that works.",
        "the largest tire",
        TABLE,
    ),
    one_entry(
        "axles.{axle}.fender.wanted_poke",
        "poke wanted, {axle}",
        "How far should the tire stick out past the {axle} fender edge?",
        "0 is flush, minus is inside.",
        "the backspace you want",
        TABLE,
    ),
    one_entry(
        "fitments.{fitment}.tire.designation",
        "tire in mind",
        "Which tire do you have in mind?",
        "Its size as it's sold.",
        "largest tire, rim width and backspace",
        TABLE,
        instead="largest: the largest that clears",
    ),
    one_entry(
        "fitments.{fitment}.wheel.rim_width",
        "rim width",
        "How wide a rim?",
        "Between the bead seats.",
        "the backspace and its window",
        TABLE,
        instead="middle: the middle of what the tire takes",
    ),
    one_entry(
        "axles.{axle}.face_to_face",
        "{axle} face to face",
        "How far is it between the mounting faces of the two {axle} hubs?",
        "Wheels off: a straightedge across each hub face, and the tape between them.",
        "how the axle leans over bumps, and so the backspace window",
        OFF,
    ),
    one_entry(
        "axles.{axle}.travel.droop",
        "{axle} droop",
        "How far does the {axle} axle drop from ride height?",
        "Keep every part of you out from under it. Jack the frame until the wheel just leaves the ground, frame on "
        "stands.",
        "the backspace window",
        WHEELS,
    ),
    one_entry(
        "axles.{axle}.kingpin.inset",
        "{axle} kingpin inset",
        "How far inboard of the {axle} hub face is the kingpin at hub height?",
        "Wheel off, along the middle of the kingpin, from a straightedge across the face.",
        "how the tire swings, and so the backspace window",
        OFF,
    ),
    one_entry(
        "axles.{axle}.kingpin.inclination",
        "{axle} kingpin lean",
        "How far does the {axle} kingpin lean in at the top?",
        "Truck level; an angle finder on the kingpin's cap, across the truck.",
        "how the tire swings, and so the backspace window",
        OFF,
    ),
    one_entry(
        "axles.{axle}.kingpin.caster",
        "{axle} caster",
        "How far does the {axle} kingpin lean back at the top: the caster?",
        "Truck level; an angle finder on the kingpin's cap, fore and aft.",
        "how the tire swings, and so the backspace window",
        OFF,
    ),
    one_entry(
        "axles.{axle}.steering.stop_angle",
        "{axle} stop angle",
        "How far does the inner wheel of the {axle} turn to its stop?",
        "Chalk a line along the tire straight ahead and on full lock. Both sides; the larger.",
        "how far the tire swings in, and so the backspace window",
        WHEELS,
    ),
    one_entry(
        "axles.{axle}.tires",
        "tires at the {axle}",
        "How many tires are at the {axle}?",
        "Two, or four if it has duals.",
        "what each tire carries",
        WHEELS,
    ),
    one_entry(
        "axles.{axle}.load",
        "{axle} weight",
        "What does the {axle} weigh on a scale, ready for use?",
        "One axle at a time on the scale, the other one level with it.",
        "if tires and wheels carry it",
        SCALE,
    ),
    Question(
        "axles.{axle}.studs.pitch",
        "{axle} stud pitch",
        "The {axle} stud's thread: how fine is it?",
        "Hold a thread gauge against it.",
        "which nuts go on",
        OFF,
        (
            Way("threads per inch", (f"{_STUDS}threads_per_inch",)),
            Way("pitch of a metric thread", (f"{_STUDS}pitch",)),
        ),
    ),
    Question(
        "axles.{axle}.ratio",
        "{axle} axle ratio",
        "What is the {axle} axle's ratio?",
        "Off the tag, or count the teeth.",
        "engine speed and pull on the new tires",
        PLATE,
        (
            Way("the ratio on the tag", ("axles.{axle}.ratio",)),
            Way(
                "teeth on the ring gear, and on the pinion",
                ("axles.{axle}.ring_teeth", "axles.{axle}.pinion_teeth"),
            ),
        ),
    ),
    one_entry(
        "drivetrain.gearbox.<gear>",
        "transmission ratios",
        "What are the transmission ratios, first gear first?",
        "Off the plate or the book, with commas between.",
        "engine speed, and pull at the wheel",
        PLATE,
    ),
    one_entry(
        "drivetrain.transfer.<range>",
        "transfer case ratios",
        "What are the transfer case's ratios, high and low?",
        "Off the plate or the book, with a comma between.",
        "engine speed, and pull at the wheel",
        PLATE,
    ),
    *(
        Question(
            f"fitments.{whose}.wheel.backspace",
            f"backspace, {told}",
            f"Where is the mounting face in the wheel ({told})?",
            "Backspace: from the face to the rim's inboard edge. Offset: from the middle of the rim out to the face.",
            "where the tire sits",
            stand,
            (
                Way("backspace", (f"fitments.{whose}.wheel.backspace",)),
                Way("offset", (f"fitments.{whose}.wheel.offset",)),
            ),
        )
        for whose, told, stand in (("found", "on the truck", OFF), ("{fitment}", "planned", TABLE))
    ),
    *(
        Question(
            f"fitments.{whose}.tire.load_index",
            f"tire load, {told}",
            f"What load is the tire ({told}) made for?",
            "On the sidewall or in the maker's table.",
            "if the tires carry the truck",
            stand,
            (
                Way("load index", (f"fitments.{whose}.tire.load_index",)),
                Way("load molded on the sidewall", (f"fitments.{whose}.tire.load_capacity",)),
            ),
        )
        for whose, told, stand in (("found", "on the truck", SIDEWALL), ("{fitment}", "planned", TABLE))
    ),
)

# Of a question that asks for as many as there are: what they are called in the file, and an example.
IN_ORDER = {
    "drivetrain.gearbox.<gear>": (
        ("1st", "2nd", "3rd", "4th", "5th", "6th", "7th", "8th", "9th", "10th"),
        "6.40, 3.09, 1.69, 1",
    ),
    "drivetrain.transfer.<range>": (("high", "low"), "1, 1.96"),
}
INBOARD = ".inboard"  # ends the id of what asks for an obstacle: its name and three places


@lru_cache(maxsize=16)  # a measuring sheet asks it for each reading
def asked_by_key(fitment: str) -> Mapping[str, Question]:
    """By the key of an entry the question of the table that gives it, of the truck and of one candidate."""
    every = (one.at(axle, fitment) for one in QUESTIONS for axle in ("rear", "front"))
    return MappingProxyType({key: one for one in every for key in (one.id, *one.keys)})
