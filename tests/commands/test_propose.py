"""`planner propose`: the list, what ruled out the rest, as JSON, taken into the file, and refused in one line."""

import json
import shutil

import pytest
from benchmarks.ratio import COUNTY, ROOT
from calling import call, one_line

from planner.commands import propose


@pytest.fixture
def truck(tmp_path):
    return shutil.copy(COUNTY, tmp_path / "truck.toml")


def test_the_page_says_what_fits_why_and_what_ruled_out_the_rest(capsys, truck):
    code, out, err = call(capsys, "propose", truck, "--only", "225/70R19.5", "--only", "37x12.50R17LT", "--full")
    assert code == 0 and not err
    assert "Tried " in out and "that nothing beats" in out
    assert " 1  225/70R19.5 on 19.5x" in out and "least room: " in out and "backspace    " in out
    said = " ".join(out.split())
    assert "What ruled out the rest" in said and "too close to call: measure the rear brake radius better" in said
    assert " not known (7 of them may be stops)" in said
    assert "Whatever you choose, this may be a stop: rear: wheel and hub have different bolt circles." in said
    assert all(len(line) <= 80 for line in out.splitlines())


def test_json_has_what_was_tried_ruled_out_and_proposed(capsys, truck):
    code, out, _ = call(
        capsys, "propose", truck, "--only", "225/70R19.5", "--only", "37x12.50R17LT", "--json", "--top", 2
    )
    found = json.loads(out)
    assert code == 0 and found["tried"] == found["of"] and found["whole"] is True
    ruled_out = sum(one["count"] for one in found["ruled_out"])
    assert ruled_out + found["beaten"] + found["more_unbeaten"] + len(found["proposals"]) == found["tried"]
    assert 0 < len(found["proposals"]) <= 2
    for one in found["proposals"]:
        assert one["window"]["low"] <= one["backspace"] <= one["window"]["high"]
        assert one["flags"]["stops"] == 0 and one["worst_stop_margin"]["room"] >= 0.0 and one["why"]
        assert one["tire"]["known_from"].endswith("(from memory)") and one["rim"]["known_from"] == "made to order"
        assert one["gear_set"] in (None, "4.56", "5.86")
        assert set(one["wishes"]) == {"fender_fill", "rake", "cruise_engine_speed"} and one["wishes"]["rake"]["met"]
    assert {one["tire"] for one in found["sizes"]} == {"225/70R19.5", "37x12.50R17LT"}


def test_one_is_shown_before_it_is_taken_and_written_with_apply(capsys, truck):
    before = truck.read_text()
    asked = ("propose", truck, "--only", "225/70R19.5", "--take", 1, "--as", "low", "--because", "most room")
    code, out, _ = call(capsys, *asked)
    assert code == 0 and "tried, not made" in out and truck.read_text() == before
    assert "low set's tire size: nothing → 225/70R19.5" in out and "{" not in out
    assert out.rstrip().endswith("low puts it beside what you plan.")
    code, out, _ = call(capsys, *asked, "--apply")
    assert code == 0 and "made" in out and "[fitments.low.tire]" in truck.read_text()
    code, out, _ = call(capsys, "check", truck, "--json")
    assert "low" not in json.loads(out).get("faults", [])
    code, out, _ = call(capsys, "diary", truck)
    assert "most room" in out


def test_the_space_is_listed_with_where_each_is_known_from(capsys, truck):
    code, out, _ = call(capsys, "propose", truck, "--space")
    assert code == 0 and "LT235/85R16" in out and "(from memory)" in out and "GOST R 52899-2007" in out
    code, out, _ = call(capsys, "propose", truck, "--space", "--json", "--only", "19.5")
    found = json.loads(out)
    assert {one["designation"][-4:] for one in found["tires"]} == {"19.5"}
    assert (
        found["combinations"] == 3 * len([1 for one in found["tires"] for _ in range(6)]) or found["combinations"] > 0
    )


@pytest.mark.parametrize(
    ("asked", "words"),
    [
        (("--offered",), "no tire is offered"),
        (("--top", 13), "accepted: 1 to 12"),
        (("--only", "99x99"), "99x99"),
        (("--only", "225/70R19.5", "--take", 1), "--as NAME"),
        (("--only", "225/70R19.5", "--take", 99, "--as", "low"), "accepted: 1 to"),
        (("--only", "225/70R19.5", "--take", 1, "--as", "tall"), "there is already a tall"),
        (("--only", "225/70R19.5", "--take", 1, "--as", "low", "--apply"), "--because"),
    ],
)
def test_what_cannot_be_is_refused_in_a_line(capsys, truck, asked, words):
    code, out, err = call(capsys, "propose", truck, *asked)
    assert code == 2 and not out and one_line(err) and words in err


@pytest.mark.parametrize(
    ("name", "words"),
    [("just-begun", "an obstacle inboard of the tire at the front axle"), ("forestry-4x4", "front kingpin caster")],
)
def test_a_truck_too_little_measured_is_told_what_would_open_it(capsys, name, words):
    code, out, err = call(capsys, "propose", ROOT / "projects" / f"{name}.toml")
    assert code == 2 and not out and one_line(err) and words in err


def test_wishes_that_contradict_are_refused_in_a_line(capsys, truck):
    truck.write_text(truck.read_text().replace("[wishes]\n", '[wishes]\nleast_steer = "35 deg"\n'))
    code, out, err = call(capsys, "propose", truck, "--only", "225/70R19.5")
    assert code == 2 and not out and one_line(err) and "can't have all that you want at once" in err and "35" in err


def test_a_file_with_a_fault_is_not_searched(capsys, truck):
    truck.write_text(truck.read_text().replace("[wishes]\n", '[wishes]\nleast_steer = "steep"\n'))
    code, out, err = call(capsys, "propose", truck)
    assert code == 2 and not out and "wishes.least_steer" in err


def test_a_search_that_is_broken_off_answers_so_and_one_that_takes_long_says_so_before(capsys, truck, monkeypatch):
    run = propose.FitSearch.run

    def broken_off(self):
        for at, tried in enumerate(run(self)):
            if at == 2:
                raise KeyboardInterrupt
            yield tried

    monkeypatch.setattr(propose.FitSearch, "run", broken_off)
    monkeypatch.setattr(propose, "A_MINUTE", 1e-6)
    code, out, err = call(capsys, "propose", truck, "--only", "225/70R19.5", "--top", 1)
    assert "STOPPED before the end" in " ".join(out.split()) and "Ctrl-C ends it" in err and code in (0, 1)
