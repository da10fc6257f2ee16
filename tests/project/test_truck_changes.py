"""Changes to the truck in the project file: read, checked by the kind of what they set, each fault with its place."""

from pathlib import Path

import pytest

from planner.project.faults import Faulty
from planner.project.reading import raise_faults, read_project

HEAD = """\
format = 2
[fitments.tall]
[fitments.short]
[[obstacles]]
name = "spring pack"
"""


def read(folder: Path, text: str):
    path = folder / "truck.toml"
    path.write_text(HEAD + text, encoding="utf-8")
    opened = read_project(path)
    raise_faults(opened)
    return opened.project


def faults(folder: Path, text: str) -> list[str]:
    with pytest.raises(Faulty) as faulty:
        read(folder, text)
    return str(faulty.value).replace(f"{folder / 'truck.toml'}:", "").splitlines()


def test_a_change_is_read_as_it_is_written(tmp_path):
    (change,) = read(
        tmp_path,
        """
        [[changes]]
        name = "longer stop screws"
        kind = "steering stops"
        state = "decided"
        with = ["tall"]
        price = 40
        [changes.sets]
        "axles.front.steering.stop_angle" = "27 deg ± 1/2 deg"
        "obstacles.spring pack.at" = ["1 in", "2 in", "3 in"]
        "axles.rear.steered" = true
        "drivetrain.transfer.low" = 2
        [changes.measured]
        "axles.front.steering.stop_angle" = { value = "27 1/4 deg", by = "owner", on = 2026-11-14 }
        """,
    ).changes
    assert change.with_fitments == ["tall"]
    assert change.sets["axles.front.steering.stop_angle"] == "27 deg ± 1/2 deg"
    assert change.measured["axles.front.steering.stop_angle"].value == "27 1/4 deg"


def test_a_change_is_considered_until_it_is_decided(tmp_path):
    (change,) = read(tmp_path, '[[changes]]\nname = "lift"\n').changes
    assert (change.state, change.kind, change.with_fitments) == ("considered", "other", [])


@pytest.mark.parametrize(
    ("entry", "told"),
    [
        ('"axles.front.steering.stop_anggle" = "27 deg"', "near it: axles.front.steering.stop_angle"),
        ('"axles.front.rating" = "27 deg"', "it is an angle; this needs a weight"),
        ('"fitments.tall.tire.mass" = "70 lb"', "a change can't set this entry"),
        ('"plan.chosen" = "tall"', "a change can't set this entry"),
        ('"axles.front" = "solid"', "a change can't set this entry"),
        ('"obstacles[1].name" = "hose"', "a change can't set this entry"),
        ('"obstacles.0.at" = ["1 in", "2 in"]', "this entry is missing"),
        ('"axles.front.hub.centring" = "luck"', "accepted: 'hub' or 'studs'"),
        ('axles.front.load = "3,000 lb"', "in quotes"),
    ],
)
def test_what_a_change_cannot_set_is_told_with_its_line_and_key(tmp_path, entry, told):
    (fault,) = faults(tmp_path, f"[[changes]]\n[changes.sets]\n{entry}\n")
    assert fault.startswith("8: changes[0].sets.")
    assert told in fault


def test_a_change_goes_with_fitments_that_there_are(tmp_path):
    (fault,) = faults(tmp_path, '[[changes]]\nwith = ["tall", "wide"]\n')
    assert fault == "7: changes[0].with[1]: read 'wide'; accepted: tall or short"


def pair(first: str, second: str) -> str:
    key = "axles.front.steering.stop_angle"
    return f"""
    [[changes]]
    name = "stops"
    {first}
    sets = {{ "{key}" = "27 deg" }}
    [[changes]]
    name = "screws"
    {second}
    sets = {{ "{key}" = "26 deg" }}
    """


@pytest.mark.parametrize(
    ("first", "second"),
    [
        ('state = "decided"', 'state = "done"'),
        ('state = "decided"\nwith = ["tall"]', 'state = "decided"'),
        ('state = "decided"\nwith = ["tall"]', 'state = "decided"\nwith = ["short", "tall"]'),
    ],
)
def test_two_standing_changes_of_one_entry_for_one_fitment_are_a_fault_that_names_both(tmp_path, first, second):
    (fault,) = faults(tmp_path, pair(first, second))
    assert "both stops and screws set axles.front.steering.stop_angle" in fault


@pytest.mark.parametrize(
    ("first", "second"),
    [
        ('state = "decided"', 'state = "considered"'),
        ('state = "given up"', 'state = "done"'),
        ('state = "decided"\nwith = ["tall"]', 'state = "decided"\nwith = ["short"]'),
    ],
)
def test_changes_that_never_stand_together_may_set_one_entry(tmp_path, first, second):
    assert len(read(tmp_path, pair(first, second)).changes) == 2
