"""The wheel order: everything that a wheel maker needs, dimensioned, with a box for the maker's confirmation."""

from collections.abc import Iterator

from planner.plan.truck.pairs import in_pairs
from planner.plan.truck.project import OpenProject
from planner.plan.truck.wording import UNKNOWN, shown
from planner.plan.work.measured_twice import AGAIN, measured_once, once_words
from planner.plan.work.parts import matching_parts, planned_parts
from planner.quantities.kinds import PRESSURE, WEIGHT
from planner.quantities.show import show
from planner.quantities.text import clean
from planner.sheets.blocks import Block, Caution, DrawingBlock, Fields, Heading, Paragraph, Rows, SignatureBox
from planner.sheets.kind import NOT_FOR_ORDER, CannotPrint, Content, SheetKind, Subject
from planner.sheets.shop_face import shop_face
from planner.sheets.shop_section import shop_section
from planner.worksheet.outcome import Known, Spot

CONCERNS = ("wheel", "tire", "fit", "brakes", "stance")  # unknowns in these can make a wheel the wrong wheel
TOLERANCES = (
    "If a dimension has no tolerance of its own: lengths ± {}, angles ± 0.5°, the bore + {} and nothing under, stud "
    "holes on true position within {}, radial and lateral runout at both bead seats no more than {}. If you can't "
    "hold one of these, say so before you start."
)
HOLDS = (("1/32 in", "0.8 mm"), ("0.010 in", "0.25 mm"), ("0.010 in", "0.25 mm"), ("0.030 in", "0.75 mm"))
WARNING = (
    "No old center welded into another rim, no spacer in place of offset. The wheel maker makes, welds and load-rates "
    "the wheels, stands behind them, and marks the rating on them."
)
WHAT = (
    ("rim diameter code", "rim_diameter_code"),
    ("rim width, between the bead seats", "rim_width"),
    ("flange, each", "flange_thickness"),
    ("backspace, inboard edge to mounting face", "backspace"),
    ("offset, worked out", "offset"),
    ("face both are measured to", "offset_face"),
    ("spacing of the pair, center to center", "dual_spacing"),
    ("tire maker's minimum spacing", "least_dual_spacing"),
    ("what holds the inner wheel", "pair_held_by"),
    ("overall width, worked out", "overall_width"),
    ("stud holes", "wheel_stud_count"),
    ("hub's studs, as counted", "stud_count"),
    ("bolt circle of the wheel", "wheel_stud_circle"),
    ("bolt circle of the hub, as measured", "stud_circle"),
    ("center bore", "wheel_bore"),
    ("hub pilot it goes over", "hub_pilot"),
    ("gap between the two, on the diameter", "register_gap"),
    ("nut seat", "wheel_seat"),
    ("angle of the seat", "wheel_seat_angle"),
    ("radius of the seat", "wheel_ball_radius"),
    ("seat's height over the disc", "seat_height"),
    ("seat of the customer's nuts", "nut_seat"),
    ("angle of that seat", "nut_seat_angle"),
    ("radius of that seat", "nut_ball_radius"),
    ("thread of the nuts", "nut_thread"),
    ("stud thread", "stud_diameter"),
    ("threads per inch", "threads_per_inch"),
    ("pitch of the thread", "pitch"),
    ("disc at the studs", "disc_thickness"),
    ("disc's inner face beside the brake", "disc_inner_face"),
    ("drop center, below the bead seat", "well_depth"),
    ("barrel's inside radius at the brake", "barrel_radius"),
    ("brake's largest radius", "brake_radius"),
    ("room over the brake", "radial_clearance"),
    ("room at the brake's face", "face_clearance"),
    ("load rating, each wheel", "wheel_load_rating"),
    ("most tire pressure it's rated for", "greatest_pressure"),
    ("load it carries, truck as weighed", "per_tire"),
    ("load it carries, truck fully loaded", "full_load_per_tire"),
    ("rim", "rim_pieces"),
    ("for tubeless tires", "rim_tubeless"),
    ("for radial tires", "radial_allowed"),
    ("contour", "rim_contour"),
    ("contour the tire maker lists", "tire_contour"),
    ("slope of the bead seats", "bead_seat_angle"),
    ("side of the disc the valve is on", "valve_side"),
    ("valve hole from the center", "valve_radius"),
    ("valve sticks out of the rim", "valve_reach"),
    ("tire it's for", "designation"),
    ("tire's maximum pressure", "rated_pressure"),
    ("tire's cold pressure, truck as weighed", "running_pressure"),
    ("tire's cold pressure, truck fully loaded", "laden_pressure"),
)
AT_THE_MOST = {
    "per_tire": WEIGHT.smallest(),
    "full_load_per_tire": WEIGHT.smallest(),
    "running_pressure": PRESSURE.smallest(),
    "laden_pressure": PRESSURE.smallest(),
}  # told by their upper end, rounded up: what the wheel must take
MOST_NAMED = 12  # entries in one reason
MUST_BE_KNOWN = (
    "rim_diameter_code", "rim_width", "backspace", "wheel_stud_count", "wheel_stud_circle", "wheel_bore", "wheel_seat",
    "wheel_load_rating", "hub_pilot", "stud_circle",
)  # fmt: skip
PAIR_ROWS = ("offset_face", "dual_spacing", "least_dual_spacing", "pair_held_by")  # of two wheels side by side alone
PAIR_MUST = ("offset_face", "disc_thickness", "pair_held_by")
PAIR_LABELS = {label for label, node in WHAT if node in PAIR_ROWS}
PAIR = (
    "At the {axle} two of these go side by side, dish to dish: this order is for duals. The inner wheel sits on the "
    "hub, the outer one, turned around, on the inner one's disc. Machine both faces of the disc, and cut seats for "
    "nuts from the side each goes on. Put a hand hole over the inner wheel's valve. Mix up the faces and the tires "
    "end up two disc thicknesses too close or too far apart."
)
BLANKS = (
    "maker's name", "maker's drawing number", "load rating marked", "price and delivery",
    "deviations from this sheet", "date", "name, in capitals", "signature",
)  # fmt: skip


