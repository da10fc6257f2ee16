"""The wheel order: everything that a wheel maker needs, with room for what was built, and a place to sign."""

from collections.abc import Iterator

from planner.plan.drawings.scene import Scene
from planner.plan.truck.pairs import in_pairs
from planner.plan.truck.project import OpenProject
from planner.plan.truck.wording import together
from planner.plan.work.measured_twice import AGAIN, measured_once, once_words
from planner.plan.work.order_lines import AXLES, BUYER, CALLED, MUST_BE_KNOWN, OF_PAIRS, OF_PAIRS_MUST, TRUCK, WHEEL
from planner.quantities.text import clean
from planner.sheets.blocks import Block, Caution, DrawingBlock, Fields, Heading, Paragraph, Rows, SignatureBox
from planner.sheets.kind import NOT_FOR_ORDER, CannotPrint, Content, SheetKind, Subject
from planner.sheets.order_text import BLANK, GENERAL, OWN, entered, general, measured_text, own_key
from planner.sheets.ordered_wheels import (
    OrderedWheel,
    circle_readings,
    ordered_wheels,
    pieces,
    quantity,
    valve_room,
    what_centers,
    what_goes_on,
)
from planner.sheets.shop_face import shop_face
from planner.sheets.shop_section import shop_section
from planner.worksheet.outcome import Known, Spot

CONCERNS = ("wheel", "tire", "fit", "brakes", "stance")  # unknowns in these can make a wheel the wrong wheel
TOLERANCES = (
    "Where a line has no tolerance of its own: lengths {length}, angles {angle}, the bore {bore}, stud holes "
    "{position}, radial and lateral runout at both bead seats {runout}. If you can't hold one of these, say so before "
    "you start."
)
WARNING = (
    "No old center welded into another rim, no spacer in place of offset. The wheel maker makes, welds and load-rates "
    "the wheels, stands behind them, and marks the rating on them."
)
FOR_ORDER = (
    "Bolt circle, pilot and the nearest obstacles were measured twice, no stop is raised or too close to call, and "
    "every stop about the wheel could be judged. Whoever a blank names fills it in before this is "
    "signed."
)
MOST_NAMED = 6  # rules, or entries, in one reason
PAIR = (
    "At the {axle} two of these go side by side, dish to dish: this order is for duals. The inner wheel sits on the "
    "hub, the outer one, turned around, on the inner one's disc. Machine both faces of the disc, and cut seats for "
    "nuts from the side each goes on. Put a hand hole over the inner wheel's valve. Mix up the faces and the tires "
    "end up two disc thicknesses too close or too far apart."
)
BLANKS = (
    "maker's name", "maker's drawing number", "price and delivery", "deviations from this sheet",
    "name, in capitals", "signature, date",
)  # fmt: skip
SIGNS = ("maker, this page read", "buyer", "date")
MOST_PIECES = 12
DRAWN = "Anything without a dimension is drawn the usual way: the maker proposes it."
MORE_NODES = (  # what is told of nuts, valve and centering
    "stud_circle", "centring", "tires", "nut_seat", "nut_seat_angle", "nut_ball_radius", "nut_thread",
    "thread_hand_left", "thread_hand_right", "valve_clearance",
)  # fmt: skip


def build(subject: Subject) -> Content:
    opened = subject.opened
    planned = [name for name in opened.planned if name != "found"]
    if not planned:
        raise CannotPrint("there's no wheel to order: enter a candidate under [fitments.…], with its wheel")
    reasons = tuple(_reasons(subject, planned))
    blocks: list[Block] = [] if reasons or opened.opened.faults else [Heading("For order"), Paragraph(FOR_ORDER)]
    blocks.append(Caution(WARNING))
    for fitment in planned:
        blocks += _fitment(opened, fitment)
    blocks.append(
        SignatureBox(
            "Confirmed by the wheel maker",
            BLANKS,
            "Nothing is ordered until this is signed. By signing, the maker confirms every dimension and tolerance "
            "on this sheet and the load rating. This copy stays with the order.",
        )
    )
    spots, keys = tuple(_spots(opened, planned)), tuple(_keys(opened, planned))
    return Content(tuple(blocks), spots, reasons, NOT_FOR_ORDER, keys=keys, signs=SIGNS)


