"""The short page of `check`: one screen, a line a flag, no stop without its place and margin, and what to do next."""

import json
import re
from pathlib import Path

import pytest
from calling import call
from plan.test_false_clears import truck

from planner.commands.check import LINES, page, summary
from planner.plan.answers.flagging import STANDING, flags

PROJECTS = Path(__file__).parents[2] / "projects"
COUNTY = PROJECTS / "county-road-4x4.toml"
# A tire of 40 in on a backspace of 7 in touches in many places; one of 37.6 in nearly does.
TALL = {
    "fitments__tall__wheel__backspace": "7 in ± 1/32 in",
    "fitments__tall__tire__designation": "40x12.50R17LT",
    "fitments__tall__tire__overall_diameter": "40 in ± 0.1 in",
}
ROW = re.compile(r"(STOP\??|CAUTION\??|NOTE\??|accepted) +(.*)")


def rows(lines: list[str]) -> list[tuple[str, str]]:
    """The marks and the words of the lines of flags, what is wrapped put together."""
    told: list[tuple[str, str]] = []
    for line in lines:
        found = ROW.fullmatch(line)
        if found:
            told.append((found[1], found[2]))
        elif told and line.startswith(" " * 9) and not line.endswith("graver: --full"):
            told[-1] = (told[-1][0], f"{told[-1][1]} {line.strip()}")
        elif told:
            break
    return told


@pytest.mark.parametrize("name", ["county-road-4x4", "forestry-4x4", "just-begun", "quarry-flatbed"])
def test_an_example_is_told_on_one_screen(capsys, name):
    _, out, _ = call(capsys, "check", PROJECTS / f"{name}.toml")
    lines = out.splitlines()
    assert len(lines) <= LINES == 40 and max(map(len, lines)) <= 80
    assert lines[-1] == "Local codes and licensed practice come first."


def test_what_may_be_a_stop_has_its_place_and_its_worst_in_its_line(capsys):
    _, out, _ = call(capsys, "check", COUNTY)
    line = next(line for line in out.splitlines() if "the barrel is too close to the brake" in line)
    assert line.startswith("STOP?    rear: ")
    told = json.loads(call(capsys, "check", COUNTY, "--json")[1])["flags"]
    low = next(
        one["margin"]["low"] for one in told if (one["rule"], one["where"]) == ("brakes.barrel_near_brake", "rear")
    )
    shown = re.search(r"up to (0\.\d+) in short$", line)
    assert shown and 0 <= float(shown[1]) - -low / 0.0254 < 0.001  # rounded away from what would be too little


def test_no_stop_is_left_out_of_a_page_that_is_too_full_for_all():
    opened = truck(**TALL)
    found = flags(opened)
    lines = page(opened, found, full=False)
    stops = [one for one in found if one.rule.severity == "stop" and one.verdict.answer in STANDING]
    assert len(stops) > 6 and any(one.under is not None for one in stops)
    told = rows(lines)
    for flag in stops:
        mark = "STOP" if flag.verdict.answer == "raised" else "STOP?"
        says = f"{flag.where}: {flag.rule.notices}"
        words = next(words for said, words in told if said == mark and words.startswith(says))
        assert not flag.by or re.search(r"\d.* (over|short|outside|across|late)$|no known bound$", words)
    marks = [mark for mark, _ in told]
    assert marks == sorted(marks, key=lambda mark: [*dict.fromkeys(("STOP", "STOP?", *marks))].index(mark))
    assert any("more, none of them worse: --full" in line for line in lines)


def test_what_one_rule_says_alike_of_both_ends_is_one_line(capsys):
    forestry = PROJECTS / "forestry-4x4.toml"
    told = json.loads(call(capsys, "check", forestry, "--json")[1])["flags"]
    lost = [one["where"] for one in told if one["rule"] == "brakes.braking_force_lost" and one["answer"] == "raised"]
    assert lost == ["front", "rear"]  # by other numbers each, so that they are two flags
    told = rows(call(capsys, "check", forestry)[1].splitlines())
    assert [words for _, words in told if "braking force" in words] == [
        "front and rear: braking force lost: it takes more pedal to stop"
    ]


