"""What `planner propose` prints: the list, what ruled out the rest, the map of sizes, and the space searched."""

from planner.commands.page import columns, ink, paragraph
from planner.plan.proposing.proposal_words import head, map_key, row_lines, row_pairs, ruled_out_words, space_words
from planner.plan.proposing.rows import ProposalRow, rows
from planner.plan.proposing.search import FitSearch, Proposals, sizes_of
from planner.plan.proposing.size_map import size_map
from planner.plan.proposing.space import OFFERED, SearchSpace
from planner.plan.truck.project import OpenProject
from planner.quantities.kinds import LENGTH
from planner.quantities.show import show
from planner.quantities.text import clean

INDENT = 4


def page(opened: OpenProject, found: Proposals, search: FitSearch, full: bool = False) -> list[str]:
    """The answer, line by line; `full` with all that is known of each."""
    lines = [ink(f"{clean(opened.project.vehicle.name or 'A truck without a name')}: what fits", "strong"), ""]
    for line in head(found, search):
        lines += paragraph(line)
    for at, row in enumerate(rows(opened, found, search.wished), 1):
        lines += ["", *_row(opened, at, row, full)]
    out = ruled_out_words(opened, found)
    lines += ["", ink("What ruled out the rest", "strong")] if out else []
    for number, told in out:
        lines += paragraph(told, 2, f"{number:>6,}  ")
    lines += _map(opened, found)
    if found.proposals:
        lines += [
            "",
            *paragraph('--full shows more of each. --take N --as NAME --because "why" --apply makes one a candidate.'),
        ]
    return [*lines, "Local codes and licensed practice come first."]


def _row(opened: OpenProject, at: int, row: ProposalRow, full: bool) -> list[str]:
    lines = paragraph(f"{row.what}, backspace {row.backspace}", 0, f"{at:>2}  ")
    lines[0] = ink(lines[0], "strong")
    lines += [line for told in row_lines(opened, row) for line in paragraph(told, INDENT)]
    return [*lines, *(columns(row_pairs(row), INDENT) if full else [])]


def _map(opened: OpenProject, found: Proposals) -> list[str]:
    drawn = size_map(found, opened.style)
    if not drawn.lines:
        return []
    lines = ["", ink("Sizes: diameter up, section width across", "strong"), *drawn.lines]
    return [*lines, *columns(map_key(opened, drawn, found))]


def space_page(opened: OpenProject, space: SearchSpace) -> list[str]:
    """What would be tried, each with where it is known from, and how to have it otherwise."""
    pairs = list(space.pairs())
    lines = [ink("What would be tried", "strong"), ""]
    lines += paragraph(f"{space_words(space, len(pairs))}: {len(pairs) * space.geared:,} combinations.")
    lines += ["", ink("Tires", "strong")]
    lines += columns(
        (clean(one.size), f"{_size(opened, *sizes_of(one))}; {_from(one.known_from)}") for one in space.tires
    )
    lines += ["", ink("Rims", "strong")]
    lines += columns((f"{one.code:g}x{one.width.removesuffix(' in')}", _from(one.known_from)) for one in space.rims)
    lines += paragraph("and made to order, every half inch that the tire takes, at each step of backspace", 2)
    lines += ["", ink("Gears", "strong")]
    lines += columns((one.ratio or "as they are", _from(one.known_from)) for one in space.gears)
    lines += ["", ink("Speedometer gears", "strong")]
    lines += columns(
        ("as it is" if one.teeth is None else f"{one.teeth} teeth", _from(one.known_from)) for one in space.driven
    )
    if space.left_out:
        lines += ["", ink("Left out", "strong"), *(line for one in space.left_out for line in paragraph(one, 2))]
    lines += ["", *paragraph(
        "Enter what you can get under [[offered]], such as planner change FILE "
        "'offered[0].designation=37x12.50R17LT'. --offered tries only that, --only TEXT only sizes with that in them."
    )]  # fmt: skip
    return lines


def _size(opened: OpenProject, tall: float, wide: float) -> str:
    return " x ".join(show(one, LENGTH, opened.style, 0.0, beside=False) for one in (tall, wide))


def _from(known_from: str) -> str:
    return "you entered it under [[offered]]" if known_from == OFFERED else clean(known_from)
