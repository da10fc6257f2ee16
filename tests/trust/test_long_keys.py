"""A key of 50 KB is cut wherever it is told: in a fault, a notice, a change, the diary, a sheet, on a screen."""

import shutil
from pathlib import Path
from time import process_time

import pytest
from calling import call
from screens_visit import sit, visit
from trust.faces import FACES, SHEETS, said

from planner.project.diary_reading import diary_path
from planner.project.faults import Fault, as_key, without_path
from planner.project.versions import near_name

LONG = "k" * 50_000
CUT = "k" * 200  # more than this of it is never told
TRUCK = f"""format = 1
{LONG}1 = "at the top"
[vehicle]
name = "old one"
wheelbase = "112 in"
{LONG}2 = 1
[fitments.found.tire]
designation = "31x10.50R15LT"
[fitments.tall]
{LONG}3 = "in a candidate"
[fitments.tall.tire]
designation = "37x12.50R17LT"
[[parts]]
id = "jack"
title = "a jack"
{LONG}4 = true
"""
FAULTS = {
    "a fitment": f'[fitments."{LONG}".tire]\ndesignation = "37x12.50R17LT"\n',
    "a gear": f'[drivetrain.gearbox]\n{LONG} = "4:1"\n',
    "a limit": f'[limits.{LONG}]\nvalue = "1 in"\nbecause = "so"\n',
    "an entry that is close to a known one": f'[vehicle]\n{LONG} = 1\nweelbase = "112 in"\n',
    "what is chosen": f'[plan]\nchosen = "{LONG}"\n[fitments."{LONG}x"]\nprice = 1\n',
    "two that are alike": f'[fitments."{LONG}"]\nprice = 1\n[fitments."{LONG} "]\nprice = 2\n',
    "set twice": f"{LONG} = 1\n{LONG} = 2\n",
    "no end": f'{LONG} = "\n',
}


def unbroken(text: str) -> str:
    """Without what broke it into lines and columns."""
    return "".join(text.split())


@pytest.fixture
def truck(tmp_path: Path) -> Path:
    path = tmp_path / "truck.toml"
    path.write_text(TRUCK)
    return path


@pytest.fixture(scope="module")
def changed(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, list[str]]:
    """The truck after two changes, and what was said of them."""
    path = tmp_path_factory.mktemp("changed") / "truck.toml"
    path.write_text(TRUCK)
    settings = ("vehicle.wheelbase=113 in", f"vehicle.{LONG}2=2")
    return path, [said("change", str(path), setting, "--apply") for setting in settings]


def test_a_change_does_not_tell_a_long_key_whole(changed):
    assert all("made" in told and CUT not in unbroken(told) for told in changed[1])


PAPER = [f"{kind} on paper" for kind in SHEETS if kind != "order"]  # of the blocks that are shown as text too


@pytest.mark.parametrize(
    "face",
    [
        *(name for name in FACES if "on screen" not in name and "as data" not in name and name not in PAPER),
        *(pytest.param(name, marks=pytest.mark.slow) for name in PAPER),
    ],
)
def test_no_command_tells_a_long_key_whole(tmp_path, changed, face):
    for one in (changed[0], diary_path(changed[0])):
        shutil.copy(one, tmp_path)
    assert CUT not in unbroken(FACES[face](tmp_path / changed[0].name))


@pytest.mark.parametrize(
    "arguments",
    [
        ("change", f"{LONG}=1"),
        ("change", f"vehicle.{LONG}2=3"),
        ("change", f"vehicle.{LONG}2="),
        ("change", f"fitments.{LONG}.price=3"),
        ("change", f"vehicle.wheelbase={LONG}"),
        ("change", LONG),
        ("keys",),
        ("compare", LONG),
        ("why", LONG),
        ("why", "tire.overall_diameter", "--fitment", LONG),
        ("task", "tick", LONG),
        ("task", "show", LONG),
        ("task", "add", "x", "--id", LONG),
        ("task", "add", "x", "--after", LONG),
        ("task", "--phase", LONG),
        ("accept", LONG),
        ("accept", "brakes.braking_force_lost", LONG),
        ("again", LONG),
        ("print", LONG),
        ("diary", LONG),
    ],
    ids=lambda words: " ".join(word[:24] for word in words),
)
def test_a_long_key_that_is_typed_is_not_told_whole(capsys, truck, arguments):
    _, out, err = call(capsys, arguments[0], truck, *arguments[1:])
    assert CUT not in unbroken(out + err)


@pytest.mark.parametrize("what", FAULTS)
@pytest.mark.parametrize("command", [("check",), ("change", "vehicle.name=x"), ("task",), ("keys",)])
def test_a_fault_of_a_long_key_is_a_short_line(capsys, truck, what, command):
    truck.write_text("format = 1\n" + FAULTS[what])
    code, out, err = call(capsys, command[0], truck, *command[1:])
    assert CUT not in unbroken(out + err) and max(map(len, err.splitlines()), default=0) < 3000
    assert (code == 2 and err) or command == ("keys",)  # which does not look at limits


def test_a_key_of_many_names_is_cut_in_the_middle():
    told = as_key(tuple(f"{'n' * 70}{at}" for at in range(40)))
    assert len(told) < 400 and told.startswith("nnn") and told.endswith("n39")
    fault = Fault(LONG, (LONG, 3, LONG), 1, LONG, LONG)
    assert len(without_path(fault)) < 5000


def test_a_long_key_is_no_slip_of_the_pen_and_is_not_searched_for():
    began = process_time()
    assert near_name("k" * 5_000_000, ["wheelbase", "wheel"]) is None
    assert process_time() - began < 0.1  # letter by letter it takes three times that
    assert near_name("weelbasee", ["wheelbase", "wheel"]) == "wheelbase"


def test_a_key_of_usual_names_is_told_whole():
    assert as_key(("fitments", "x" * 40, "front", "wheel", "disc_inner_face")).count("x") == 40


def test_the_screens_show_a_long_key_cut(truck):
    async def story() -> str:
        async with visit(truck, (160, 60)) as here:
            texts = []
            for name in ("overview", "vehicle", "tires", "candidates", "parts", "diary"):
                await here.go(name)
                texts.append(here.screen)
            return "".join(texts)

    assert CUT not in unbroken(sit(story()))
