"""Where the tape goes: a drawing for each place that is measured, its readings marked with letters, not to scale."""

from math import cos, pi, sin

from planner.plan.drawings.scene import Arc, Dimension, Label, Line, Scene, Spot, Weight


def _line(*points: Spot, weight: Weight = "outline", closed: bool = False) -> Line:
    return Line(points, weight, closed)


def _box(left: float, low: float, right: float, high: float, weight: Weight = "outline") -> Line:
    return Line(((left, low), (right, low), (right, high), (left, high)), weight, True)


def _at(radius: float, degrees: float) -> Spot:
    return radius * cos(degrees * pi / 180), radius * sin(degrees * pi / 180)


def hub() -> Scene:
    return Scene(
        title="Hub and brake, cut through the axle; the truck is to the left",
        words="The mounting face is upright. A across the pilot, B how far the stud sticks out of the face, C the "
        "brake's largest radius from the axle center line, D how far the brake sticks out past the face, E from the "
        "face inboard to the middle between the bearings.",
        lines=(
            _box(-0.012, -0.13, 0.0, 0.13),
            _box(0.0, -0.055, 0.05, 0.055),
            _box(0.0, 0.09, 0.045, 0.105),
            _box(0.0, -0.105, 0.045, -0.09),
            _line((-0.03, 0.06), (-0.12, 0.06), (-0.12, -0.06), (-0.03, -0.06), weight="thin"),
            _line((-0.012, 0.155), (0.012, 0.155), (0.012, 0.19), (-0.11, 0.19), (-0.11, 0.165), (-0.012, 0.165)),
            _line((-0.17, 0), (0.09, 0), weight="hidden"),
            _line((0, -0.2), (0, 0.23), weight="hidden"),
            _box(-0.055, 0.03, -0.035, 0.055, "thin"),
            _box(-0.115, 0.03, -0.095, 0.055, "thin"),
        ),
        labels=(Label((0.0, 0.275), "mounting face"), Label((0.1, 0.0), "axle", "left")),
        dimensions=(
            Dimension((0.05, 0.055), (0.05, -0.055), "A", 0.085),
            Dimension((0.0, -0.105), (0.045, -0.105), "B", -0.04),
            Dimension((-0.11, 0.0), (-0.11, 0.19), "C", 0.075),
            Dimension((0.0, 0.19), (0.012, 0.19), "D", 0.035),
            Dimension((-0.075, -0.06), (0.0, -0.06), "E", -0.115),
        ),
    )


def axle() -> Scene:
    pin = ((-0.30, 0.14), (-0.342, -0.16))
    return Scene(
        title="Steered axle from the front, left end drawn in full",
        words="A between the two mounting faces, B between the kingpins at hub height, C from the mounting face "
        "inboard to the kingpin line at hub height, D how far the kingpin leans inboard at the top. Caster E is the "
        "same lean seen from the side.",
        lines=(
            _line((-0.30, 0.03), (0.30, 0.03)),
            _line((-0.30, -0.03), (0.30, -0.03)),
            _box(-0.42, -0.09, -0.405, 0.09),
            _box(0.405, -0.09, 0.42, 0.09),
            _line(*pin, weight="thin"),
            _line((0.30, 0.14), (0.342, -0.16), weight="thin"),
            _line((-0.321, -0.16), (-0.321, 0.19), weight="hidden"),
            _line((-0.47, 0), (0.47, 0), weight="hidden"),
        ),
        labels=(Label((-0.30, 0.165), "D", "left"),),
        dimensions=(
            Dimension((-0.42, -0.09), (0.42, -0.09), "A", -0.16),
            Dimension((-0.3205, 0.0), (0.3205, 0.0), "B", -0.15),
            Dimension((-0.42, 0.09), (-0.3205, 0.09), "C", 0.09),
        ),
    )


