"""What a sheet is made of: plain blocks of content, the same for paper and for text."""

from datetime import date
from typing import Any, Literal, NamedTuple

from planner.plan.drawings.scene import Chart, Grid, Scene
from planner.sheets.picture_data import PictureData

MARK = "A sheet of the truck wheel planner"  # in each sheet that is printed, and in nothing else: see sheet_file.py
Picture = Scene | Grid | Chart


class Heading(NamedTuple):
    """A heading; of level 1 it stands in the table of contents, where a sheet has one. `fresh` begins a page."""

    text: str
    level: int = 1
    fresh: bool = False


class Paragraph(NamedTuple):
    """Running text; `small` is for what only some readers want."""

    text: str
    small: bool = False


class Contents(NamedTuple):
    """A table of contents with page numbers; in text, without them."""


class Fields(NamedTuple):
    """Named values, a line each."""

    rows: tuple[tuple[str, str], ...]


class Rows(NamedTuple):
    """A table; `widths` are the columns' shares of the width, the heads come again on every page.

    One that stays `together` is not parted between two pages, as long as it fits one, and what is empty in it is boxed
    to be written in.
    """

    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    widths: tuple[float, ...]
    together: bool = False


class DrawingBlock(NamedTuple):
    """A picture, as high as `tall` points allow; `note` stands below it.

    One that is `scaled` is drawn to a round scale, which stands in its title.
    """

    picture: Picture
    tall: float = 230.0
    note: str = ""
    scaled: bool = False


class Photo(NamedTuple):
    """A photo with what it shows, `name` as in the file; without a picture `trouble` says why it is not printed."""

    name: str
    caption: str
    picture: PictureData | None = None
    trouble: str = ""

    @property
    def says(self) -> str:
        """What stands below it, or of one that is not printed in its place."""
        told = f"{self.caption} ({self.name})" if self.caption else self.name
        return f"{told}: {self.trouble}" if self.trouble else told


class Photos(NamedTuple):
    """Photos side by side, each above its caption."""

    rows: tuple[Photo, ...]


class BlankEnd(NamedTuple):
    """One blank: at which end, where it is filed, what the file says now, and how well it must be measured."""

    where: str
    key: str
    known: str = ""
    better: str = ""


class Blank(NamedTuple):
    """A reading to take: the letter that marks it in the drawing, what it is, how it is had, a blank for each end.

    `unit` is what the blanks are in, empty for what has none; `spread` whether a blank for how well it was measured
    belongs beside each; `parts` names the readings of which one blank holds several. `tool` is what it is read with;
    each of the `sides` has its blank, and all of them come as often as it is to be read.
    """

    mark: str
    what: str
    how: str
    readings: tuple[BlankEnd, ...]
    unit: str = ""
    spread: bool = True
    parts: tuple[str, ...] = ()
    tool: str = ""
    sides: tuple[str, ...] = ()
    times: int = 1


class Blanks(NamedTuple):
    """Readings to take, together."""

    rows: tuple[Blank, ...]


class Tick(NamedTuple):
    """A box to tick, and what goes with it: the torque, and the blank for what is written down with its range.

    `state` is as in the task list; `why` says why it is to be looked at again; `recorded` what was written down; `done`
    when it was done, or why it was dropped. `id` is the task's, by which a slip later finds its page.
    """

    where: str
    state: str = "ready"
    torque: str = ""
    record: str = ""
    range: str = ""
    recorded: str = ""
    done: str = ""
    why: str = ""
    parts: str = ""
    note: str = ""
    words: bool = False  # what is written down is in words: who, what, when
    id: str = ""


class TaskBlock(NamedTuple):
    """A task: what to do, where it can hurt, how it is done and with which tools, and a box for each end at which it is
    done.
    """

    title: str
    ticks: tuple[Tick, ...]
    caution: str = ""
    how: str = ""
    tools: str = ""

    @property
    def closed(self) -> bool:
        return all(one.state in ("done", "dropped") for one in self.ticks)


