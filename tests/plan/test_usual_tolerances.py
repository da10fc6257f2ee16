"""What is typed without a ± is good to what its tool reads: shown as assumed, and no clear that nobody measured."""

from datetime import date
from pathlib import Path

import pytest

from planner.plan.answers.flagging import flags
from planner.plan.answers.open_project import open_project
from planner.plan.answers.why import why
from planner.plan.change.changing import Setting, make, try_settings
from planner.plan.change.effect_words import tolerance_lines
from planner.plan.truck.forms import field, understood
from planner.plan.truck.project import OpenProject
from planner.plan.truck.recording import RefusedChange
from planner.project.diary_reading import read_diary
from planner.project.diary_words import entry_lines
from planner.quantities.show import Style
from planner.screens.widgets.change_preview import preview_lines
from tests.calling import call

TODAY = date(2026, 11, 25)

# By hand. Brake: 6.69 in - 6.5 in = 4.8 mm of room, and 3 mm is wanted; a radius read 1/16 in (1.6 mm) short and a
# barrel read as much long take 3.2 mm of it.
BRAKE = """
[axles.front.brake]
radius = "6 1/2 in"
[fitments.tall.wheel]
barrel_radius = "6.69 in"
"""
# Two sidewalls of 1,750 lb carry 3,500 lb, and the scale read 3,490 lb; it is good to 20 lb. New wheels weigh
# the same.
LOAD = """
[assumptions]
unweighed_growth = { value = "0 N" }
[axles.front]
load = "3,490 lb"
tires = 2
[fitments.tall.tire]
designation = "37x12.50R17LT"
load_capacity = "1,750 lb"
rated_pressure = "50 psi"
"""
FENDER = """
[assumptions]
bias_width_growth = {{ value = "0 %" }}
[legal]
greatest_poke = "0 in"
[axles.front.fender]
face_to_edge = "{edge}"
[fitments.tall.tire]
section_width = "12.5 in"
[fitments.tall.wheel]
offset = "12.7 mm"
"""


def truck(folder: Path, text: str, version: int = 2) -> OpenProject:
    path = folder / f"truck{version}.toml"
    path.write_text(f"format = {version}\n{text}", "utf-8")
    return open_project(path, TODAY)


def answer(opened: OpenProject, rule: str) -> str:
    """What a rule says of the front axle, where these trucks have their entries."""
    return next(one.verdict.answer for one in flags(opened) if one.rule.name == rule and "front" in one.where)


THREE = [
    (BRAKE, "brakes.barrel_near_brake"),
    (LOAD, "tire.carries_less_than_load"),
    # 12.5 in / 2 - 0.5 in = 5.75 in from the face to the sidewall, 1/10 in inside of the fender; a tape is good to 1/8.
    (FENDER.format(edge="5.85 in"), "fit.poke_past_local_code"),
]


@pytest.mark.parametrize(("text", "rule"), THREE, ids=["brake", "load", "fender"])
def test_a_clear_that_only_a_missing_tolerance_made_is_too_close_to_call(tmp_path, text, rule):
    assert answer(truck(tmp_path, text, 1), rule) == "clear"
    assert answer(truck(tmp_path, text, 2), rule) == "too close to call"


@pytest.mark.parametrize(("text", "rule"), THREE, ids=["brake", "load", "fender"])
def test_a_value_said_to_be_exact_is_exact(tmp_path, text, rule):
    said = text
    for typed in ("6 1/2 in", "6.69 in", "3,490 lb", "5.85 in", "12.5 in"):
        said = said.replace(f'"{typed}"', f'"{typed} exact"' if typed != "5.85 in" else '"5.85 in ± 0 in"')
    assert answer(truck(tmp_path, said), rule) == "clear"


# Half of what the section width may be more: of 1/8 in measured, 2 % of 12.5 in by its maker, 4 % by its size.
@pytest.mark.parametrize(
    ("size_from", "half"), [("measured", 0.0625), ("maker", 0.125), (None, 0.125), ("designation", 0.25)]
)
def test_a_tires_size_is_good_to_what_it_says_that_it_is_from(tmp_path, size_from, half):
    # The sidewall at 5.75 in, and a fender that is known exactly, a hundredth of an inch more and less than half away.
    said = "section_width" if size_from is None else f'size_from = "{size_from}"\nsection_width'
    for edge, told in ((5.75 + half + 0.01, "clear"), (5.75 + half - 0.01, "too close to call")):
        text = FENDER.format(edge=f"{edge:.4f} in exact").replace("section_width", said)
        assert answer(truck(tmp_path, text), "fit.poke_past_local_code") == told