def steering() -> Scene:
    def wheel(x: float, turned: float) -> Line:
        corners = ((-0.05, -0.17), (0.05, -0.17), (0.05, 0.17), (-0.05, 0.17))
        c, s = cos(turned * pi / 180), sin(turned * pi / 180)
        return Line(tuple((x + u * c - v * s, u * s + v * c) for u, v in corners), "outline", True)

    return Scene(
        title="Steering stops from above, hard over to the left",
        words="A how far the inner wheel turns from straight ahead to its stop, B how far the outer wheel turns at "
        "the same time, C from the kingpin center line to the stop screw.",
        lines=(
            wheel(-0.42, 30),
            wheel(0.42, 24),
            _line((-0.42, -0.22), (-0.42, 0.26), weight="hidden"),
            _line((0.42, -0.22), (0.42, 0.26), weight="hidden"),
            _line((-0.42, 0), (-0.42 - 0.24 * sin(pi / 6), 0.24 * cos(pi / 6)), weight="thin"),
            _line((0.42, 0), (0.42 - 0.24 * sin(0.42), 0.24 * cos(0.42)), weight="thin"),
            _line((-0.34, 0.0), (0.34, 0.0)),
            _line((-0.34, 0.0), (-0.30, -0.10)),
        ),
        arcs=(
            Arc((-0.42, 0), 0.225, pi / 2, pi * 2 / 3, "dimension"),
            Arc((0.42, 0), 0.225, pi / 2, pi / 2 + 0.42, "dimension"),
            Arc((-0.34, 0), 0.012),
            Arc((-0.30, -0.10), 0.008),
        ),
        labels=(
            Label((-0.48, 0.26), "A"),
            Label((0.36, 0.26), "B"),
            Label((0, 0.30), "front of the truck"),
        ),
        dimensions=(Dimension((-0.34, 0.0), (-0.30, -0.10), "C", 0.08),),
    )


def fender() -> Scene:
    return Scene(
        title="Fender opening at ride height: from the side, and from behind",
        words="A from the axle center to the tightest point of the opening, C up to the bump stop, D down until the "
        "spring or shock stops it; in the right-hand view B from the mounting face out to a plumb line from the lip.",
        lines=(
            _line((-0.62, -0.1), (-0.60, 0.0), (-0.55, 0.0), weight="thin"),
            _line((0.62, -0.1), (0.60, 0.0), (0.55, 0.0), weight="thin"),
            _line((-0.08, 0), (0.08, 0), weight="thin"),
            _line((0, -0.08), (0, 0.08), weight="thin"),
            _line((1.0, 0.72), (1.22, 0.70), (1.25, 0.62)),
            _line((1.25, 0.62), (1.25, -0.30), weight="hidden"),
            _box(0.95, -0.42, 1.16, 0.42, "thin"),
            _line((1.05, -0.15), (1.05, 0.15), weight="outline"),
            _line((0.82, 0), (1.05, 0), weight="outline"),
        ),
        arcs=(Arc((0, 0), 0.42), Arc((0, 0), 0.60, 0, pi), Arc((0, 0), 0.05)),
        labels=(Label((1.27, -0.2), "plumb line", "left"),),
        dimensions=(
            Dimension((0, 0), _at(0.6, 60), "A", 0.0),
            Dimension((1.05, -0.15), (1.25, -0.15), "B", -0.38),
            Dimension((-0.05, 0), (-0.05, 0.1), "C", 0.15),
            Dimension((-0.05, -0.12), (-0.05, 0), "D", 0.15),
        ),
    )


def opening() -> Scene:
    turns = {"A": 0, "B": 45, "C": 90, "D": 135, "E": 180}
    return Scene(
        title="Fender opening in five directions, from the side; the front is to the right",
        words="From the axle center to the edge of the opening: A straight ahead, B halfway up, C straight up, D "
        "halfway back, E straight behind; F straight up to the frame.",
        lines=(
            _line((-0.62, -0.1), (-0.60, 0.0), (-0.55, 0.0), weight="thin"),
            _line((0.62, -0.1), (0.60, 0.0), (0.55, 0.0), weight="thin"),
            _line((1.05, 0.3), (1.75, 0.3)),
            _line((1.05, 0.38), (1.75, 0.38)),
            _line((1.1, 0.0), (1.7, 0.0), weight="thin"),
        ),
        arcs=(Arc((0, 0), 0.42, weight="thin"), Arc((0, 0), 0.60, 0, pi), Arc((0, 0), 0.03), Arc((1.4, 0), 0.03)),
        labels=(Label((1.78, 0.34), "frame", "left"), Label((1.78, 0.0), "axle", "left")),
        dimensions=(
            *(Dimension((0, 0), _at(0.6, turn), mark, 0.0) for mark, turn in turns.items()),
            Dimension((1.4, 0.0), (1.4, 0.3), "F", 0.0),
        ),
    )


