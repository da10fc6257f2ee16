"""How properties are searched: without a clock, since the machine is shared; the same examples each time in CI."""

import os

import pytest
from hypothesis import HealthCheck, settings

for name, examples in (("quick", 40), ("thorough", 150)):
    settings.register_profile(
        name,
        max_examples=examples,
        deadline=None,
        suppress_health_check=[HealthCheck.too_slow],
        derandomize=bool(os.environ.get("CI")),  # what a search finds anew, a person at work finds, not a landing
    )


def pytest_configure(config: pytest.Config) -> None:
    """The run that leaves out what is slow searches less far."""
    settings.load_profile("quick" if config.option.markexpr == "not slow" else "thorough")
