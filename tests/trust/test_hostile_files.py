"""Hostile files: no traceback, no hang, nothing changed, every problem with its place (`fuzz_files.py`: for hours)."""

import os
import socket
import tomllib
from pathlib import Path
from typing import Any

import pytest
import tomli_w
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from trust.hostile_files import BASES, QUANTITIES, TEXTS, hostile, odd_value
from trust.judging import Verdict, judged

CASES = 40
SLACK = 5.0  # far above the 2 s that `fuzz_files.py` holds them to: a busy machine must fail nothing, a hang must
HERE = settings(deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])


@pytest.fixture(autouse=True)
def _tracebacks_come_out(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PLANNER_TRACEBACK", "1")


def check(path: Path, raw: bytes | None = None, *more: str) -> Verdict:
    if raw is not None:
        path.write_bytes(raw)
    verdict = judged(path, ["check", str(path), *more], SLACK)
    assert not verdict.wrong, "\n".join(verdict.wrong)
    return verdict


@pytest.mark.parametrize("number", range(CASES))
def test_a_hostile_file_is_read_or_every_problem_named(tmp_path: Path, number: int) -> None:
    check(tmp_path / "truck.toml", hostile(20_26, number).raw, *(["--json"] if number % 3 == 0 else []))


# The same by hypothesis, which changes the data and not the text, and looks for the least that goes wrong.

_VALUES = st.one_of(
    st.sampled_from(QUANTITIES),
    st.sampled_from(TEXTS),
    st.booleans(),
    st.integers(-(2**63), 2**63 - 1),
    st.integers(-3, 3),
    st.floats(),
    st.dates(),
    st.datetimes(),
    st.times(),
    st.text(max_size=20),
)
_ODD = st.recursive(
    _VALUES, lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(max_size=8), inner, max_size=3)
)


def places(data: Any, key: tuple[str | int, ...] = ()) -> list[tuple[str | int, ...]]:
    """Every table, list and value in the data, by its key."""
    inside = data.items() if isinstance(data, dict) else enumerate(data) if isinstance(data, list) else ()
    return [key, *(place for name, inner in inside for place in places(inner, (*key, name)))]


@st.composite
def mutated(draw: st.DrawFn) -> bytes:
    """A project with some of its entries changed, taken away, doubled, or put under another name."""
    data = tomllib.loads(BASES[draw(st.sampled_from(["just-begun", "forestry-4x4"]))].decode())
    for _ in range(draw(st.integers(1, 4))):
        there = places(data)[1:]
        if not there:
            break
        *way, name = draw(st.sampled_from(there))
        holder: Any = data
        for step in way:
            holder = holder[step]
        match draw(st.sampled_from(["change", "change", "change", "take", "double", "rename", "add"])):
            case "change":
                holder[name] = draw(_ODD)
            case "take":
                del holder[name]
            case "double" if isinstance(holder, list):
                holder.append(holder[name])
            case "rename" if isinstance(holder, dict):
                holder[draw(st.text(max_size=12) | st.sampled_from(["front", "found", "tire", "at"]))] = holder.pop(
                    name
                )
            case "add" if isinstance(holder, dict):
                holder[draw(st.text(max_size=8))] = draw(_ODD)
    return tomli_w.dumps(data).encode("utf-8", errors="replace")


@given(raw=mutated())
@settings(HERE, max_examples=40)
def test_a_project_with_entries_changed_at_will_is_read_or_every_problem_named(tmp_path: Path, raw: bytes) -> None:
    check(tmp_path / "truck.toml", raw)


@given(seed=st.randoms(use_true_random=False))
@settings(HERE, max_examples=40)
def test_a_value_that_cannot_be_read_is_named_by_its_own_line_and_key(tmp_path: Path, seed: Any) -> None:
    value = odd_value(seed)
    text = f"format = 1\n[axles.front]\n\nrating = {value} # plate\n[axles.rear]\n"
    verdict = check(tmp_path / "truck.toml", text.encode())
    for row in verdict.err.splitlines() if verdict.code == 2 else ():
        assert ".toml:4: " in row, (value, row)


# What is no text at all, or no file.


