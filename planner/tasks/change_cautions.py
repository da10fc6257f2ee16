"""Where the danger is in a change to the truck, by its kind; a kind without danger of its own is not here."""

from collections.abc import Mapping

CAUTIONS: Mapping[str, str] = {
    "steering stops": "Steering stops are safety parts: somebody licensed for steering work sets both sides alike and "
    "turns the wheels lock to lock, also at full bump, before the truck moves.",
    "lift": "A lift moves the steering, the brake hoses and the propeller shafts: a licensed shop looks at all three "
    "before the truck moves.",
    "bump stop": "Without its bump stops the axle reaches what the stop kept it from: look at full bump on stands, "
    "nobody under the truck.",
    "spacer or adapter": "A spacer hangs the wheel on its own bolts and loads the wheel bearings more. Many places "
    "forbid them. Tighten both rows of nuts to their torque, and again after 50 miles.",
    "studs and nuts": "A wheel comes off where thread, seat or length is wrong: the same thread, hand and seat on "
    "every stud, full engagement, and the torque again after 50 miles.",
    "hub bore or ring": "A hub that is cut cannot be made whole again: a machine shop does it, and somebody qualified "
    "says first that the hub still carries the load.",
    "gear set": "Front and rear ratios that differ bind the driveline in four-wheel drive: both axles, or neither.",
    "brake parts": "Brakes are work for a licensed shop, with a road test by them before anybody else drives.",
    "steering parts": "Steering is work for a licensed shop, with a road test by them before anybody else drives.",
}
