"""The look: how the truck will stand, from the side and from both ends, found and planned in one; then in figures."""

from collections.abc import Iterator

from planner.plan.drawings.looks import looks_beside, whole_look
from planner.plan.drawings.scene import Scene
from planner.plan.truck.project import OpenProject
from planner.plan.truck.wording import UNKNOWN, shown
from planner.quantities.text import clean
from planner.sheets.blocks import Block, DrawingBlock, Heading, Paragraph, Rows
from planner.sheets.kind import Content, SheetKind, Subject
from planner.worksheet.outcome import Known, Spot

ENDS = ("front", "rear")
OF_AN_END = (
    ("tire's diameter", "overall_diameter"),
    ("tire over opening", "fender_fill"),
    ("gap ahead", "gap_ahead"),
    ("gap up ahead", "gap_up_ahead"),
    ("gap at the top", "gap_top"),
    ("gap up behind", "gap_up_behind"),
    ("gap behind", "gap_behind"),
    ("on the bump stop: ahead", "bump_gap_ahead"),
    ("on the bump stop: up ahead", "bump_gap_up_ahead"),
    ("on the bump stop: at the top", "bump_gap_top"),
    ("on the bump stop: up behind", "bump_gap_up_behind"),
    ("on the bump stop: behind", "bump_gap_behind"),
    ("poke (minus is inside)", "poke"),
    ("track", "track"),
    ("rise", "rise"),
)
OF_THE_TRUCK = (
    ("rake, down toward the front", "rake"),
    ("frame higher at the rear axle", "rake_height"),
    ("rake gained", "rake_gained"),
    ("front poke minus rear", "poke_difference"),
    ("front track minus rear", "track_difference"),
    ("wide over the tires", "width_over_tires"),
    ("highest point", "overall_height"),
)
WISHES = (("poke", "poke"), ("fender_fill", "tire over opening"), ("rake", "rake"))
SHOWN = 4  # sets in one table
DEEP, WIDE = 470.0, 300.0  # pt; a whole page's drawing, and one of several


def build(subject: Subject) -> Content:
    opened = subject.opened
    names = list(dict.fromkeys(("found", *opened.planned, *opened.candidates)))
    spots: list[Spot] = []
    blocks: list[Block] = []
    own = [name for name in opened.planned if name != "found"] or ["found"]
    for fitment in own[:SHOWN]:
        scene = whole_look(opened, fitment)
        blocks += list(_drawn(scene, DEEP if len(own) == 1 else WIDE))
    if len(opened.candidates) > 1:
        blocks += list(_drawn(looks_beside(opened, 2), WIDE))
    blocks += _wishes(opened)
    for at in range(0, len(names), SHOWN):
        blocks += _table(opened, names[at : at + SHOWN], spots)
    return Content(tuple(blocks), tuple(dict.fromkeys(spots)))


def _drawn(scene: Scene, tall: float) -> Iterator[Block]:
    """A drawing, with what is not in it under it."""
    _, mark, left_out = scene.words.partition("Not drawn, ")
    yield DrawingBlock(scene, tall)
    if left_out and not scene.missing:
        yield Paragraph(f"{mark}{left_out}", small=True)


def _wishes(opened: OpenProject) -> Iterator[Block]:
    told = [
        f"{label} {clean(wish.text)}"
        for key, label in WISHES
        if (wish := getattr(opened.project.wishes, key)) is not None
    ]
    if told:
        yield Paragraph(f"You wish for: {'; '.join(told)}.")


def _table(opened: OpenProject, names: list[str], spots: list[Spot]) -> Iterator[Block]:
    """The figures, a column a set; rows of which nothing is known in any of them are left out."""
    rows: list[tuple[str, ...]] = []
    for label, node in OF_AN_END:
        for axle in ENDS:
            rows += _row(opened, f"{label}, {axle}", node, axle, names, spots)
    for label, node in OF_THE_TRUCK:
        rows += _row(opened, label, node, "front", names, spots)
    if rows:
        yield Heading("In figures")
        widths = (1.5, *(1.2 for _ in names))
        yield Rows(("", *map(clean, names)), tuple(rows), widths)


def _row(
    opened: OpenProject, label: str, node: str, axle: str, names: list[str], spots: list[Spot]
) -> Iterator[tuple[str, ...]]:
    places = [opened.spot(node, fitment=name, axle=axle) for name in names]
    known = [isinstance(opened.sheet.outcome(spot), Known) for spot in places]
    if any(known):
        spots += [spot for spot, there in zip(places, known, strict=True) if there]
        yield label, *(shown(opened, spot) if there else UNKNOWN for spot, there in zip(places, known, strict=True))


KIND = SheetKind(
    "look", "The look", "how the truck will stand, from the side and the ends, beside what was found", build
)
