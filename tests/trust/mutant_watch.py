"""A plugin of pytest's for the runs on mutants: chooses tests, and tells what first failed.

It does only what the environment asks it to: MUTANT_ROOT, _WANTED, _TOLD and _SECONDS.
"""

import faulthandler
import os
from pathlib import Path

import pytest

QUOTED = ("tests/reference/",)  # what repeats what a command prints or a page says
SNAPSHOT = "snapshot"  # the fixture behind every picture
NOWHERE = open(os.devnull, "w")  # noqa: SIM115


def pytest_configure(config: pytest.Config) -> None:
    import planner.quantities as room

    root = os.environ["MUTANT_ROOT"]
    if not all(Path(path).is_relative_to(root) for path in room.__path__):
        raise pytest.UsageError(f"planner is not the one in {root}")
    _watched()


@pytest.hookimpl(trylast=True)
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    if wanted := os.environ.get("MUTANT_WANTED"):
        order = {id_: at for at, id_ in enumerate(Path(wanted).read_text(encoding="utf-8").splitlines())}
        items[:] = sorted((one for one in items if one.nodeid in order), key=lambda one: order[one.nodeid])


def quoted(item: pytest.Item) -> bool:
    return item.nodeid.startswith(QUOTED) or SNAPSHOT in getattr(item, "fixturenames", ())


@pytest.hookimpl(tryfirst=True)
def pytest_runtest_protocol(item: pytest.Item) -> None:
    _tell("running", item.nodeid)
    _watched()


def _watched() -> None:
    """Ends the whole run where one test, or the reading of all, takes too long."""
    if seconds := os.environ.get("MUTANT_SECONDS"):
        faulthandler.dump_traceback_later(float(seconds), exit=True, file=NOWHERE)


def pytest_runtest_logreport(report: pytest.TestReport) -> None:
    if report.failed:
        _tell("failed", report.nodeid)


def pytest_collectreport(report: pytest.CollectReport) -> None:
    if report.failed:
        _tell("failed", report.nodeid)


def _tell(how: str, which: str) -> None:
    if told := os.environ.get("MUTANT_TOLD"):
        with open(told, "a", encoding="utf-8") as file:
            file.write(f"{how} {which}\n")
