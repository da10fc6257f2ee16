"""Grounds that need no publisher: what follows from arithmetic, geometry and mechanics."""

from planner.sources.citing import Ground

ARITHMETIC = Ground("arithmetic")
GEOMETRY = Ground("geometry")
KINEMATICS = Ground("kinematics")
STATICS = Ground("statics")
LEAST_SQUARES = Ground("least squares")
TEXTBOOK = Ground("textbook mechanics")
ENTERED = Ground("entered by the person")
