"""How properties are searched: without a clock, since the machine is shared; the same examples each time in CI."""

import os

from hypothesis import HealthCheck, settings

settings.register_profile(
    "planner",
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow],
    derandomize=bool(os.environ.get("CI")),  # what a search finds anew is found by a person at work, not by a landing
)
settings.load_profile("planner")
