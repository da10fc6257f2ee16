"""A sheet as plain text in 80 columns: the same blocks as on paper, drawings told in words."""

from collections.abc import Iterable, Iterator
from textwrap import wrap

from planner.plan.drawings.scene import Scene
from planner.quantities.text import clean
from planner.sheets.blocks import (
    MARK,
    Blank,
    Blanks,
    Block,
    Caution,
    Contents,
    DrawingBlock,
    Fields,
    Heading,
    Hold,
    Paragraph,
    Photos,
    Rows,
    Sheet,
    SignatureBox,
    TaskBlock,
    Tick,
    WallPhase,
    WallTask,
)

WIDTH = 80
LAST = "Local codes and licensed practice come first. It helps you plan; it doesn't clear a truck for the road."
_BAR = "#" * WIDTH
_WALL_BLANKS = {"": "", "value": "_" * 10, "words": "_" * 24}
_STATES = {"done": "[x]", "dropped": "[-]"}


def text(sheet: Sheet) -> str:
    """The whole sheet, a line's end at its end."""
    lines = list(_head(sheet))
    for block in sheet.blocks:
        lines += _block(block, sheet)
    if sheet.read_from is not None:
        lines += ["", *_wrapped(f"On paper it's read from {sheet.read_from.says}.")]
    if sheet.signs:
        lines += ["", *(f"{who}: {'_' * (WIDTH - len(who) - 2)}" for who in sheet.signs)]
    lines += ["", *_wrapped(LAST)]
    if sheet.rests:
        lines += _wrapped(f"Rests on {sheet.rests}.")
    lines.append(f"{MARK}.")
    return "\n".join(line.rstrip() for line in lines).strip("\n") + "\n"


def _head(sheet: Sheet) -> Iterator[str]:
    right = f"sheet {sheet.number}" if sheet.number else "not numbered"
    yield f"{sheet.title.upper():<{WIDTH - len(right)}}{right}"
    on = sheet.on.isoformat()
    lines = _wrapped(sheet.truck, width=WIDTH - len(on) - 2)
    yield f"{lines[0]:<{WIDTH - len(on)}}{on}"
    yield from lines[1:]
    yield "=" * WIDTH
    if sheet.banner:
        yield f"*** {sheet.banner} ***".center(WIDTH)
        for reason in sheet.reasons:
            yield from _wrapped(reason, first="- ")
        yield "=" * WIDTH


def _wrapped(text: str, indent: int = 0, first: str = "", width: int = WIDTH) -> list[str]:
    """Lines no wider than this; `first` stands before the first one and the others hang below it."""
    room = max(8, width - indent - len(first))
    lines = wrap(clean(text), room, break_long_words=True, break_on_hyphens=False) or [""]
    return [" " * indent + (first if at == 0 else " " * len(first)) + line for at, line in enumerate(lines)]


def _block(block: Block, sheet: Sheet) -> Iterator[str]:
    match block:
        case Heading():
            yield from _heading(block)
        case Paragraph():
            yield ""
            yield from _wrapped(block.text)
        case Contents():
            yield ""
            for one in sheet.blocks:
                if isinstance(one, Heading) and one.level <= 2 and one.text != "Contents":
                    yield from _wrapped(one.text, 2 * one.level)
        case Fields():
            yield ""
            yield from _columns(block.rows, (3, 5))
        case Rows():
            yield ""
            yield from _columns((block.heads,), block.widths)
            yield "-" * WIDTH
            blank = "________" if block.together else ""  # what is to be written in
            yield from _columns((tuple(cell or blank for cell in row) for row in block.rows), block.widths)
        case DrawingBlock():
            yield from _drawing(block)
        case Photos():
            yield ""
            for photo in block.rows:
                yield from _wrapped(photo.says, first="photo not printed: " if photo.trouble else "photo: ")
        case Blanks():
            for row in block.rows:
                yield from _blank(row)
        case TaskBlock():
            yield from _step(block)
        case Hold():
            yield from ["", _BAR, *_wrapped(block.words, 2)]
            yield from _step(block.step)
            if not block.step.closed:
                yield from ["", "    signed ______________________________   date ________________"]
            yield _BAR
        case Caution():
            yield ""
            yield from _wrapped(block.text, first="! CAUTION: ")
        case SignatureBox():
            yield from _box(block)
        case WallPhase():
            yield from _heading(Heading(f"{block.name}: {block.done}"))
            if block.caution:
                yield from ["", *_wrapped(block.caution, first="! ")]
            for task in block.tasks:
                yield from _on_wall(task)


def _on_wall(task: WallTask) -> Iterator[str]:
    yield ""
    if task.hold:
        yield _BAR
    if task.hold and not task.closed:
        yield from _wrapped("HOLD. Sign before you go on.", 2)
    boxes = (f"{_STATES.get(one.state, '[ ]')}{one.end}{f' {one.side}' if one.side else ''}" for one in task.boxes)
    yield from _wrapped(task.title, first=f"{' '.join(boxes)} ")
    for line in task.lines:
        yield from _wrapped(" ".join(f"{one.says} {_WALL_BLANKS[one.blank]}".strip() for one in line), 4)
    if task.signed:
        yield from _wrapped(task.signed, 4)
    elif task.hold:
        yield "    initials ____________________   date ________________"
    if task.hold:
        yield _BAR


