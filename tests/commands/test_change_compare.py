"""`planner change`, `compare` and `keys` as a person or a script calls them, on a copy of the first project."""

import json
import re
import subprocess
import sys
from pathlib import Path

import pytest
from calling import call
from changing_truck import BACKSPACE, write

from planner.commands.table import COMMANDS
from planner.plan.answers.basis import rested_words
from planner.plan.answers.open_project import open_project
from planner.project.diary_reading import diary_path, read_diary
from planner.project.source import load

HALF_OUT = f"{BACKSPACE}=4 1/2 in ± 1/16 in"


@pytest.fixture
def truck(tmp_path) -> Path:
    return write(tmp_path)


def plain(out: str) -> bool:
    return all(len(line) <= 80 for line in out.splitlines()) and "\x1b" not in out


def test_a_change_is_shown_and_not_made(capsys, truck):
    old = truck.read_bytes()
    code, out, err = call(capsys, "change", truck, HALF_OUT)
    assert code == 1 and not err and plain(out)
    assert "tall set's wheel backspace: 5 in ± 1/16 in → 4 1/2 in ± 1/16 in" in out
    assert "tried, not made" in out and "--apply" in out
    for heading in ("Comes up", "Figures", "Look again"):
        assert heading in out
    assert "Parts in question" not in out  # the nuts that came do not rest on the backspace
    assert out.rstrip().endswith("Local codes and licensed practice come first.")
    assert truck.read_bytes() == old and not diary_path(truck).exists()


def test_a_change_is_made_with_its_reason_and_names_its_number_in_the_diary(capsys, truck):
    code, out, err = call(capsys, "change", truck, HALF_OUT, "--because", "the shop makes no other", "--apply")
    assert code == 1 and not err
    entry = read_diary(truck).entries[-1]
    assert f"number {entry.number} in the diary" in out and "Nothing is written" not in out
    assert entry.because == "the shop makes no other"
    assert load(truck).data["fitments"]["tall"]["wheel"]["backspace"] == "4 1/2 in ± 1/16 in"


def test_a_change_is_undone_by_the_diary_command_to_the_byte(capsys, truck):
    old = truck.read_bytes()
    call(capsys, "change", truck, HALF_OUT, "vehicle.name=Unit 14", "use.door_height=", "--apply")
    assert truck.read_bytes() != old
    assert call(capsys, "diary", truck, "undo")[0] == 0
    assert truck.read_bytes() == old


def test_one_row_too_many_is_told_as_one(capsys, truck, monkeypatch):
    figures = json.loads(call(capsys, "change", truck, HALF_OUT, "--json")[1])["figures"]
    monkeypatch.setattr("planner.commands.change.MOST", sum(one["beyond_tolerance"] for one in figures) - 1)
    assert "(1 more row like these" in call(capsys, "change", truck, HALF_OUT)[1]


def test_two_new_entries_of_a_new_list_are_made_in_one_change(capsys, truck):
    stages = ("plan.stages[0].name=first", "plan.stages[0].rear=tall", "plan.stages[1].name=then")
    code, _, err = call(capsys, "change", truck, *stages, "--apply")
    assert code in (0, 1) and not err
    assert [one["name"] for one in load(truck).data["plan"]["stages"]] == ["first", "then"]


def test_yes_and_no_are_told_as_they_are_typed(capsys, truck):
    passenger = "fitments.tall.tire.passenger"
    _, out, _ = call(capsys, "change", truck, f"{passenger}=no", "--apply")
    assert "tire passenger: " in out and "→ no\n" in out
    _, out, _ = call(capsys, "compare", truck, "found", "tall", "--all")
    assert re.search(r"^tire\.passenger +\S+ +no$", out, re.MULTILINE)
    assert rested_words(open_project(truck), {passenger: "False"}) == [("tall set's tire passenger", "no")]


def test_a_change_that_raises_nothing_ends_with_nothing(capsys, truck):
    code, out, _ = call(capsys, "change", truck, "vehicle.name=Unit 14")
    assert code == 0 and "No flag comes up or clears" in out
    code, out, _ = call(capsys, "change", truck, f"{BACKSPACE}=5 in ± 1/16 in", "--apply")
    assert code == 0 and "Nothing would change" in out
    assert not diary_path(truck).exists()


