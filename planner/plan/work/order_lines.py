"""The lines of a wheel order: what a maker builds by, and what of the truck the wheel has to go with."""

from typing import NamedTuple


class OrderLine(NamedTuple):
    """One line: where its value is from, whose it is to say where nobody did, and the tolerance where it has none.

    `source` is a node, or after `wheel.` an entry of the wheel's own that no formula reads. Nobody is asked for what is
    worked out, or for what only some wheels have: such a line is left out where it is not known.
    """

    label: str
    source: str
    whose: str = ""
    general: str = ""
    needed: bool = False


class OrderGroup(NamedTuple):
    """Lines that belong together."""

    title: str
    lines: tuple[OrderLine, ...]


AXLES = ("front", "rear")
MAKER, BUYER = "maker to propose", "buyer to fill in"
WHEEL = (
    OrderGroup(
        "Rim",
        (
            OrderLine("rim diameter code", "rim_diameter_code", BUYER, needed=True),
            OrderLine("width between the flanges, at the bead seats", "rim_width", BUYER, "length", True),
            OrderLine("overall width", "overall_width"),
            OrderLine("contour", "rim_contour", MAKER),
            OrderLine("contour the tire maker lists", "tire_contour"),
            OrderLine("flange, height over the bead seat", "flange_height", MAKER, "length"),
            OrderLine("flange, thickness", "flange_thickness", MAKER, "length"),
            OrderLine("bead seats, slope", "bead_seat_angle", MAKER, "angle"),
            OrderLine("safety humps", "wheel.humps", MAKER),
        ),
    ),
    OrderGroup(
        "Drop center, barrel, make",
        (
            OrderLine("drop center, depth below the bead seat", "well_depth", MAKER, "length"),
            OrderLine("drop center, width", "wheel.well_width", MAKER, "length"),
            OrderLine("drop center, its middle from the outboard edge", "wheel.well_position", MAKER, "length"),
            OrderLine("barrel, thickness", "thickness", MAKER, "length"),
            OrderLine("barrel, inside radius at the brake", "barrel_radius", MAKER),
            OrderLine("rim", "rim_pieces", BUYER),
            OrderLine("for tubeless tires", "rim_tubeless", BUYER),
            OrderLine("for radial tires", "radial_allowed", BUYER),
            OrderLine("material of the rim", "wheel.rim_material", MAKER),
        ),
    ),
    OrderGroup(
        "Disc",
        (
            OrderLine("material of the disc", "wheel.disc_material", MAKER),
            OrderLine("thickness at the studs", "disc_thickness", MAKER, "length"),
            OrderLine("inner face at the brake, outboard of the mounting face", "disc_inner_face", MAKER, "length"),
            OrderLine("welds", "wheel.welds", MAKER),
            OrderLine("vents and hand holes", "wheel.vents", MAKER),
        ),
    ),
    OrderGroup(
        "Mounting",
        (
            OrderLine("face that the next two are measured to", "offset_face", BUYER, needed=True),
            OrderLine(
                "backspace: straightedge across the rim's inboard edge, square down to the mounting face",
                "backspace", BUYER, "length", True,
            ),
            OrderLine(
                "offset: mounting face to midway between the bead seats, plus if the face is outboard of that",
                "offset", BUYER, "length",
            ),
            OrderLine("mounting face, flat within", "wheel.face_flatness", MAKER),
            OrderLine("center bore", "wheel_bore", BUYER, "bore", True),
            OrderLine("stud holes, equally spaced", "wheel_stud_count", BUYER, needed=True),
            OrderLine("bolt circle", "wheel_stud_circle", BUYER, "position", True),
            OrderLine("stud holes, diameter", "wheel.hole_diameter", MAKER, "length"),
        ),
    ),
    OrderGroup(
        "Nut seats",
        (
            OrderLine("nut seat", "wheel_seat", BUYER, needed=True),
            OrderLine("angle of the cone, included", "wheel_seat_angle", BUYER, "angle"),
            OrderLine("radius of the ball", "wheel_ball_radius", BUYER, "length"),
            OrderLine("large diameter of the cone", "wheel.seat_diameter", MAKER, "length"),
            OrderLine("depth", "wheel.seat_depth", MAKER, "length"),
            OrderLine("holds the nut's first thread off the disc by", "seat_height", MAKER, "length"),
        ),
    ),
    OrderGroup(
        "Valve",
        (
            OrderLine("hole, diameter", "wheel.valve_hole", MAKER),
            OrderLine("hole, from the wheel's center", "valve_radius", MAKER, "length"),
            OrderLine("side of the disc", "valve_side", MAKER),
            OrderLine("sticks out of the rim by", "valve_reach", MAKER),
        ),
    ),
    OrderGroup(
        "Rating, checks and finish",
        (
            OrderLine("load rating, each wheel", "wheel_load_rating", BUYER, needed=True),
            OrderLine("rated for tire pressure up to", "greatest_pressure", MAKER),
            OrderLine("radial runout, at both bead seats", "wheel.radial_runout", "", "runout"),
            OrderLine("lateral runout, at both bead seats", "wheel.lateral_runout", "", "runout"),
            OrderLine("balance", "wheel.balance", MAKER),
            OrderLine("standard built to", "wheel.standard", MAKER),
            OrderLine("finish", "wheel.finish", BUYER),
            OrderLine("faces that stay bare", "wheel.masked"),
            OrderLine("marked on each wheel", "wheel.marking"),
        ),
    ),
)  # fmt: skip
TRUCK = (
    OrderLine("studs, counted", "stud_count"),
    OrderLine("bolt circle of the hub", "stud_circle", needed=True),
    OrderLine("hub's pilot", "hub_pilot", needed=True),
    OrderLine("room in the bore, on the diameter", "register_gap"),
    OrderLine("thread of the studs", "stud_diameter"),
    OrderLine("threads per inch", "threads_per_inch"),
    OrderLine("pitch", "pitch"),
    OrderLine("stud length out of the face", "stud_length"),
    OrderLine("what holds the inner wheel", "pair_held_by", needed=True),
    OrderLine("spacing of the pair, center to center", "dual_spacing"),
    OrderLine("tire maker's minimum spacing", "least_dual_spacing"),
    OrderLine("brake's largest radius", "brake_radius"),
    OrderLine("brake out past the face", "brake_face"),
    OrderLine("room over the brake", "radial_clearance"),
    OrderLine("room at the brake's face", "face_clearance"),
    OrderLine("load on each wheel, as weighed", "per_tire"),
    OrderLine("load on each wheel, fully loaded", "full_load_per_tire"),
    OrderLine("tire", "designation"),
    OrderLine("tire's maximum pressure", "rated_pressure"),
    OrderLine("tire's cold pressure, truck as weighed", "running_pressure"),
    OrderLine("tire's cold pressure, truck fully loaded", "laden_pressure"),
)
OF_PAIRS = ("offset_face", "pair_held_by", "dual_spacing", "least_dual_spacing")  # of two wheels side by side alone
MUST_BE_KNOWN = (*(line.source for group in WHEEL for line in group.lines if line.needed), "hub_pilot", "stud_circle")
CALLED = {line.source: line.label.partition(":")[0] for line in (*(x for group in WHEEL for x in group.lines), *TRUCK)}
OF_PAIRS_MUST = ("disc_thickness", "pair_held_by")
SEATS = {"wheel_seat_angle": "cone", "wheel.seat_diameter": "cone", "wheel_ball_radius": "ball"}
"""The seat that each of these is of: of another nobody asks for it."""