def bump() -> Scene:
    return Scene(
        title="Bump, from the side of the frame at ride height",
        words="From the rubber stop straight up to the plate that it will hit.",
        lines=(
            _line((-0.5, 0.32), (0.5, 0.32)),
            _line((-0.5, 0.42), (0.5, 0.42)),
            _box(-0.07, 0.0, 0.07, 0.12),
            _line((-0.5, 0.0), (0.5, 0.0)),
            _line((-0.5, -0.08), (0.5, -0.08)),
        ),
        labels=(Label((0.53, 0.37), "frame", "left"), Label((0.53, -0.04), "axle", "left"),
                Label((-0.1, 0.06), "rubber", "right")),
        dimensions=(Dimension((0.0, 0.12), (0.0, 0.32), "C", 0.0),),
    )  # fmt: skip


def wheel() -> Scene:
    upper = (
        (-0.15, 0.245), (-0.14, 0.245), (-0.135, 0.215), (-0.10, 0.215), (-0.08, 0.185), (0.02, 0.185),
        (0.04, 0.215), (0.125, 0.215), (0.13, 0.245), (0.14, 0.245),
    )  # fmt: skip
    return Scene(
        title="Wheel, cut through the middle; the truck is to the left",
        words="A between the bead seats, B thickness of a flange, C backspace: from a straightedge on the inboard rim "
        "to the mounting face, D the bore, E the bolt circle, F the disc, H from the bead seat down to the bottom of "
        "the drop center.",
        lines=(
            _line(*upper),
            _line(*((x, -y) for x, y in upper)),
            _line((0.015, 0.185), (0.015, 0.05), (0.025, 0.05), (0.025, 0.185)),
            _line((0.015, -0.185), (0.015, -0.05), (0.025, -0.05), (0.025, -0.185)),
            _line((-0.2, 0), (0.2, 0), weight="hidden"),
            _line((0.0, 0.095), (0.05, 0.095), weight="hidden"),
            _line((0.0, -0.095), (0.05, -0.095), weight="hidden"),
            _line((-0.15, -0.28), (-0.15, 0.28), weight="thin"),
        ),
        labels=(Label((-0.16, 0.28), "straightedge", "right"), Label((0.015, 0.15), "mounting face ", "right")),
        dimensions=(
            Dimension((-0.135, 0.245), (0.13, 0.245), "A", 0.05),
            Dimension((0.13, 0.23), (0.14, 0.23), "B", -0.03),
            Dimension((-0.15, -0.245), (0.015, -0.245), "C", -0.05),
            Dimension((0.025, 0.05), (0.025, -0.05), "D", 0.06),
            Dimension((0.05, 0.095), (0.05, -0.095), "E", 0.13),
            Dimension((0.015, -0.15), (0.025, -0.15), "F", -0.03),
            Dimension((-0.03, 0.185), (-0.03, 0.215), "H", 0.05),
        ),
    )


def tire() -> Scene:
    return Scene(
        title="Tire: from the side, loaded, and from behind",
        words="A overall diameter, unloaded; D from the axle center to the ground under load; B across the sidewalls, "
        "C across the tread.",
        lines=(
            _line((-0.55, -0.42), (0.55, -0.42)),
            Line(
                ((0.75, -0.28), (0.78, -0.42), (0.98, -0.42), (1.01, -0.28), (1.01, 0.28), (0.98, 0.45), (0.78, 0.45),
                 (0.75, 0.28)), "outline", True),
            _line((-0.06, 0), (0.06, 0), weight="thin"),
            _line((0, -0.06), (0, 0.06), weight="thin"),
        ),
        arcs=(Arc((0, 0), 0.45, -1.2, pi + 1.2), Arc((0, 0), 0.22)),
        dimensions=(
            Dimension((-0.06, -0.42), (-0.06, 0.45), "A", 0.5),
            Dimension((0.06, 0.0), (0.06, -0.42), "D", 0.5),
            Dimension((0.75, -0.28), (1.01, -0.28), "B", -0.24),
            Dimension((0.78, 0.45), (0.98, 0.45), "C", 0.1),
        ),
    )  # fmt: skip