def test_options_may_stand_before_between_and_after_what_is_set(capsys, truck):
    for arguments in (
        ("--all", truck, "vehicle.name=x"),
        (truck, "--all", "vehicle.name=x"),
        (truck, "vehicle.name=x", "--because", "y", "use.door_height=90 in"),
    ):
        assert call(capsys, "change", *arguments)[0] in (0, 1)


def test_everything_that_moves_is_listed_when_all_is_asked_for(capsys, truck):
    short, long = (call(capsys, "change", truck, HALF_OUT, *more)[1] for more in ((), ("--all",)))
    assert "within tolerance; --all lists everything" in short and "--all lists" not in long
    assert len(long.splitlines()) > len(short.splitlines()) and plain(long)


def test_a_change_is_given_as_one_object_in_si(capsys, truck):
    code, out, _ = call(capsys, "change", truck, HALF_OUT, "--json")
    told = json.loads(out)
    assert code == 1 and told["made"] is False and told["diary"] is None
    assert told["changes"] == [{"key": BACKSPACE, "was": "5 in ± 1/16 in", "now": "4 1/2 in ± 1/16 in"}]
    offset = next(row for row in told["figures"] if row["figure"] == "wheel.offset")
    assert (offset["after"] - offset["before"], offset["unit"]) == (pytest.approx(-0.0127), "m")
    assert {flag["how"] for flag in told["flags"]} <= {"up", "cleared", "answer", "margin"}
    assert told["look_again"][0]["moved"][0]["name"] == BACKSPACE
    assert told["parts_in_question"] == []
    told = json.loads(call(capsys, "change", truck, "axles.front.nuts.seat=ball", "--json")[1])
    (nuts,) = told["parts_in_question"]
    assert nuts["id"] == "nuts" and "front nut seat was cone, now ball" in nuts["why"][0]


def test_cost_and_dates_are_told_only_where_they_move(capsys, truck):
    assert "Cost and time" not in call(capsys, "change", truck, "vehicle.name=x")[1]
    out = call(capsys, "change", truck, "parts.wheels.price=1000", "parts.wheels.lead_time=20 weeks")[1]
    assert "4,607 USD → 8,182 USD" in out  # 5 × 285 + 5 × 472 + 28 × 6.50 + 640, and 5 × 1000 for the 5 × 285
    assert "6,500 USD: 1,682 USD over" in out and "plan.cost_past_budget" in out
    assert "work done by" in out


def test_a_candidate_of_a_new_name_is_said_to_be_new(capsys, truck):
    out = call(capsys, "change", truck, "fitments.tal.wheel.backspace=5 in")[1]
    assert "fitments.tal is new" in out


@pytest.mark.parametrize(
    ("settings", "words"),
    [
        (["backspace"], "KEY=VALUE"),
        (["=5"], "an empty key"),
        (["fitments.tall.wheel.backspac=5 in"], BACKSPACE),
        (["vehicle.wheelbase=118 psi"], "this needs a length"),
        (["vehicle.wheelbase=banana"], "vehicle.wheelbase"),
        (["vehicle=5"], "accepted"),
        (["plan.start=2026-02-30"], "a date such as"),
        (["parts.wheels.price=-1"], "parts[0].price"),
        (["parts.wheels.state=lost"], "'wanted'"),
        (["plan.chosen=tal"], "tall"),
        (["limits.nothing.value=1"], "there is no such entry in [limits]"),
        (["tasks.own.bearings.after=own.brake_shop"], "waits on"),
        (["vehicle.name=\udcff"], "bytes that aren't text"),
        (["vehicle.nam\x1be=x"], "vehicle.nam\\x1be"),
        (["vehicle.name=a", "vehicle.name=b"], "given twice"),
        (["plan.budget="] * 2, "given twice"),
        (["use.wanted_grade.x="], "no such key"),
    ],
)
def test_what_cannot_be_is_one_line_and_nothing_is_written(capsys, truck, settings, words):
    old = truck.read_bytes()
    code, out, err = call(capsys, "change", truck, *settings, "--because", "x", "--apply")
    assert code == 2 and not out and err.count("\n") == 1
    assert words in err and "\x1b" not in err and "bug in the planner" not in err
    assert truck.read_bytes() == old and not diary_path(truck).exists()