def test_a_tires_diameter_is_good_to_as_little_by_its_makers_table_and_the_field_says_so(tmp_path):
    text = '[fitments.tall.tire]\noverall_diameter = "36.8 in"\nsize_from = "maker"\n'
    opened = truck(tmp_path, text)
    read = opened.project.fitments["tall"].tire.overall_diameter
    assert read.assumed and read.tolerance == pytest.approx(0.005 * 36.8 * 0.0254)
    one = field(opened, "fitments.tall.tire.overall_diameter")
    assert "without a ± it counts as ± 0.5 %" in one.how and "a tire maker's table" in one.how
    opened = truck(tmp_path, text.replace('"maker"', '"designation"'))
    assert opened.project.fitments["tall"].tire.overall_diameter.tolerance == pytest.approx(0.02 * 36.8 * 0.0254)


def test_a_small_thing_is_never_assumed_to_be_nothing(tmp_path):
    opened = truck(tmp_path, '[fitments.found.wheel]\ndisc_thickness = "0.02 in"\n')
    read = opened.project.fitments["found"].wheel.disc_thickness
    assert read is not None and read.assumed and read.low == pytest.approx(0.01 * 0.0254)


# shown


def test_why_says_of_an_entry_and_of_its_share_that_its_tolerance_is_assumed(tmp_path):
    opened = truck(tmp_path, BRAKE)
    spot = opened.spot("radial_clearance", fitment="tall", axle="front")
    told = why(opened, spot)
    steps = {step.name: step.value for step in told.steps}
    assert steps["brake radius (front)"].startswith("6 1/2 in ± 1/16 in assumed")
    assert ("axles.front.brake.radius", "6 1/2 in (± 1/16 in assumed)") in [
        (one.key, one.written) for one in told.brings
    ]


def test_what_would_settle_it_says_that_nobody_gave_the_tolerance(tmp_path):
    opened = truck(tmp_path, LOAD)
    flag = next(one for one in flags(opened) if one.rule.name == "tire.carries_less_than_load" and "front" in one.where)
    assert any("nobody gave its ±; it is assumed" in one for one in flag.settles)


def test_a_form_says_what_is_assumed_of_an_entry_and_why(tmp_path):
    one = field(truck(tmp_path, BRAKE), "axles.front.brake.radius")
    assert one.written == "6 1/2 in" and one.margin == "(± 1/16 in assumed)"
    assert "without a ± it counts as ± 1/16 in" in one.how and "common practice" in one.how
    assert field(truck(tmp_path, BRAKE, 1), "axles.front.brake.radius").margin == ""
    assert understood(one.wants, "7 in", Style()).reads.startswith("7 in ± 1/16 in assumed")


# typed over


def tried(opened: OpenProject, key: str, value: str):
    return try_settings(opened, [Setting(key, value)])


RADIUS = "axles.front.brake.radius"


@pytest.mark.parametrize(
    ("stood", "typed", "stands", "says"),
    [
        ("6 1/2 in ± 1/8 in", "6 in", "6 in ± 1/8 in", "kept ± 1/8 in from before; give ± to change it"),
        ("6 1/2 in ± 1/8", "6 in", "6 in ± 1/8 in", "kept ± 1/8 in from before"),
        ("6 1/2 in +/- 3 mm", "150 mm", "150 mm ± 3 mm", "kept ± 3 mm from before"),
        ("6 in ± 2 %", "7 in", "7 in ± 2 %", "kept ± 2 % from before"),
        ("6 1/2 in ± 0.005 in", "6 in", "6 in", "± 1/16 in is assumed, the usual one, more than the ± 0.005 in"),
        ("6 1/2 in", "6 in", "6 in", "no ± given: ± 1/16 in is assumed"),
    ],
)
def test_a_retyped_value_keeps_the_larger_tolerance_and_says_so(tmp_path, stood, typed, stands, says):
    trial = tried(truck(tmp_path, BRAKE.replace("6 1/2 in", stood)), RADIUS, typed)
    assert trial.after.opened.data["axles"]["front"]["brake"]["radius"] == stands
    assert says in trial.typed[0]
    assert any(says in line for line in preview_lines(trial, 20))


def test_a_ratio_keeps_its_tolerance_and_takes_none(tmp_path):
    text = '[axles.front]\nratio = "4.89 ± 0.01"\n[axles.rear]\nratio = "4.89"\n'
    opened = truck(tmp_path, text)
    assert tried(opened, "axles.front.ratio", "4.90").after.opened.data["axles"]["front"]["ratio"] == "4.90 ± 0.01"
    assert tried(opened, "axles.rear.ratio", "4.90").typed == ()