def _fitment(opened: OpenProject, fitment: str) -> Iterator[Block]:
    entry = opened.project.fitments[fitment]
    name = clean(entry.description or fitment)
    yield Heading(name if len(opened.planned) == 1 else f"{clean(fitment)}: {name}")
    if entry.wheel.description:
        yield Paragraph(clean(entry.wheel.description))
    yield Fields(tuple(_buyer(opened)))
    wheels = ordered_wheels(opened, fitment)
    for wheel in wheels:
        yield from _wheel(opened, fitment, wheel, len(wheels) > 1)


def _buyer(opened: OpenProject) -> Iterator[tuple[str, str]]:
    buyer = opened.project.buyer
    yield "buyer", clean(buyer.name or f"{BLANK}{BUYER}")
    yield "address", clean(buyer.address or f"{BLANK}{BUYER}")
    reached = ", ".join(clean(one) for one in (buyer.phone, buyer.email) if one)
    if reached:
        yield "phone, e-mail", reached


def _wheel(opened: OpenProject, fitment: str, wheel: OrderedWheel, several: bool) -> Iterator[Block]:
    axles = wheel.axles
    if several:
        yield Heading(f"The {axles[0]} wheels", 2)
    yield Fields((("quantity, this order alone", quantity(opened, fitment, axles)),))
    paired = [axle for axle in axles if in_pairs(opened, fitment, axle)]
    for axle in paired:
        yield Paragraph(PAIR.format(axle=axle))
    yield from _drawings(opened, fitment, axles)
    more = {
        "Mounting": ("what centers the wheel", what_centers(opened, fitment, axles)),
        "Nut seats": ("nuts that go with it", what_goes_on(opened, fitment, axles)),
        "Valve": ("room to the brake", valve_room(opened, fitment, axles)),
    }
    for title, lines in wheel.groups:
        rows = (*lines, *((more[title],) if title in more else ()))
        yield Rows((title, "ordered", "as built"), tuple((*row, "") for row in rows), (4.6, 5.4, 2.4), together=True)
    rows = tuple(_truck_rows(opened, fitment, axles))
    if rows:
        yield Rows(("The truck it goes on", *axles), rows, (3.5, *(8.4 / len(axles) for _ in axles)), together=True)
    yield Rows(
        ("Bolt circle of the hub", "by which readings"),
        tuple((axle, circle_readings(opened, axle)) for axle in axles),
        (1, 4),
        together=True,
    )
    yield Paragraph(TOLERANCES.format_map({kind: general(kind, opened.style) for kind in GENERAL}), small=True)
    yield _pieces(opened, fitment, axles)


def _truck_rows(opened: OpenProject, fitment: str, axles: tuple[str, ...]) -> Iterator[tuple[str, ...]]:
    """What the wheel has to go with, end by end; a line of which nothing is known at any end is left out."""
    paired = {axle: in_pairs(opened, fitment, axle) for axle in axles}
    for line in TRUCK:
        if line.source in OF_PAIRS and not any(paired.values()):
            continue
        texts = {axle: measured_text(opened, fitment, axle, line.source) for axle in axles}
        if line.needed or any(texts.values()):
            of_pair = line.source in OF_PAIRS
            yield (
                line.label,
                *(
                    "is a single" if of_pair and not paired[axle] else text or "NOT KNOWN"
                    for axle, text in texts.items()
                ),
            )


def _pieces(opened: OpenProject, fitment: str, axles: tuple[str, ...]) -> Block:
    """A line for each wheel that is made, to be filled in by the maker and held against what came."""
    many = min(pieces(opened, fitment, axles), MOST_PIECES)
    rows = tuple((str(number), *[""] * 6) for number in range(1, many + 1))
    heads = ("Each wheel", "its mark", "backspace", "bore", "radial runout", "lateral runout", "balance")
    return Rows(heads, rows, (1.2, 2, 1.6, 1.6, 1.6, 1.6, 1.6), together=True)


def _drawings(opened: OpenProject, fitment: str, axles: tuple[str, ...]) -> Iterator[Block]:
    inch = opened.style.system == "inch"
    first, other = ("inches", "millimeters") if inch else ("millimeters", "inches")
    counts = f"The {first} count; the {other} are worked out from them."
    drawn: set[Scene] = set()
    for axle in axles:
        section, face = shop_section(opened, fitment, axle), shop_face(opened, fitment, axle)
        for picture, tall, note in ((section, 360.0, f"{counts} {DRAWN}"), (face, 225.0, counts)):
            shape = picture._replace(title="", words="")
            if shape not in drawn:
                drawn.add(shape)
                yield DrawingBlock(picture, tall, note, scaled=True)


# what it rests on


