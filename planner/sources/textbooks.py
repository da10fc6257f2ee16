"""Textbooks that anybody may read."""

from planner.sources.citing import Source

UNIVERSITY_PHYSICS = Source("University Physics vol. 1", "Mechanics, sound, oscillations and waves", "OpenStax")