def _heading(block: Heading) -> Iterator[str]:
    lines = _wrapped(block.text.upper() if block.level == 1 else block.text)
    yield from ["", *([""] if block.level == 1 else []), *lines]
    if block.level <= 2:
        yield ("=" if block.level == 1 else "-") * max(map(len, lines))


def _drawing(block: DrawingBlock) -> Iterator[str]:
    picture = block.picture
    yield ""
    yield from _wrapped(f"[drawing: {picture.title}] {picture.words}")
    if isinstance(picture, Scene):
        for one in picture.dimensions:
            if len(one.text) > 1:
                yield from _wrapped(one.text, 2, "- ")
    if picture.missing:
        yield from _wrapped("Not drawn, because not known: " + "; ".join(picture.missing), 2)
    if block.note and not picture.missing:
        yield from _wrapped(block.note, 2)


def _blank(row: Blank) -> Iterator[str]:
    yield ""
    yield from _wrapped(row.what, first=f"{row.mark or '-'}  ")
    if row.how:
        yield from _wrapped(row.how, 3)
    if row.tool:
        yield from _wrapped(row.tool, 3)
    for one in row.readings:
        yield from _wrapped(one.key, 3)
        if one.known:
            yield from _wrapped(f"now: {one.known}", 3)
        if one.better:
            yield from _wrapped(f"wanted: {one.better}", 3)
        if row.parts and one.where:
            yield from _wrapped(one.where, 3)
        spread = " ± ________" if row.spread else ""
        blanks = " ".join(f"{side} __________" for side in row.sides) or "____________________"
        if row.parts:
            several = " ".join(f"{part} __________" for part in row.parts)
            yield from (f"   {side:<5} {several} {row.unit}" for side in row.sides or ("",))
            continue
        for time in range(row.times):
            yield f"   {clean('again' if time else one.where)[:20]:<20} {blanks}{spread} {row.unit}"


def _step(step: TaskBlock) -> Iterator[str]:
    yield ""
    single = len(step.ticks) == 1
    first = f"{_STATES.get(step.ticks[0].state, '[ ]')} " if single else ""
    yield from _wrapped(step.title, first=first)
    if not step.closed:  # what is closed stands in short, as on paper
        if step.caution:
            yield from _wrapped(step.caution, 4, "! CAUTION: ")
        if step.how:
            yield from _wrapped(step.how, 4)
        if step.tools:
            yield from _wrapped(f"tools: {step.tools}", 4)
    for tick in step.ticks:
        if not single:
            yield from _wrapped(tick.where, 4, f"{_STATES.get(tick.state, '[ ]')} ")
        yield from _tick(tick, 4 if single else 8)


def _tick(tick: Tick, indent: int) -> Iterator[str]:
    if tick.state == "look again":
        yield from _wrapped(f"LOOK AGAIN: {tick.why}", indent)
    for label, said in (("note", tick.note), ("parts", tick.parts), ("torque", tick.torque)):
        if said:
            yield from _wrapped(f"{label}: {said}", indent)
    if tick.record and tick.recorded:
        yield from _wrapped(f"{tick.record}: {tick.recorded}", indent)
    elif tick.record:
        yield from _wrapped(f"write down {tick.record}: ____________________", indent)
        if tick.range:
            yield from _wrapped(f"acceptable: {tick.range}", indent)
    if tick.done:
        yield from _wrapped(tick.done, indent)


def _box(block: SignatureBox) -> Iterator[str]:
    edge = "+" + "-" * (WIDTH - 2) + "+"
    lines = [*_wrapped(block.title, width=WIDTH - 4), *(_wrapped(block.note, width=WIDTH - 4) if block.note else [])]
    for label in block.labels:
        said = _wrapped(label, width=WIDTH - 14)
        lines += ["", *said[:-1], f"{said[-1]} {'_' * (WIDTH - 5 - len(said[-1]))}"]
    yield from ["", edge, *(f"| {line:<{WIDTH - 4}} |" for line in lines), edge]


def _columns(rows: Iterable[tuple[str, ...]], shares: tuple[float, ...]) -> Iterator[str]:
    """Rows in columns by their shares of the width, each cell wrapped in its own."""
    room = WIDTH - 2 * (len(shares) - 1)
    widths = [max(4, int(room * share / sum(shares))) for share in shares]
    for row in rows:
        cells = [
            wrap(clean(cell), wide, break_on_hyphens=False) or [""] for cell, wide in zip(row, widths, strict=True)
        ]
        for at in range(max(map(len, cells))):
            yield "  ".join(
                f"{cell[at] if at < len(cell) else '':<{wide}}" for cell, wide in zip(cells, widths, strict=True)
            )
