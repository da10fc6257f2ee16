"""Which entries have two sides: what is measured at each wheel, so that left and right may differ."""

from planner.project.lines import Key

SIDES = ("left", "right")

_AT_A_WHEEL = ("hub", "studs", "kingpin", "steering", "travel", "brake", "fender", "tire", "wheel")
_OF_AN_AXLE = ("bearing_setback", "camber", "ride_height")
_ACROSS = {  # between the two sides, or what you wish for both
    "kingpin": ("track",),
    "travel": ("stops_apart", "droop_apart", "most_cross_travel", "side_shift"),
    "fender": ("clearance", "wanted_poke", "greatest_poke"),
}


def has_sides(key: Key) -> bool:
    """Whether an entry stands for both sides of an axle, and can be read on each.

    >>> has_sides(("axles", "front", "fender", "face_to_edge")), has_sides(("axles", "front", "face_to_face"))
    (True, False)
    """
    match key:
        case ("vehicle", "wheelbase"):
            return True
        case ("axles", _, str(name)):
            return name in _OF_AN_AXLE
        case ("axles", _, str(table), str(name)) | ("fitments", _, "front" | "rear", str(table), str(name)):
            return table in _AT_A_WHEEL and name not in _ACROSS.get(table, ())
    return False