class Hold(NamedTuple):
    """A heavy bar across the page: nothing below it is begun before the step in it is signed."""

    step: TaskBlock

    @property
    def words(self) -> str:
        """What stands at its head."""
        if not self.step.closed:
            return "HOLD. Don't start anything below this bar until it's signed."
        return "HOLD, signed." if all(one.state == "done" for one in self.step.ticks) else "HOLD, dropped."


class Caution(NamedTuple):
    """A danger, framed."""

    text: str


class SignatureBox(NamedTuple):
    """A framed box to be filled in by hand, a line for each label; `note` says what a signature in it means."""

    title: str
    labels: tuple[str, ...]
    note: str = ""


class WallBox(NamedTuple):
    """A box to tick on the wall: of which end and side, as far as it is of one; `state` is as in the task list, `id`
    the task's.
    """

    end: str = ""
    side: str = ""
    state: str = "ready"
    id: str = ""


class WallPiece(NamedTuple):
    """A piece of a line under a task on the wall: words, and a `blank` behind them, for a `value` or for `words`."""

    says: str
    blank: Literal["", "value", "words"] = ""
    strong: bool = False


class WallTask(NamedTuple):
    """A task on the wall: one line, a box for each end or wheel, and lines under it. A `hold` is a bar to be signed;
    `signed` says who did and when.
    """

    title: str
    boxes: tuple[WallBox, ...]
    lines: tuple[tuple[WallPiece, ...], ...] = ()
    hold: bool = False
    signed: str = ""

    @property
    def closed(self) -> bool:
        return all(one.state in ("done", "dropped") for one in self.boxes)


class WallPhase(NamedTuple):
    """A phase on the wall: it begins a page, and its name and its one caution stand again on every page of it."""

    name: str
    done: str
    caution: str
    tasks: tuple[WallTask, ...]


class ReadFrom(NamedTuple):
    """The distance that a wall sheet is read from, as a person says it and in m."""

    says: str
    meters: float


Block = (
    Heading
    | Paragraph
    | Contents
    | Fields
    | Rows
    | DrawingBlock
    | Photos
    | Blanks
    | TaskBlock
    | Hold
    | Caution
    | SignatureBox
    | WallPhase
)


class Sheet(NamedTuple):
    """A sheet ready to be set: its head, its blocks, and what it rests on.

    `number` is 0 on one that is only looked at. `banner` stands across the head and on every page, such as NOT FOR
    ORDER, with its `reasons` below it the first time. `rests` says in words what state of the project it was made of.
    `signs` are the lines at the foot of each page on which it is signed.
    """

    kind: str
    title: str
    truck: str
    number: int
    on: date
    blocks: tuple[Block, ...]
    banner: str = ""
    reasons: tuple[str, ...] = ()
    rests: str = ""
    rested_on: dict[str, str] = {}
    slip: bool = False
    read_from: ReadFrom | None = None
    signs: tuple[str, ...] = ()

    @property
    def named(self) -> str:
        """`Wall sheet, sheet 3`."""
        return f"{self.title}, sheet {self.number}" if self.number else f"{self.title}, not numbered"


def not_printed(sheet: Sheet) -> list[str]:
    """Each photo that is on the sheet by its name alone, with the reason."""
    photos = (one for block in sheet.blocks if isinstance(block, Photos) for one in block.rows)
    return list(dict.fromkeys(f"photo {one.name} isn't printed: {one.trouble}" for one in photos if one.trouble))


def plainly(value: Any) -> Any:
    """Blocks as plain data for the template, the type of each beside it."""
    if hasattr(value, "_asdict"):
        return {"type": type(value).__name__.lower(), **{name: plainly(one) for name, one in value._asdict().items()}}
    return [plainly(one) for one in value] if isinstance(value, (tuple, list)) else value