def build(subject: Subject) -> Content:
    opened = subject.opened
    planned = [name for name in opened.planned if name != "found"]
    if not planned:
        raise CannotPrint("there's no wheel to order: enter a candidate under [fitments.…], with its wheel")
    spots: list[Spot] = []
    blocks: list[Block] = [Caution(WARNING)]
    for fitment in planned:
        blocks += _fitment(subject, fitment, spots)
    blocks += [
        Heading("Tolerances", 2),
        Paragraph(_tolerances(opened)),
        SignatureBox(
            "Finish", ("primer and paint, inside and out", "color", "bare: mounting face, bore and nut seats")
        ),
        SignatureBox(
            "Confirmed by the wheel maker",
            BLANKS,
            "Nothing is ordered until this is signed. By signing, the maker confirms every dimension and tolerance "
            "above and the load rating. This copy stays with the order.",
        ),
    ]
    reasons = tuple(_reasons(subject, planned))
    return Content(tuple(blocks), tuple(dict.fromkeys(spots)), NOT_FOR_ORDER if reasons else "", reasons)


def _fitment(subject: Subject, fitment: str, spots: list[Spot]) -> Iterator[Block]:
    opened = subject.opened
    entry = opened.project.fitments[fitment]
    name = clean(entry.description or fitment)
    yield Heading(name if len(opened.planned) == 1 else f"{clean(fitment)}: {name}")
    if entry.wheel.description:
        yield Paragraph(clean(entry.wheel.description))
    quantity = _quantity(opened, fitment)
    rows = {axle: list(_rows(opened, fitment, axle, spots)) for axle in ("front", "rear")}
    same = [row for row in rows["front"] if row in rows["rear"]]
    yield Fields((("quantity", quantity), *same))
    for axle in rows:
        if in_pairs(opened, fitment, axle):
            yield Paragraph(PAIR.format(axle=axle))
    ends = {axle: dict(row for row in rows[axle] if row not in same) for axle in rows}
    differ = dict.fromkeys((*ends["front"], *ends["rear"]))
    if differ:
        yield Rows(
            ("where the axles differ", "front", "rear"),
            tuple((label, *(ends[axle].get(label, _lacking(label)) for axle in ends)) for label in differ),
            (4, 4, 4),
        )
    inch = opened.style.system == "inch"
    first, other = ("inches", "millimeters") if inch else ("millimeters", "inches")
    note = f"Not to scale. The {other} follow from the {first}, which count. General tolerances below."
    drawn: dict[object, None] = {}
    for axle in ("front", "rear"):
        for picture, tall in (
            (shop_section(opened, fitment, axle), 360.0),
            (shop_face(opened, fitment, axle), 230.0),
        ):
            shape = picture._replace(title="", words="")
            if shape not in drawn:
                drawn[shape] = None
                yield DrawingBlock(picture, tall, note)


def _lacking(label: str) -> str:
    """What stands in the table where one axle has no such row."""
    return "is a single" if label in PAIR_LABELS else UNKNOWN


