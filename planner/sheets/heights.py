"""About how high blocks stand on paper, rather too high than too low: so that a page for one evening is one page."""

from collections.abc import Iterable
from math import ceil

from planner.sheets.blocks import Blank, Blanks, Block, Caution, DrawingBlock, Heading, Paragraph

LINE, SMALL = 13.5, 12.4  # pt


def page_height(blocks: Iterable[Block]) -> float:
    """What these take of a page, in points."""
    return sum(map(_height, blocks))


def head_height(name: str, reasons: tuple[str, ...]) -> float:
    """What a long name and a banner with its reasons take of the first page, above what every head takes."""
    banner = 75.0 + sum(LINE * ceil(len(text) / 90) for text in reasons) if reasons else 0.0
    return banner + LINE * (len(name) // 60)


def _height(block: Block) -> float:
    match block:
        case Heading():
            return 36.0 if block.level == 1 else 30.0
        case Caution():
            return 34.0 + LINE * ceil(len(block.text) / 95)
        case Paragraph():
            return 10.0 + LINE * ceil(len(block.text) / 98)
        case DrawingBlock():
            return 45.0 + block.tall
        case Blanks():
            return 24.0 + sum(map(_row_height, block.rows))
    return 0.0


def _row_height(row: Blank) -> float:
    keys = [text for one in row.readings for text in (f"{one.key} {one.known}", one.better and f"wanted: {one.better}")]
    left = sum(SMALL * ceil(len(text) / 44) for text in (row.what, row.how, row.tool, *keys))
    lines = 23.5 * len(row.sides) + 18.0 if row.parts else 23.5 * row.times
    return 11.0 + max(left, lines * len(row.readings))
