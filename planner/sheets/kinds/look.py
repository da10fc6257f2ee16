"""The look: how the truck will sit, from the side and from both ends, found and planned in one; then in figures."""

from collections.abc import Iterator

from planner.plan.drawings.looks import MOST, looks_beside, whole_look
from planner.plan.drawings.truck_body import named
from planner.plan.truck.project import OpenProject
from planner.plan.truck.wording import UNKNOWN, in_columns, shown
from planner.quantities.text import clean
from planner.sheets.blocks import Block, DrawingBlock, Heading, Paragraph, Rows
from planner.sheets.kind import Content, SheetKind, Subject
from planner.worksheet.outcome import Known, Spot

ENDS = ("front", "rear")
OF_AN_END = (
    ("tire's diameter", "overall_diameter"),
    ("fender fill", "fender_fill"),
    ("gap ahead", "gap_ahead"),
    ("gap up ahead", "gap_up_ahead"),
    ("gap at the top", "gap_top"),
    ("gap up behind", "gap_up_behind"),
    ("gap behind", "gap_behind"),
    ("at bump, ahead", "bump_gap_ahead"),
    ("at bump, up ahead", "bump_gap_up_ahead"),
    ("at bump, top", "bump_gap_top"),
    ("at bump, up behind", "bump_gap_up_behind"),
    ("at bump, behind", "bump_gap_behind"),
    ("poke (minus is inside)", "poke"),
    ("track", "track"),
    ("rise", "rise"),
)
OF_THE_TRUCK = (
    ("rake, down toward the front", "rake"),
    ("frame higher at the rear axle", "rake_height"),
    ("rake added", "rake_gained"),
    ("front poke minus rear", "poke_difference"),
    ("front track minus rear", "track_difference"),
    ("width over the tires", "width_over_tires"),
    ("highest point", "overall_height"),
)
WISHES = (("poke", "poke"), ("fender_fill", "fender fill"), ("rake", "rake"))
DRAWN = ("wheelbase", "frame_height", "body_width", "front_overhang", "rear_overhang")  # and in no table
SHOWN = 3  # sets in one table
TOGETHER, ONE, BESIDE = 330.0, 430.0, 300.0  # pt; the drawing of each of several, of the one there is, of all


def build(subject: Subject) -> Content:
    opened = subject.opened
    names = list(dict.fromkeys(("found", *opened.planned, *opened.candidates)))
    spots: list[Spot] = []
    blocks: list[Block] = []
    spots += [opened.spot(node, fitment=name, axle=axle) for node in DRAWN for name in names for axle in ENDS]
    own = [name for name in opened.planned if name != "found"] or ["found"]
    for fitment in own[:MOST]:
        blocks += _drawn(opened, fitment, ONE if len(own) == 1 else TOGETHER)
    if len(opened.candidates) > 1:
        blocks.append(DrawingBlock(looks_beside(opened, 2), BESIDE))
    told = [*_wishes(opened)]
    for at in range(0, len(names), SHOWN):
        told += _tables(opened, names[at : at + SHOWN], spots)
    if told:  # behind several drawings the page is full
        blocks += [Heading("In figures", 2, fresh=len(opened.candidates) > 1), *told]
    known = (spot for spot in dict.fromkeys(spots) if isinstance(opened.sheet.outcome(spot), Known))
    return Content(tuple(blocks), tuple(known))


def _drawn(opened: OpenProject, fitment: str, tall: float) -> Iterator[Block]:
    """A drawing, with what is not in it under it."""
    view = whole_look(opened, fitment)
    yield DrawingBlock(view.scene, tall)
    if left_out := named(opened, view.left_out):
        yield Paragraph(left_out, small=True)


def _wishes(opened: OpenProject) -> Iterator[Block]:
    told = [
        f"{label} {clean(wish.text)}"
        for key, label in WISHES
        if (wish := getattr(opened.project.wishes, key)) is not None
    ]
    if told:
        yield Paragraph(f"You wish for: {'; '.join(told)}.")


def _tables(opened: OpenProject, names: list[str], spots: list[Spot]) -> Iterator[Block]:
    """The figures, a column for each end of a set and then one a set; what is known of none of them is left out."""
    places = [(name, axle) for name in names for axle in ENDS]
    whole = [(name, "front") for name in names]
    for heads, rows in (
        ([f"{clean(name)}, {axle}" for name, axle in places], _rows(opened, OF_AN_END, places, spots)),
        (list(map(clean, names)), _rows(opened, OF_THE_TRUCK, whole, spots)),
    ):
        if rows:
            yield Rows(("", *heads), tuple(rows), (1.25, *(6.4 / len(heads) for _ in heads)))


def _rows(
    opened: OpenProject, asked: tuple[tuple[str, str], ...], places: list[tuple[str, str]], spots: list[Spot]
) -> list[tuple[str, ...]]:
    rows = []
    for label, node in asked:
        row = [opened.spot(node, fitment=name, axle=axle) for name, axle in places]
        known = [spot for spot in row if isinstance(opened.sheet.outcome(spot), Known)]
        if known:
            spots += known
            rows.append((label, *(_shown(opened, spot) if spot in known else UNKNOWN for spot in row)))
    return rows


def _shown(opened: OpenProject, spot: Spot) -> str:
    """A value in the person's own system alone: there are many of them beside each other."""
    told = in_columns(opened, spot)
    return shown(opened, spot) if told is None else told[0]


KIND = SheetKind("look", "Look", "how it will sit: from the side and both ends, over the truck as found", build)
