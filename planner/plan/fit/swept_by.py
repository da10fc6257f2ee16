"""What a sweep and the limits beside it rest on, so that nothing is swept anew for an entry that moves none of it."""

from collections.abc import Iterable

from planner.plan.fit.fit_limits import DOOR_RULE
from planner.plan.fit.swept_motion import SPACINGS
from planner.plan.fit.swept_wheel import AT_REST, MOTION, PLANES, SHAPES, STEERING, TIRE
from planner.plan.truck.project import OpenProject, place_of
from planner.project.facts import entrance_at
from planner.project.lines import Key
from planner.worksheet.outcome import Spot

READ = {
    *MOTION, *AT_REST, *STEERING, *TIRE, *SHAPES, *SPACINGS, *PLANES.values(), DOOR_RULE,
    "backspace", "rim_width", "overall_diameter", "tires", "required_clearance", "obstacle_clearance",
    "backspace_step", "road_cross_travel", "stop_angle_out",
}  # fmt: skip


def moves_fit(opened: OpenProject, keys: Iterable[Key], also: frozenset[str] = frozenset()) -> bool:
    """Whether one of these entries moves what is swept, a limit beside it, or one of the nodes in `also`.

    An entry that no formula reads by its own name, such as an obstacle, counts as one that does.
    """
    layout = opened.sheet.layout
    bounding = {rule.node for rule in opened.sheet.catalog.rules.values() if rule.bounds}
    wanted = READ | bounding | also
    for key in keys:
        names = tuple(map(str, key))
        found = entrance_at(names)
        if found is None or (key[0] == "fitments" and key[1] not in opened.project.fitments):
            return True
        steps = layout.serves(Spot(found[0].fact, place_of(found[1])))
        if not wanted.isdisjoint(layout.steps[at].spot.node for at in layout.reach(steps)):
            return True
    return False