@pytest.mark.parametrize(
    ("raw", "said"),
    [
        (b"", "format: the file doesn't say which format it's in"),
        (b"\n" * 1000, "format: the file doesn't say which format it's in"),
        (b"\xef\xbb\xbf", "format: the file doesn't say which format it's in"),
        (b"k = 1\n" * 1_000_000, "the file is too large"),
        (b"".join(b"k%d = 1\n" % n for n in range(1_000_000)), "the file is too large"),
        (b"".join(b"k%d=1\n" % n for n in range(20_000)), ":12001: k12000: the file has too many entries"),
        (b"\0" * 100, ":1: a NUL byte"),
        ("format = 1\n[vehicle]\nname = 'café'\n".encode("latin-1"), ":3: a character that isn't UTF-8"),
        ("format = 1".encode("utf-16"), "the file is saved as UTF-16"),
        (
            b"format = 1\n[vehicle]\nwheelbase = nan\n",
            ":3: vehicle.wheelbase: not a number the planner can calculate with",
        ),
        (
            b"format = 1\n[vehicle]\nwheelbase = -inf\n",
            ":3: vehicle.wheelbase: not a number the planner can calculate with",
        ),
        (b"format = 1\n[vehicle]\nwheelbase = 1" + b"0" * 400, ":3: vehicle.wheelbase: the number is too large"),
        (b"format = 1\na = " + b"[" * 100_000, ":2: lists and tables are nested too deep"),
        (b"format = 1\na" + b".a" * 100_000, ":2: the name has too many parts"),
        ("format = 1\n[vehicle]\nname = 'a\u202eb'\nweelbase = 1\n".encode(), ":4: vehicle.weelbase: there is no such"),
    ],
    ids=lambda value: value[:40] if isinstance(value, str) else "",
)
def test_what_cannot_be_used_is_told_in_one_line_with_its_place(tmp_path: Path, raw: bytes, said: str) -> None:
    verdict = check(tmp_path / "truck.toml", raw)
    assert verdict.code == 2 and verdict.err.count("\n") == 1 and said in verdict.err


def test_what_is_no_file_is_told_in_one_line_without_waiting(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    Path("folder.toml").mkdir()
    os.mkfifo("pipe.toml")
    Path("round.toml").symlink_to("round.toml")
    Path("nowhere.toml").symlink_to("not there")
    Path("to_pipe.toml").symlink_to("pipe.toml")
    Path("to_zero.toml").symlink_to("/dev/zero")
    with socket.socket(socket.AF_UNIX) as plug:
        plug.bind("plug.toml")
        for name in ("folder", "pipe", "round", "nowhere", "to_pipe", "to_zero", "plug"):
            verdict = check(Path(f"{name}.toml").absolute())
            assert verdict.code == 2 and verdict.err.count("\n") == 1, name


def test_a_link_to_a_project_is_read_as_the_project(tmp_path: Path) -> None:
    (tmp_path / "truck.toml").symlink_to(tmp_path / "real.toml")
    (tmp_path / "real.toml").write_bytes(BASES["just-begun"])
    assert check(tmp_path / "truck.toml").code == 1


@pytest.mark.parametrize("change", [b"\r\n", b"\n"])
def test_line_ends_and_a_byte_order_mark_change_nothing_in_the_answer(tmp_path: Path, change: bytes) -> None:
    plain = check(tmp_path / "truck.toml", BASES["just-begun"])
    other = check(tmp_path / "truck.toml", b"\xef\xbb\xbf" + BASES["just-begun"].replace(b"\n", change))
    assert (other.code, other.out) == (plain.code, plain.out)


# Much of what each takes its time: refused with its place, or done in time.

_TIRE = '[fitments.f{n}.tire]\ndesignation = "7.50-16"\n'
_OBSTACLE = '[[obstacles]]\naxle = "front"\nmoves_with = "body"\nat = ["1 in", "-7 in", "6 in"]\n'


@pytest.mark.parametrize(
    ("one", "count", "said"),
    [
        (_TIRE, 19, "fitments.f18: read '21 of them'; accepted: 20 at most"),
        (_OBSTACLE, 201, "obstacles[200]: read '201 of them'; accepted: 200 at most"),
        (_TIRE + _OBSTACLE, 18, "obstacles: read '18 of them, and 20 fitments'; accepted: 10 at most"),
        ('[[decisions]]\nquestion = "{n}"\n', 501, "decisions[500]: read '501 of them'; accepted: 500 at most"),
    ],
)
def test_more_than_any_build_has_is_refused_with_its_place(tmp_path: Path, one: str, count: int, said: str) -> None:
    some = BASES["just-begun"].decode() + "".join(one.format(n=n) for n in range(count))  # it has two fitments
    verdict = check(tmp_path / "truck.toml", some.encode())
    assert verdict.code == 2 and said in verdict.err


def test_tasks_that_wait_on_what_is_not_there_are_named_with_their_place(tmp_path: Path) -> None:
    path = tmp_path / "truck.toml"
    path.write_bytes(b'format = 1\n\n[[tasks]]\nid = "own.a"\ntitle = "x"\nafter = ["own.b"]\n')
    for told in (["task", str(path)], ["print", str(path), "checklist", "--text"]):
        verdict = judged(path, told, SLACK)
        assert verdict.code == 2
        assert f"{path}:3: tasks[0]: the tasks can't be put in order: own.a names own.b" in verdict.err