def pair() -> Scene:
    inner = (
        (0.0, 0.08), (-0.02, 0.0), (0.26, 0.0), (0.24, 0.08), (0.24, 0.62), (0.2, 0.8), (0.04, 0.8), (0.0, 0.62),
    )  # fmt: skip
    return Scene(
        title="Two wheels side by side, from behind, loaded; outboard to the right",
        words="A from one tire's sidewall to the same sidewall of the other at hub height; B between the two sidewalls "
        "at the road, where they bulge. A tape around each tread tells how much larger one is than the other.",
        lines=(
            _line((-0.2, 0.0), (0.75, 0.0)),
            Line(inner, closed=True),
            Line(tuple((x + 0.32, y) for x, y in inner), closed=True),
            _line((-0.25, 0.4), (0.0, 0.4), weight="hidden"),
        ),
        dimensions=(
            Dimension((0.24, 0.4), (0.56, 0.4), "A", 0.1),
            Dimension((0.26, 0.0), (0.3, 0.0), "B", -0.12),
        ),
    )


def truck() -> Scene:
    return Scene(
        title="The truck from the side, level, on the tires as found; the front is to the left",
        words="A wheelbase; B and C how far ahead of the front axle and how high the lowest front point is; D and E "
        "the same behind the rear axle; F and G the lowest point between the axles; H overall height; J the "
        "headlights.",
        lines=(
            _line((-0.75, 0.0), (4.1, 0.0)),
            _line(
                (-0.55, 0.5), (-0.55, 1.25), (0.75, 1.35), (1.0, 1.95), (1.75, 1.95), (1.85, 1.2), (3.7, 1.2),
                (3.7, 0.62), (3.1, 0.62),
            ),
            _line((-0.55, 0.5), (-0.4, 0.5)),
            _line((0.4, 0.5), (1.2, 0.5), (1.25, 0.4), (1.6, 0.4), (1.65, 0.55), (2.3, 0.6)),
            _line((0.0, -0.05), (0.0, 0.3), weight="hidden"),
            _line((2.7, -0.05), (2.7, 0.3), weight="hidden"),
        ),
        arcs=(Arc((0, 0.4), 0.4), Arc((2.7, 0.4), 0.4), Arc((-0.45, 0.98), 0.09), Arc((0, 0.4), 0.03),
              Arc((2.7, 0.4), 0.03)),
        dimensions=(
            Dimension((0, 0), (2.7, 0), "A", -0.55),
            Dimension((-0.55, 0.5), (0, 0.5), "B", -0.78),
            Dimension((-0.55, 0.0), (-0.55, 0.5), "C", 0.3),
            Dimension((2.7, 0.62), (3.7, 0.62), "D", -0.9),
            Dimension((3.7, 0.62), (3.7, 0.0), "E", 0.3),
            Dimension((1.42, 0.4), (1.42, 0.0), "F", 0.0),
            Dimension((0.0, 0.0), (1.42, 0.0), "G", -0.25),
            Dimension((1.35, 0.0), (1.35, 1.95), "H", -0.75),
            Dimension((-0.54, 0.0), (-0.54, 0.98), "J", 0.62),
        ),
    )  # fmt: skip


def obstacles() -> Scene:
    return Scene(
        title="What's around the wheel: from the center of the hub's mounting face, seen from above and behind",
        words="Each point has three readings, wheel straight ahead at ride height: forward of the hub center, "
        "outboard of the mounting face and above the hub center. Backward, inboard and below are minus.",
        lines=(
            _line((0, -0.3), (0, 0.34), weight="hidden"),
            _line((-0.42, 0), (0.2, 0), weight="hidden"),
            _line((0, -0.13), (0, 0.13)),
            _line((0.8, -0.3), (0.8, 0.34), weight="hidden"),
            _line((0.38, 0), (1.0, 0), weight="hidden"),
            _line((0.8, -0.13), (0.8, 0.13)),
            _box(-0.33, 0.18, -0.26, 0.24, "thin"),
            _box(0.47, 0.18, 0.54, 0.24, "thin"),
        ),
        labels=(
            Label((0, 0.40), "forward (from above)"),
            Label((0.8, 0.40), "up (from behind)"),
            Label((0.21, -0.03), "outboard", "left"),
            Label((1.01, -0.03), "outboard", "left"),
        ),
        dimensions=(
            Dimension((-0.26, 0.0), (-0.26, 0.18), "forward", -0.1),
            Dimension((-0.26, 0.18), (0.0, 0.18), "outboard (-)", -0.36),
            Dimension((0.54, 0.0), (0.54, 0.18), "up", -0.1),
            Dimension((0.54, 0.18), (0.8, 0.18), "outboard (-)", -0.36),
        ),
    )
