"""The places of the program in the order of the build; each is a module of this name beside this file."""

from typing import NamedTuple


class PlaceName(NamedTuple):
    """One place: the module that makes it, what it is called, and what a person does there."""

    name: str
    title: str
    what: str


PLACES = (
    PlaceName("ask", "being asked", "one question at a time, what decides most first, where you stand at the truck"),
    PlaceName("overview", "what stands", "what is raised, too close to call or not known, the worst first"),
    PlaceName("vehicle", "vehicle", "the truck, what it is to do, and what the law asks of it"),
    PlaceName("axles", "axles and gearing", "the axles that are kept, and what drives them"),
    PlaceName("measurements", "measurements", "studs, kingpins, fenders, travel, and what the tire must clear"),
    PlaceName("tires", "tire choice", "the tire of each candidate: size, rating, rim, age"),
    PlaceName("wheel", "wheel spec", "the one wheel that suits tire, hub, brake and body"),
    PlaceName("fit", "fit", "whether it touches, where, and what would make it not touch"),
    PlaceName("gearing", "gear and speedometer", "engine speed, road speed and what the speedometer says"),
    PlaceName("brakes", "brakes", "what larger tires do to the brakes, and the room around them"),
    PlaceName("limits", "limits", "limits and assumed values that you know better, each with your reason"),
    PlaceName("changes", "changes to the truck", "what is done to the truck: considered, decided, done, measured"),
    PlaceName("candidates", "candidates", "what each candidate raises, costs and takes, side by side; choose one"),
    PlaceName("tasks", "tasks", "what to do, phase by phase: tick it, with what is to be written down"),
    PlaceName("parts", "parts and decisions", "what is bought, what was decided, and the cautions that you took on"),
    PlaceName("sheets", "sheets", "the printed sheets: measuring, order, checklist, record, and what is out of date"),
    PlaceName("diary", "diary", "what was changed, when and why; any earlier state seen and brought back"),
)
NAMES = tuple(one.name for one in PLACES)


def place_named(name: str) -> PlaceName:
    return PLACES[NAMES.index(name)]
