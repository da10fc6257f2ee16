"""How well each tool reads: how good a measured entry is if you don't say."""

from planner.project.models.entry import Usual

# Common practice, all of them: what two careful people with the same tool come within of each other.
PLUMB = Usual("1/4 in", "a tape and a plumb line")
TAPE = Usual("1/8 in", "a tape")
TAPE_CLOSE = Usual("1/16 in", "a tape on a short, firm distance")
RULE = Usual("1/32 in", "a steel rule")
CALIPER = Usual("0.005 in", "a caliper")
CALIPER_TWICE = Usual("0.010 in", "a caliper over two studs or holes")
DIAL = Usual("0.005 in", "a dial indicator")
ANGLE = Usual("1 deg", "an angle finder or a chalk line")
SCALE = Usual("20 lb", "a truck scale")
SMALL_SCALE = Usual("1 lb", "a bathroom scale")
LIFT_TEST = Usual("1 in", "a lift test")

# How closely a wheel maker holds a length where the order says nothing else, common practice; in inches and metric.
MADE_TO = ("1/32 in", "0.8 mm")