def test_none_is_never_said_above_what_may_be_a_stop(capsys):
    _, out, _ = call(capsys, "check", COUNTY)
    assert "STOP?" in out and "0 stops" not in out and "2 may be stops, " in out
    _, out, _ = call(capsys, "check", PROJECTS / "quarry-flatbed.toml")
    assert "STOP" not in out and "0 stops, " in out
    _, out, _ = call(capsys, "check", PROJECTS / "forestry-4x4.toml")
    assert "1 stop, 2 may be stops, " in out


def test_three_things_to_do_next_begin_with_what_a_stop_asks_for(capsys):
    _, out, _ = call(capsys, "check", PROJECTS / "forestry-4x4.toml")
    steps = re.findall(r"^  (\d)\. (.*)$", out.partition("Do next\n")[2], re.MULTILINE)
    assert [at for at, _ in steps] == ["1", "2", "3"]
    told = json.loads(call(capsys, "check", PROJECTS / "forestry-4x4.toml", "--json")[1])["flags"]
    stop = next(one for one in told if one["severity"] == "stop" and one["answer"] == "raised")
    assert steps[0][1].startswith(f"{stop['where']}: {stop['notices']}. ")
    assert all(words.startswith("Measure ") for _, words in steps[1:])
    _, out, _ = call(capsys, "check", PROJECTS / "just-begun.toml")
    assert "  1. Enter the " in out and "wait for it" in out


def test_what_to_do_about_a_stop_is_more_than_the_warning_that_it_begins_with(capsys, tmp_path):
    path = tmp_path / "truck.toml"
    path.write_text(
        'format = 2\n[fitments.found.tire]\nconstruction = "bias"\n[fitments.tall.tire]\nconstruction = "radial"\n'
        '[plan]\nchosen = "tall"\n[[plan.stages]]\nname = "rear first"\nrear = "tall"\nfront = "found"\n'
        '[[changes]]\nname = "lift"\nstate = "considered"\n[[plan.stages]]\nname = "then"\nchanges = ["lift"]\n'
    )
    _, out, _ = call(capsys, "check", path)
    next_ = " ".join(out.partition("Do next\n")[2].split())
    assert "Don't drive it like this. Put the rest on first" in next_


def test_full_tells_each_whole_and_why_tells_one(capsys):
    _, out, _ = call(capsys, "check", COUNTY, "--full")
    whole = out[out.index("STOP?    rear: the barrel") : out.index("CAUTION  front and rear: multi-piece")].rstrip()
    assert "         do: " in whole and whole.endswith("brakes.barrel_near_brake; ground: common practice")
    for asked in ("brakes.barrel_near_brake", "barrel_near_brake", "barrel is too close"):
        code, told, _ = call(capsys, "why", COUNTY, asked)
        assert code == 0 and told.startswith(whole) and "radial clearance (tall, rear)" in told


def test_why_tells_a_flag_of_a_record_too(capsys, tmp_path):
    copy = tmp_path / "truck.toml"
    copy.write_bytes(COUNTY.read_bytes())  # without its diary nobody knows what a record rested on
    code, told, _ = call(capsys, "why", copy, "plan.decision_rests_on_changed")
    assert code == 0 and told.startswith("CAUTION  regear with the 37s?") and "= not known" not in told


def test_the_summary_counts_what_may_be_a_stop_once():
    opened = truck(**TALL)
    found = flags(opened)
    close = [flag for flag in found if flag.under is None and flag.verdict.answer == "too close to call"]
    stops = sum(flag.rule.severity == "stop" for flag in close)
    assert f"{len(close) - stops} {'more ' if stops else ''}too close to call" in summary(found)
    assert stops and not any(flag.counts and flag.rule.severity == "stop" for flag in found)
    assert summary(found).startswith(f"{stops} may be stops, ")