def _tolerances(opened: OpenProject) -> str:
    """The general tolerances, in the person's units first, as every dimension above them."""
    ways = HOLDS if opened.style.system == "inch" else [pair[::-1] for pair in HOLDS]
    return TOLERANCES.format(*(f"{first} ({other})" for first, other in ways))


def _rows(opened: OpenProject, fitment: str, axle: str, spots: list[Spot]) -> Iterator[tuple[str, str]]:
    must = _must_be_known(opened, fitment, axle)
    for label, node in WHAT:
        if node in PAIR_ROWS and not in_pairs(opened, fitment, axle):
            continue
        spot = opened.spot(node, fitment=fitment, axle=axle)
        spots.append(spot)  # also what is not known yet: once it is, the copy that went out says too little
        if not isinstance(opened.sheet.outcome(spot), Known) and node not in must:
            continue
        text = shown(opened, spot)
        if node in AT_THE_MOST and isinstance(outcome := opened.sheet.outcome(spot), Known):
            most = show(outcome.high, AT_THE_MOST[node], opened.style)
            text = most if node.endswith("pressure") else f"up to {most}"
        if node == "rim_pieces":
            text = {"one": "one piece", "multi": "several pieces"}.get(text, text)
        if node == "offset_face":
            text = {"hub": "the one on the hub", "disc": "the one between the two discs"}.get(text, text)
        yield label, text


def _must_be_known(opened: OpenProject, fitment: str, axle: str) -> tuple[str, ...]:
    """What a wheel cannot be made without; of a pair also the face that offset is taken to, and what lies between."""
    return (*MUST_BE_KNOWN, *PAIR_MUST) if in_pairs(opened, fitment, axle) else MUST_BE_KNOWN


def _quantity(opened: OpenProject, fitment: str) -> str:
    """How many: as the parts list says, or a blank to be filled in."""
    wheels = [need for need in matching_parts(planned_parts(opened), ("wheels",)) if fitment in need.part.used_for]
    return " and ".join(str(need.part.quantity) for need in wheels) or "________ (the spare counts too)"


def _reasons(subject: Subject, planned: list[str]) -> Iterator[str]:
    """Why this must not be ordered: an open stop, a close call on one, an unknown that matters, no choice made."""
    opened = subject.opened
    if len(planned) > 1:
        yield "no candidate is chosen (plan.chosen): " + ", ".join(map(clean, planned))
    for fitment in planned:
        lacking: dict[str, list[str]] = {}
        for axle in ("front", "rear"):
            for node in _must_be_known(opened, fitment, axle):
                spot = opened.spot(node, fitment=fitment, axle=axle)
                if not isinstance(opened.sheet.outcome(spot), Known):
                    lacking.setdefault(opened.sheet.catalog.means(node), []).append(axle)
        if lacking:
            listed = (f"{what} ({' and '.join(axles)})" for what, axles in lacking.items())
            yield f"not known ({clean(fitment)}): {'; '.join(listed)}"
    for flag in subject.flags:
        rule, answer = flag.rule, flag.verdict.answer
        at = f"{flag.where}: " if flag.where else ""
        if flag.under is not None:
            continue  # its cause is as grave and is told
        if rule.severity == "stop" and answer == "raised":
            yield f"stop, {at}{rule.notices} ({rule.name})"
        elif rule.severity == "stop" and answer == "too close to call":
            settles = f"; measure {'; '.join(flag.settles)}" if flag.settles else ""
            yield f"too close to call, {at}{rule.notices} ({rule.name}){settles}"
    yield from _not_judged(subject)
    if once := measured_once(opened):
        yield f"{once_words(once)}; {AGAIN}"


def _not_judged(subject: Subject) -> Iterator[str]:
    """The stops about the wheel that cannot be judged yet, in one line with what to enter for them."""
    waiting = [
        flag
        for flag in subject.flags
        if flag.rule.severity == "stop"
        and flag.verdict.answer == "not known"
        and flag.rule.name.split(".")[0] in CONCERNS
    ]
    rules = dict.fromkeys(flag.rule.name for flag in waiting)
    needs = list(dict.fromkeys(clean(need) for flag in waiting for need in flag.wants))
    troubles = dict.fromkeys(clean(flag.verdict.trouble) for flag in waiting if flag.verdict.trouble)
    if rules:
        more = f" and {len(needs) - MOST_NAMED} more: see the measuring sheet" if len(needs) > MOST_NAMED else ""
        yield f"not known if these hold: {', '.join(rules)}; enter {', '.join(needs[:MOST_NAMED])}{more}"
    yield from troubles


KIND = SheetKind("order", "Wheel order", "what the wheel maker needs, with drawings and a box to sign", build)
