"""How properties are searched: without a clock, since the machine is shared; the same examples each time in CI.

And what every test of the process has in common: compiled modules, sweeps, and what collecting garbage goes through.
"""

import gc
import os
import sys

import bare_run
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
    """The run that leaves out what is slow searches less far; who updates snapshots has all that are held to any."""
    if config.option.update_snapshots:
        config.option.markexpr = ""
    settings.load_profile("quick" if config.option.markexpr == "not slow" else "thorough")
    if sys.dont_write_bytecode and hasattr(config, "cache"):  # nothing is to stand in the tree: then beside it,
        kept = str(config.cache.mkdir("compiled"))  # or every process that a test starts compiles the whole program
        sys.pycache_prefix, sys.dont_write_bytecode = kept, False
        os.environ["PYTHONPYCACHEPREFIX"] = kept
        os.environ.pop("PYTHONDONTWRITEBYTECODE", None)


@pytest.hookimpl(tryfirst=True)  # before the marks are read
def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """What takes long is slow; and a whole run, which does a thing to its end, does not make its beginning besides."""
    bare_run.mark_long(items)
    if config.option.markexpr == "":
        begun = [item for item in items if item.get_closest_marker("shortened")]
        config.hook.pytest_deselected(items=begun)
        items[:] = [item for item in items if not item.get_closest_marker("shortened")]


def pytest_collection_finish() -> None:
    """What is collected stays to the end: garbage is not looked for in it, and less often than for a short program."""
    gc.freeze()
    gc.set_threshold(50_000, 20, 50)


@pytest.fixture(scope="session", autouse=True)
def worked_out_once():
    """One truck is swept once in a process, however many tests open it; so is what tolerances do to each figure."""
    import sweeps_kept
    import worksheets_kept

    with sweeps_kept.kept(), worksheets_kept.kept():
        yield


@pytest.fixture
def swept_anew():
    """For a test that changes what sweeps or works out, or watches it: it is given nothing that was kept."""
    import sweeps_kept
    import worksheets_kept

    with sweeps_kept.none_kept(), worksheets_kept.none_kept():
        yield