def _spots(opened: OpenProject, planned: list[str]) -> Iterator[Spot]:
    """Also what is not known yet: once it is, the copy that went out says too little."""
    for fitment in planned:
        for axle in AXLES:
            lines = (*(line for group in WHEEL for line in group.lines), *TRUCK)
            nodes = [line.source for line in lines if not line.source.startswith(OWN)]
            for node in dict.fromkeys((*nodes, *MORE_NODES)):
                if node not in OF_PAIRS or in_pairs(opened, fitment, axle):
                    yield opened.spot(node, fitment=fitment, axle=axle)


def _keys(opened: OpenProject, planned: list[str]) -> Iterator[str]:
    """The entries on it that no formula reads."""
    for fitment in planned:
        for line in (line for group in WHEEL for line in group.lines if line.source.startswith(OWN)):
            yield from dict.fromkeys(own_key(opened, fitment, axle, line.source.removeprefix(OWN)) for axle in AXLES)
    yield from ("buyer.name", "buyer.address")


# why it is not for order


def _reasons(subject: Subject, planned: list[str]) -> Iterator[str]:
    """Why this must not be ordered: an open stop, a close call on one, an unknown that matters, no choice made."""
    opened = subject.opened
    if len(planned) > 1:
        yield "no candidate is chosen (chosen set): " + ", ".join(map(clean, planned))
    for fitment in planned:
        lacking: dict[str, list[str]] = {}
        for axle in AXLES:
            pair = OF_PAIRS_MUST if in_pairs(opened, fitment, axle) else ()
            for node in (*MUST_BE_KNOWN, *pair):
                if node in OF_PAIRS and not pair:
                    continue
                spot = opened.spot(node, fitment=fitment, axle=axle)
                if not isinstance(opened.sheet.outcome(spot), Known):
                    lacking.setdefault(CALLED[node], []).append(axle)
        if lacking:
            listed = [f"{what}{f' ({axles[0]})' if len(axles) == 1 else ''}" for what, axles in lacking.items()]
            yield f"not known ({clean(fitment)}): {_few(listed)}"
        yield from _without_tolerance(opened, fitment)
    for flag in subject.flags:
        rule, answer = flag.rule, flag.verdict.answer
        if flag.under is not None:
            continue  # its cause is as grave and is told
        if rule.severity == "stop" and answer == "raised":
            yield f"stop, {flag.notice} ({rule.name})"
        elif rule.severity == "stop" and answer == "too close to call":
            settles = f"; measure {together(flag.settles)}" if flag.settles else ""
            yield f"too close to call, {flag.notice} ({rule.name}){settles}"
    yield from _not_judged(subject)
    if once := measured_once(opened):
        yield f"{once_words(once)}; {AGAIN}"


def _without_tolerance(opened: OpenProject, fitment: str) -> Iterator[str]:
    """What the room rests on and is judged as exact, though the maker is let have the sheet's own tolerance."""
    for node in ("backspace", "offset"):
        for axle in AXLES:
            found = opened.sheet.outcome(opened.spot(node, fitment=fitment, axle=axle))
            if entered(opened, fitment, axle, node) and isinstance(found, Known) and found.low == found.high:
                held = general("length", opened.style)
                yield (
                    f"no ± for the {node} ({clean(fitment)}): the room is worked out as if it came out exact, and "
                    f"nobody makes it exact; ask the maker what will be held and enter that, such as {held}"
                )
                break


def _not_judged(subject: Subject) -> Iterator[str]:
    """The stops about the wheel that cannot be judged yet, in one line with what to enter for them."""
    waiting = [
        flag
        for flag in subject.flags
        if flag.rule.severity == "stop"
        and flag.verdict.answer == "not known"
        and flag.rule.name.split(".")[0] in CONCERNS
    ]
    rules = list(dict.fromkeys(flag.rule.notices for flag in waiting))
    needs = list(dict.fromkeys(clean(need) for flag in waiting for need in flag.wants))
    troubles = dict.fromkeys(clean(flag.verdict.trouble) for flag in waiting if flag.verdict.trouble)
    if rules:
        told = f"can't be judged yet: {_few(rules, between='; ')}"
        yield f"{told}. Enter {_few(needs, ': see the measuring sheet')}"
    yield from troubles


def _few(names: list[str], rest: str = "", between: str = ", ") -> str:
    more = len(names) - MOST_NAMED
    return between.join(names[:MOST_NAMED]) + (f" and {more} more{rest}" if more > 0 else "")


KIND = SheetKind("order", "Wheel order", "what the wheel maker needs, with drawings and a place to sign", build)