def test_every_fault_of_the_changed_file_is_told_each_with_its_line(capsys, truck):
    code, _, err = call(capsys, "change", truck, "vehicle.wheelbase=x", "axles.front.load=y", "plan.start=z")
    assert code == 2 and err.count("\n") == 3
    assert all(line.startswith(f"{truck}:") for line in err.splitlines())


@pytest.mark.parametrize("command", ["change", "compare", "keys"])
def test_a_file_that_is_not_there_or_wrong_is_told_as_for_check(capsys, tmp_path, command):
    more = ["vehicle.name=x"] if command == "change" else []
    code, out, err = call(capsys, command, tmp_path / "none.toml", *more)
    assert code == 2 and not out and "no such file" in err
    wrong = tmp_path / "wrong.toml"
    wrong.write_text('format = 1\n[vehicle]\nwheelbase = "x"\nyear = "y"\n')
    code, out, err = call(capsys, command, wrong, *more)
    if command != "keys":
        assert code == 2 and not out and call(capsys, "check", wrong)[2] in err


def test_what_a_person_wrote_is_shown_harmlessly_and_kept_as_it_is(capsys, truck):
    name = "a\x1b[2Jb = [c]{d} \u202e"
    code, out, _ = call(capsys, "change", truck, f"vehicle.name={name}", "--apply")
    assert code == 0 and plain(out) and "\u202e" not in out and "a\\x1b[2Jb = [c]{d}" in out
    assert load(truck).data["vehicle"]["name"] == name.strip()


def test_a_sign_of_equality_in_a_value_or_a_quoted_key_is_part_of_it(capsys, truck):
    call(capsys, "change", truck, "vehicle.name=a=b=c", 'parts[0].as_ordered."x = y"=z', "--apply")
    data = load(truck).data
    assert data["vehicle"]["name"] == "a=b=c" and data["parts"][0]["as_ordered"]["x = y"] == "z"


def test_a_file_that_cannot_be_written_is_one_line(capsys, truck):
    truck.chmod(0o444)
    old = truck.read_bytes()
    code, out, err = call(capsys, "change", truck, "vehicle.name=x", "--apply")
    if code != 1 and code != 0:  # whoever may write to all files may write to this one
        assert code == 2 and not out and err.count("\n") == 1 and "not saved" in err
        assert truck.read_bytes() == old


def test_a_decision_on_other_grounds_is_told_by_the_next_check(capsys, truck):
    assert "regear with the 37s?" not in call(capsys, "check", truck, "--full")[1]
    call(capsys, "change", truck, "use.cruise_speed=45 mph", "--apply")
    _, out, _ = call(capsys, "check", truck, "--full")
    assert "regear with the 37s?" in out and "cruise speed was 50 mph, now 45 mph" in " ".join(out.split())
    told = json.loads(call(capsys, "check", truck, "--json")[1])
    assert ("decision", "regear with the 37s?") in {(one["record"], one["name"]) for one in told["look_again"]}


# comparing


def test_candidates_stand_side_by_side_in_eighty_columns(capsys, truck):
    code, out, err = call(capsys, "compare", truck)
    assert code == 0 and not err and plain(out)
    assert "may be stops" in out.partition("tall (planned): ")[2].partition(",")[0] and "0 stops" not in out
    heading = next(line for line in out.splitlines() if line.startswith("Entries"))
    assert heading.split() == ["Entries", "found", "tall", "modest"]
    assert "stud_count" not in out
    assert "stud_count" in call(capsys, "compare", truck, "tall", "modest", "--all")[1]


def test_each_candidate_has_a_verdict_in_one_plain_line(capsys, truck):
    _, out, _ = call(capsys, "compare", truck, "modest", "tall")
    for name in ("modest:", "tall (planned):"):
        line = " ".join(out.split("\n\n")[1].split()).partition(name)[2]
        for words in ("stop", "caution", "too close to call", "not known"):
            assert words in line


