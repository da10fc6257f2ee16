"""What `--json` prints is JSON that any program reads, whatever stands in the project or on the command line."""

import json
import os
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from calling import call
from trust.hostile_files import BASES

from planner.commands import table
from planner.commands.page import as_json
from planner.commands.table import main
from planner.project.diary_reading import diary_path

COMMANDS: dict[str, list[list[str]]] = {
    "accept": [["FILE"]],
    "again": [["FILE"]],
    "change": [["FILE", "vehicle.wheelbase=140 in"], ["FILE", "parts.a.price=VALUE"], ["FILE", "plan.budget=VALUE"]],
    "check": [["FILE"]],
    "compare": [["FILE"]],
    "diary": [["FILE"], ["FILE", "show", "1"], ["FILE", "at", "1"], ["FILE", "compare", "1", "1"]],
    "figure": [
        [],
        ["wheel.offset", "backspace=VALUE", "rim_width=9 in"],
        ["gearing.overall_ratio", "axle_ratio=VALUE"],
    ],
    "import": [["FILE", "READINGS"]],
    "takes": [["FILE", "VALUE"]],
    "propose": [["FILE"], ["FILE", "--space"], ["FILE", "--space", "--only", "VALUE"]],
    "schema": [],  # reads no file and takes no value: once is enough
    "task": [["FILE"], ["FILE", "next"], ["FILE", "parts"], ["FILE", "add", "x", "--phase", "fit", "--hours", "VALUE"]],
    "why": [["FILE", "tire.overall_diameter"], ["FILE", "gearing.overall_ratio"]],
}
NUMBERS = ["nan", "1e99999999", "9" * 5000, "-1e308", "5e-324"]
MORE_NUMBERS = [pytest.param(one, marks=pytest.mark.slow) for one in ("inf", "-inf", "1e400", "9" * 18, "0")]
PART = '\n[[parts]]\nid = "a"\nprice = {}\nquantity = {}\nused_for = ["found"]\n'


def strict(text: str) -> Any:
    """The data in a text that is one piece of JSON as the standard has it; Python by itself takes more."""

    def refuse(word: str) -> None:
        raise AssertionError(f"{word} is no JSON")

    def finite(digits: str) -> float:
        assert len(digits) < 40, digits
        return float(digits)

    text.encode("utf-8")
    data = json.loads(text, parse_constant=refuse, parse_float=finite)
    json.dumps(data, ensure_ascii=False).encode("utf-8")  # no half of a character, not by its number either
    return data


def test_every_command_that_prints_json_is_gone_through_here() -> None:
    room = Path(table.__file__).parent
    assert {path.stem for path in room.glob("*.py") if 'add_argument("--json"' in path.read_text()} == set(COMMANDS)


def takes_a_value(words: list[str]) -> bool:
    return any("VALUE" in word or word == "READINGS" for word in words)


def gone_through(
    capsys: pytest.CaptureFixture[str], path: Path, value: str, which: Callable[[list[str]], bool]
) -> None:
    for name, calls in COMMANDS.items():
        for words in filter(which, calls):
            readings = path.with_name("readings.csv")
            readings.write_text(f"entry,value,by\nwheelbase,{value},x\nrear axle load,900 lb,{value}\n")
            told = [word.replace("FILE", str(path)).replace("VALUE", value) for word in words]
            told = [word.replace("READINGS", str(readings)) for word in told]
            code, out, err = call(capsys, name, *told, "--json")
            assert code in (0, 1, 2), (name, told, err)
            data = strict(out) if out else None
            faults = data.get("faults") if isinstance(data, dict) else []
            assert (code == 2) == (not out or bool(faults)), (name, told, out, err)


@pytest.fixture(scope="module")
def begun(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A project with money in it and an entry in its diary."""
    path = tmp_path_factory.mktemp("begun") / "truck.toml"
    path.write_bytes(BASES["just-begun"])
    assert main(["change", str(path), "vehicle.wheelbase=112 1/2 in", "--apply"]) in (0, 1)
    path.write_text(path.read_text() + PART.format("285.50", 5))
    return path


@pytest.fixture
def project(tmp_path: Path, begun: Path) -> Path:
    """A copy of it for each test."""
    for path in (begun, diary_path(begun)):
        shutil.copy(path, tmp_path)
    return tmp_path / begun.name


def test_the_schema_is_json(capsys: pytest.CaptureFixture[str]) -> None:
    code, out, err = call(capsys, "schema", "--json")
    assert (code, err) == (0, "") and strict(out)


@pytest.mark.parametrize("value", [*NUMBERS, *MORE_NUMBERS], ids=lambda value: value[:12])
def test_a_hostile_number_on_the_command_line(project: Path, capsys: pytest.CaptureFixture[str], value: str) -> None:
    gone_through(capsys, project, value, takes_a_value)


def test_the_same_project_with_nothing_hostile_in_it(project: Path, capsys: pytest.CaptureFixture[str]) -> None:
    gone_through(capsys, project, "1", lambda words: True)


@pytest.mark.parametrize(
    ("price", "quantity"),
    [
        *((f'"{value}"', "1") for value in NUMBERS[:2]),
        *((value, "1") for value in ("nan", "1e400", "9" * 5000)),
        ("999999999999.99", "9" * 18),
        ('"\\udcff"', "1"),
        *(pytest.param(f'"{value}"', "1", marks=pytest.mark.slow) for value in ("inf", "-inf", "1e400", "9" * 18, "0")),
        *(pytest.param(f'"{value}"', "1", marks=pytest.mark.slow) for value in NUMBERS[2:]),
        *(pytest.param(value, "1", marks=pytest.mark.slow) for value in ("inf", "1e308", "9" * 18, "999999999999")),
        pytest.param("999999999999.99", "100000", marks=pytest.mark.slow),
        pytest.param("999999999999.99", "300000000000001", marks=pytest.mark.slow),
    ],
    ids=lambda value: value[:12],
)
def test_hostile_money_in_the_file(
    project: Path, capsys: pytest.CaptureFixture[str], price: str, quantity: str
) -> None:
    """Read, or named with its key and its line, and no command falls over it."""
    project.write_text(project.read_text().replace(PART.format("285.50", 5), PART.format(price, quantity)))
    gone_through(capsys, project, "1", lambda words: "FILE" in words)
    told = call(capsys, "check", project)[2]
    assert not told or ".toml:" in told


@pytest.mark.skipif(os.name == "nt", reason="names of files are text there")
def test_a_file_whose_name_is_no_text(project: Path, capsys: pytest.CaptureFixture[str]) -> None:
    odd = project.with_name(os.fsdecode(b"\xff.toml"))
    project.rename(odd)
    gone_through(capsys, odd, "1", lambda words: "FILE" in words)


@pytest.mark.parametrize(
    ("data", "read"),
    [
        ({"a": [float("nan"), (float("inf"), -float("inf")), 1.5]}, {"a": [None, [None, None], 1.5]}),
        ([10**5000, 2**63, True], [None, 2**63, True]),
        (["\udcff", "a\ud800b"], ["\\udcff", "a\\ud800b"]),
    ],
)
def test_what_json_has_no_word_for_is_null_and_half_a_character_is_named(data: Any, read: Any) -> None:
    assert strict(as_json(data)) == read