def test_a_place_keeps_the_tolerance_of_each_of_its_three(tmp_path):
    text = '[[obstacles]]\nname = "spring"\nat = ["2 in ± 1/4 in", "-20 in", "6 in ± 1 in"]\n'
    trial = tried(truck(tmp_path, text), "obstacles.spring.at", "3 in, -21 in, 7 in")
    assert trial.after.opened.data["obstacles"][0]["at"] == ["3 in ± 1/4 in", "-21 in", "7 in ± 1 in"]


def test_a_tolerance_that_goes_is_told_with_what_is_clear_by_that_alone(tmp_path):
    opened = truck(tmp_path, LOAD.replace("3,490 lb", "3,490 lb ± 20 lb"))
    trial = tried(opened, "axles.front.load", "3,480 lb exact")
    assert [one.says for one in trial.narrowed] == ["axles.front.load: the ± 20 lb is gone: now it counts as exact"]
    # 3,480 lb ± 20 lb could be 3,500 lb, which is what the tires carry: that alone would be clear as well.
    assert trial.cleared_so == ()
    trial = tried(opened, "axles.front.load", "3,490 lb ± 5 lb")
    assert trial.narrowed[0].now == "± 5 lb"
    assert [one.rule.name for one in trial.cleared_so] == ["tire.carries_less_than_load"]
    number = make(trial, "weighed again").entries[-1].number
    told = entry_lines(read_diary(opened.opened.source.path).entries[number - 1])
    assert "  axles.front.load: the ± 20 lb is gone: now it counts as ± 5 lb" in told


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ("24 in ± ", "no tolerance after it"),
        ("± 1/8", "no value before it"),
        ("6 in ± 7 in", "a tolerance as wide as itself"),
        ("6 in ± 1/8 in ± 1/8 in", "more than one tolerance"),
        ("0.05 in", "with the ± 1/16 in that was there is impossible"),
    ],
)
def test_a_tolerance_that_cannot_be_is_one_line_with_an_example_of_that_field(tmp_path, typed, says):
    opened = truck(tmp_path, BRAKE.replace("6 1/2 in", "6 1/2 in ± 1/16 in"))
    with pytest.raises(RefusedChange) as refused:
        tried(opened, RADIUS, typed)
    told = str(refused.value)
    assert says in told and told.startswith(f"{RADIUS}: ") and told.endswith("such as 6 1/2 in ± 1/16 in")
    assert "\n" not in told


# the first save of an older file


def test_the_first_save_says_what_widens_before_it_is_made_and_the_diary_keeps_it(tmp_path):
    opened = truck(tmp_path, BRAKE, 1)
    trial = tried(opened, "vehicle.year", "1953")
    assert trial.widening is not None
    assert trial.widening.keys == ("axles.front.brake.radius", "fitments.tall.wheel.barrel_radius")
    assert [one.rule.name for one in trial.widening.flags] == ["brakes.barrel_near_brake"]
    assert any("2 measured values" in line for line in tolerance_lines(trial))
    number = make(trial, "").entries[-1].number
    told = "\n".join(entry_lines(read_diary(opened.opened.source.path).entries[number - 1]))
    assert "usual one is assumed: axles.front.brake.radius, fitments.tall.wheel.barrel_radius" in told
    assert "brakes.barrel_near_brake (tall, front)" in told or "brakes.barrel_near_brake (front)" in told
    after = open_project(opened.opened.source.path, TODAY)
    assert tried(after, "vehicle.year", "1954").widening is None


def test_any_other_first_save_says_so_too(tmp_path, capsys):
    path = truck(tmp_path, BRAKE, 1).opened.source.path
    code, _, told = call(capsys, "task", path, "add", "paint the wheels")
    assert code == 0 and "2 measured values in it will take the usual ±" in told
    details = read_diary(path).entries[-1].details["assumed tolerances"]
    assert details["values"] == ["axles.front.brake.radius", "fitments.tall.wheel.barrel_radius"]


def test_several_points_are_told_as_a_person_reads_them(tmp_path):
    text = '[axles.front.studs]\npoints = [["0 in", "4 in"], ["3 in", "-2 in ± 1/16 in"]]\n'
    told = truck(tmp_path, text).written_at("axles.front.studs.points")
    assert told.startswith("(0 in ± 0.005 in assumed, 4 in ± 0.005 in assumed), (3 in") and "-2 in ± 1/16 in)" in told
