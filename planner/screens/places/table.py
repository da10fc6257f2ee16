"""The places of the program in the order of the build; each is a module of this name beside this file."""

from typing import NamedTuple

LONGEST_TITLE = len("other entries")
MEASURED = ("hub", "studs", "kingpin", "steering", "travel", "brake", "fender")  # of an axle, at the place of that name


class PlaceName(NamedTuple):
    """One place: the module that makes it, what it is called, and what a person does there.

    `subjects` are those whose flags and figures it shows.
    """

    name: str
    title: str
    what: str
    subjects: tuple[str, ...] = ()

    @property
    def short_title(self) -> str:
        """The title where the way through the build has room for it, else the name."""
        return self.title if len(self.title) <= LONGEST_TITLE else self.name


PLACES = (
    PlaceName("ask", "being asked", "one question at a time, what decides most first, where you stand at the truck"),
    PlaceName("overview", "overview", "what's raised, too close to call or not known, worst first"),
    PlaceName("vehicle", "vehicle", "the truck, what you'll use it for, and what the law says", ("stance", "loads")),
    PlaceName("axles", "axles and gearing", "the axles, and what drives them", ("loads", "gearing")),
    PlaceName(
        "measurements",
        "measurements",
        "studs, kingpins, fenders, travel, and what the tire has to clear",
        ("bolts", "steering", "readings"),
    ),
    PlaceName("tires", "tire choice", "the tire of each candidate: size, rating, rim, age", ("tire", "loads")),
    PlaceName("wheel", "wheel spec", "the one wheel that fits tire, hub, brake and body", ("wheel", "bolts")),
    PlaceName("fit", "fit", "if it touches, where, and what would stop that", ("fit", "fender", "steering")),
    PlaceName(
        "look",
        "the look",
        "how it will sit: from the side and both ends, found and planned in one picture",
        ("look",),
    ),
    PlaceName(
        "gearing",
        "gear and speedometer",
        "engine speed, road speed and what the speedometer says",
        ("gearing", "speedometer"),
    ),
    PlaceName("brakes", "brakes", "what larger tires do to the brakes, and the room around them", ("brakes",)),
    PlaceName("limits", "limits", "limits and assumed values you know better, each with your reason"),
    PlaceName("changes", "changes to the truck", "what is done to the truck: considered, decided, done, measured"),
    PlaceName("wishes", "wishes", "what you want from the build, and what you can get for it"),
    PlaceName("proposals", "what fits", "every tire, rim and gear set you can get, tried; what nothing beats, and why"),
    PlaceName("candidates", "candidates", "what each candidate raises, costs and takes, side by side; choose one"),
    PlaceName("tasks", "tasks", "what to do, phase by phase: tick it and write down what you measured"),
    PlaceName(
        "parts", "parts and decisions", "what you buy, what you decided, and the cautions you accepted", ("plan",)
    ),
    PlaceName("others", "other entries", "who buys, the body's outline, and all that's kept of tasks and decisions"),
    PlaceName("sheets", "sheets", "the printed sheets: measuring, order, wall, cards, record, and what's out of date"),
    PlaceName("diary", "diary", "what you changed, when and why; look at any earlier state and bring it back"),
)
NAMES = tuple(one.name for one in PLACES)


def place_named(name: str) -> PlaceName:
    return PLACES[NAMES.index(name)]
