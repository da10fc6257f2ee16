"""Where the danger is in a change to the truck, by its kind; a kind without danger of its own is not here."""

from collections.abc import Mapping

CAUTIONS: Mapping[str, str] = {
    "steering stops": "Steering stops are safety parts: have somebody licensed for steering work set both sides the "
    "same and steer lock to lock, at full bump too, before the truck moves.",
    "lift": "A lift moves the steering, the brake hoses and the driveshafts: have a licensed shop look at all three "
    "before the truck moves.",
    "bump stop": "Without its bump stops the axle hits what the stop kept it from: check full bump on stands, nobody "
    "under the truck.",
    "spacer or adapter": "A spacer hangs the wheel on its own bolts and puts more load on the wheel bearings. Many "
    "places don't allow them. Torque both rows of nuts, and again after 50 miles.",
    "studs and nuts": "Wrong thread, seat or length and the wheel comes off: same thread, hand and seat on every "
    "stud, full engagement, and retorque after 50 miles.",
    "hub bore or ring": "You can't put metal back on a hub: have somebody qualified say first that it still carries "
    "the load, and have a machine shop cut it.",
    "gear set": "Different ratios front and rear bind the driveline in four-wheel drive: change both axles, or "
    "neither.",
    "brake parts": "Brakes are a job for a licensed shop. They road-test it before anybody else drives.",
    "steering parts": "Steering is a job for a licensed shop. They road-test it before anybody else drives.",
}