def test_more_than_three_candidates_stand_in_tables_below_each_other(capsys, truck):
    for name in ("snow", "mud"):
        call(capsys, "change", truck, f"fitments.{name}.tire.designation=LT255/80R17", "--apply")
    code, out, _ = call(capsys, "compare", truck)
    assert code == 0 and plain(out)
    headings = [line.split()[3:] for line in out.splitlines() if line.startswith("Cost and time")]
    assert headings == [["found", "tall", "modest"], ["snow", "mud"]]


def test_a_comparison_is_given_as_one_object(capsys, truck):
    _, out, _ = call(capsys, "compare", truck, "tall", "modest", "--json")
    told = json.loads(out)
    assert list(told["candidates"]) == ["tall", "modest"]
    assert told["candidates"]["tall"]["verdict"]["stops"] == 0
    assert told["entries"]["wheel.rim_width"] == {"tall": "9 in", "modest": "7 1/2 in"}
    width = next(row for row in told["figures"] if row["figure"] == "wheel.overall_width")
    assert width["values"] == pytest.approx({"tall": 0.254, "modest": 0.2159})


@pytest.mark.parametrize(("name", "words"), [("tal", "tall"), ("nothing", "accepted"), ("a\x1b[1m", "\\x1b[1m")])
def test_a_candidate_that_is_not_there_is_one_line(capsys, truck, name, words):
    code, out, err = call(capsys, "compare", truck, name)
    assert code == 2 and not out and err.count("\n") == 1 and words in err and "\x1b" not in err


# completion


def test_keys_are_listed_a_line_each(capsys, truck):
    code, out, _ = call(capsys, "keys", truck)
    assert code == 0 and BACKSPACE in out.splitlines() and "parts.wheels.state" in out.splitlines()
    assert "keys" not in COMMANDS  # it is the shell's


@pytest.mark.parametrize("shell", ["bash", "zsh"])
def test_a_shell_is_told_the_commands(capsys, shell):
    code, out, _ = call(capsys, "--print-completion", shell)
    assert code == 0 and " ".join(COMMANDS) in out


def test_a_shell_that_is_not_known_is_one_line(capsys):
    code, out, err = call(capsys, "--print-completion", "fish")
    assert code == 2 and not out and "bash or zsh" in err and err.count("\n") == 1


def completed(folder: Path, *words: str) -> list[str]:
    """What bash makes of a line that ends in the last word."""
    program = folder / "planner"
    program.write_text(f'#!/bin/sh\nPYTHONPATH="{Path(__file__).parents[2]}" exec "{sys.executable}" -m planner "$@"\n')
    program.chmod(0o755)
    script = (
        f'PATH="{folder}:$PATH"; eval "$(planner --print-completion bash)"; compopt() {{ :; }}\n'
        'COMP_WORDS=("$@"); COMP_CWORD=$(($# - 1)); _planner; printf "%s\\n" "${COMPREPLY[@]}"'
    )
    done = subprocess.run(["bash", "-c", script, "bash", "planner", *words], capture_output=True, text=True, check=True)
    return done.stdout.split("\n")[:-1]


@pytest.mark.skipif(sys.platform == "win32", reason="there is no bash")
def test_bash_completes_commands_and_keys_and_never_runs_what_stands_in_a_key(tmp_path, truck):
    assert completed(tmp_path, "com") == ["compare"]
    assert completed(tmp_path, "change", str(truck), "fitments.tall.wheel.backs") == [f"{BACKSPACE}="]
    mark = tmp_path / "ran"
    text = truck.read_text("utf-8") + '\n[fitments."$(touch ran)"]\ndescription = "x"\n'
    truck.write_text(text, "utf-8")
    offered = completed(tmp_path, "change", str(truck), "fitments.")
    assert any("touch" in one for one in offered)
    assert all("\\$" in one for one in offered if "touch" in one)
    assert not mark.exists() and not Path("ran").exists()
