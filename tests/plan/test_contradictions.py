"""Entries that contradict each other: a stop names both, nothing that rests on them is clear, the right value cures."""

import json
from datetime import date

import pytest
from calling import call
from changing_truck import write
from plan.test_false_clears import TAKEN_AWAY, told, truck

from planner.commands.check import page
from planner.plan.answers.flagging import flags
from planner.plan.answers.open_project import open_project, open_sound
from planner.plan.change.changing import Setting, make, try_settings
from planner.worksheet.outcome import Known

TODAY = date(2026, 11, 25)
TIRE, WHEEL, FRONT = "fitments__tall__tire__", "fitments__tall__wheel__", "axles__front__"
SIZE, INDEXED = "37x12.50R17LT", "37x12.50R17LT 124Q"

# (what is entered, the rule that finds it, the keys that it names, what is clear on the county truck and rests on them)
CASES = {
    "a load beside the size's index": (
        {TIRE + "load_capacity": "9,000 lb"},
        "tire.capacity_and_index",
        ("fitments.tall.tire.load_capacity", "fitments.tall.tire.load_index"),
        ("tire.carries_less_than_load", "tire.carries_less_than_rating"),
    ),
    "a load index beside the size's": (
        {TIRE + "designation": INDEXED, TIRE + "load_index": 126, TIRE + "load_capacity": TAKEN_AWAY},
        "tire.load_index_and_size",
        ("fitments.tall.tire.load_index", "fitments.tall.tire.designation"),
        ("tire.carries_less_than_load", "tire.carries_less_than_rating"),
    ),
    "a faster speed symbol than the size's": (
        {TIRE + "designation": INDEXED, TIRE + "speed_symbol": "T"},
        "tire.speed_symbol_and_size",
        ("fitments.tall.tire.speed_symbol", "fitments.tall.tire.designation"),
        ("tire.slower_than_top_speed",),
    ),
    "a section width that is another size's": (
        {TIRE + "section_width": "10.5 in ± 0.1 in"},
        "tire.width_and_size",
        ("fitments.tall.tire.section_width", "fitments.tall.tire.designation"),
        ("tire.rim_outside_usual_band", "fit.wider_than_legal"),
    ),
    "a diameter that is another size's": (
        {TIRE + "overall_diameter": "33 in ± 0.1 in"},
        "tire.diameter_and_size",
        ("fitments.tall.tire.overall_diameter", "fitments.tall.tire.designation"),
        ("gearing.engine_past_its_top_speed", "stance.taller_than_the_door"),
    ),
    "a loaded radius that is another tire's": (
        {TIRE + "loaded_radius": "14 in ± 1/8 in"},  # 36.8 / 2 is 18.4 in, and 18 % less 15.1
        "tire.loaded_radius_and_diameter",
        ("fitments.tall.tire.loaded_radius", "fitments.tall.tire.overall_diameter"),
        ("stance.stability_fallen", "gearing.shaft_torque_grown"),
    ),
    "a loaded radius beside a size alone": (
        {TIRE + "loaded_radius": "14 in ± 1/8 in", TIRE + "overall_diameter": TAKEN_AWAY},
        "tire.loaded_radius_and_diameter",
        ("fitments.tall.tire.loaded_radius", "fitments.tall.tire.designation"),
        ("stance.stability_fallen", "gearing.shaft_torque_grown"),
    ),
    "a loaded radius above half the diameter": (
        {TIRE + "loaded_radius": "19 in ± 1/8 in"},
        "tire.loaded_radius_and_diameter",
        ("fitments.tall.tire.loaded_radius", "fitments.tall.tire.overall_diameter"),
        ("stance.taller_than_the_door",),
    ),
    "a roll-out that is another tire's": (
        {TIRE + "rolling_circumference": "133 in ± 1/4 in"},  # π × 36.8 is 115.6 in
        "tire.roll_out_and_diameter",
        ("fitments.tall.tire.rolling_circumference", "fitments.tall.tire.overall_diameter"),
        ("gearing.engine_past_its_top_speed",),
    ),
    "a roll-out with a digit turned round": (
        {TIRE + "rolling_circumference": "103 in ± 1/4 in"},  # 2.85 × 36.8 is 104.9 in
        "tire.roll_out_and_diameter",
        ("fitments.tall.tire.rolling_circumference", "fitments.tall.tire.overall_diameter"),
        ("gearing.engine_past_its_top_speed",),
    ),
    "a construction that is not the size's": (
        {TIRE + "construction": "bias"},
        "tire.construction_and_size",
        ("fitments.tall.tire.construction", "fitments.tall.tire.designation"),
        ("tire.radial_and_bias_on_one_truck",),
    ),
    "a rim of another code than the tire": (
        {WHEEL + "rim_diameter": "16.5"},
        "tire.rim_diameters_differ",
        ("fitments.tall.wheel.rim_diameter", "fitments.tall.tire.designation"),
        ("tire.carries_less_than_load", "tire.radial_and_bias_on_one_truck"),
    ),
    "an offset that does not go with the backspace": (
        {WHEEL + "offset": "20 mm"},  # 4 3/4 − 9/2 − 1/2 is −1/4 in, or −6.35 mm
        "wheel.offset_and_backspace",
        ("fitments.tall.wheel.offset", "fitments.tall.wheel.backspace", "fitments.tall.wheel.rim_width"),
        ("tire.rim_outside_tires_range", "fit.wider_than_legal"),
    ),
    "a kingpin track that does not go with the inset": (
        {FRONT + "kingpin__track": "53 in ± 1/4 in"},  # 64 − 2 × 4 1/2 is 55 in
        "steering.kingpin_track_and_inset",
        ("axles.front.kingpin.track", "axles.front.kingpin.inset", "axles.front.face_to_face"),
        ("steering.scrub_radius_changed_sign",),
    ),
    "a laden load below the one weighed": (
        {FRONT + "laden_load": "315 lb"},  # a digit lost of 3,150
        "loads.laden_and_weighed",
        ("axles.front.laden_load", "axles.front.load"),
        ("loads.axle_overloaded", "tire.carries_less_than_load"),
    ),
    "a ratio that the teeth do not give": (
        {FRONT + "ratio": "4.10"},  # 47 / 9 is 5.222
        "gearing.ratio_differs_from_teeth",
        ("axles.front.ratio", "axles.front.ring_teeth", "axles.front.pinion_teeth"),
        ("gearing.axles_travel_apart", "gearing.shaft_torque_past_rating"),
    ),
    "stud readings of two circles": (
        {FRONT + "studs__circle": "8 in"},
        "wheel.stud_readings_disagree",
        ("axles.front.studs.circle", "axles.front.studs.skip_spacing"),
        ("wheel.stud_circle_differs", "wheel.stud_circle_unusual"),
    ),
    "a spare's load beside the index in its size": (
        {"fitments__tall__spare__designation": INDEXED, "fitments__tall__spare__load_capacity": "9,000 lb"},
        "tire.spare_capacity_and_index",
        ("fitments.tall.spare.load_capacity", "fitments.tall.spare.designation"),
        ("tire.spare_carries_less", "tire.spare_mixes_radial_and_bias"),
    ),
    "a spare that is not of its size": (
        {"fitments__tall__spare__overall_diameter": "33 in ± 0.1 in"},
        "fit.spare_and_its_size",
        ("fitments.tall.spare.overall_diameter", "fitments.tall.spare.designation"),
        ("tire.spare_mixes_radial_and_bias", "fit.spare_differs_in_size"),
    ),
}


@pytest.mark.parametrize("case", CASES.values(), ids=CASES)
def test_two_entries_that_say_different_things_stop_with_both_keys_and_nothing_on_them_is_clear(case):
    entries, rule, keys, rest_on_it = case
    opened = truck(**entries)
    found = flags(opened)
    stop = next(flag for flag in found if flag.rule.name == rule and flag.verdict.answer == "raised")
    assert stop.rule.severity == "stop"
    for key in keys:
        assert f"{opened.spoken(key)} = {opened.written_at(key)}" in stop.says and key in stop.between
    for name in rest_on_it:
        resting = [flag for flag in found if flag.rule.name == name and set(flag.needs) & set(keys)]
        assert resting, name
        assert all(flag.verdict.answer == "not known" and "it contradicts" in str(flag.wants) for flag in resting)
    assert not opened.opened.faults


def test_what_rests_on_neither_of_the_two_is_told_as_ever():
    before, after = told(truck()), told(truck(axles__front__ratio="4.10"))
    places = before.keys() | after.keys()
    moved = {name for name, at in places if before.get((name, at)) != after.get((name, at))}
    assert {name for name in moved if not name.startswith("plan.")} == {
        "gearing.ratio_differs_from_teeth",
        "gearing.axles_travel_apart",
        "gearing.driveline_winds_up",
        "gearing.effective_ratio_moved",
        "gearing.no_gear_set_restores",
        "gearing.shaft_torque_grown",
        "gearing.shaft_torque_past_rating",
    }


@pytest.mark.parametrize(
    "entries",
    [
        {TIRE + "load_capacity": "3,000 lb"},  # 124 is 1600 kg, or 3,527 lb
        {TIRE + "load_capacity": "3,530 lb"},  # as molded, to the nearest 5 lb
        {TIRE + "designation": INDEXED, TIRE + "speed_symbol": "N"},  # slower than Q
        {TIRE + "section_width": "13.5 in ± 0.1 in"},  # 8 % over
        {TIRE + "overall_diameter": "35.5 in ± 0.1 in"},  # worn, 4 % under
        {TIRE + "loaded_radius": "15 1/4 in ± 1/8 in"},  # a soft tire that squashes 17 %
        {TIRE + "loaded_radius": "18 1/2 in ± 1/8 in"},  # pumped up hard; half of 36.8 in is 18.4
        {TIRE + "rolling_circumference": "108 in ± 1/4 in"},  # a radial on record that rolls least has 2.96 diameters
        {TIRE + "rolling_circumference": "115 in ± 1/4 in"},
        {WHEEL + "offset": "-6 mm"},
        {FRONT + "kingpin__track": "54 1/2 in ± 1/4 in"},
        {FRONT + "kingpin__track": "54 in ± 1/4 in"},  # an inch off, of which the tolerances are 5/8 in
    ],
    ids=str,
)
def test_a_derating_and_what_two_measurements_may_differ_by_contradict_nothing(entries):
    opened = truck(**entries)
    assert not opened.at_odds
    contradictions = [flag for flag in flags(opened) if flag.rule.bars and flag.verdict.answer != "clear"]
    assert not [flag for flag in contradictions if flag.rule.close_agrees]


def test_an_entry_alone_is_not_held_against_what_is_worked_out_from_itself():
    names = {flag.rule.name for flag in flags(truck(**{TIRE + "load_capacity": TAKEN_AWAY}))}
    assert "tire.capacity_and_index" not in names
    assert "wheel.offset_and_backspace" not in names  # no offset is entered
    assert "tire.load_index_and_size" not in names  # the size of the county truck has none


def test_a_weighing_with_the_axle_lifted_contradicts_nothing():
    # its own day: 5,820 lb on the scale, 3,080 and 3,420 lb under the axles as weighed with the driver
    opened = truck(vehicle__lift_test__weight="5,000 lb ± 20 lb", vehicle__cg_height="30 in ± 1 in")
    assert not opened.at_odds


def test_the_right_value_cures_it_and_neither_stands_in_the_way_of_saving(tmp_path):
    opened = open_project(write(tmp_path), TODAY)
    wrong = try_settings(opened, [Setting("fitments.tall.tire.load_capacity", "9,000 lb")])
    assert "tire.capacity_and_index" in {
        one.rule.name for one in wrong.effects.flags if one.now and one.now.verdict.answer == "raised"
    }
    make(wrong, "")
    opened = open_sound(tmp_path / "truck.toml", TODAY)  # it has no fault
    capacity = opened.spot("load_capacity", fitment="tall", axle="front")
    assert not isinstance(opened.sheet.outcome(capacity), Known)
    assert opened.text_of("fitments.tall.tire.load_capacity") == "9,000 lb"
    make(try_settings(opened, [Setting("fitments.tall.tire.load_capacity", "3,525 lb")]), "")
    opened = open_sound(tmp_path / "truck.toml", TODAY)
    assert isinstance(opened.sheet.outcome(capacity), Known) and not opened.at_odds


def test_the_page_has_one_line_for_one_cause_and_asks_for_nothing_that_was_entered():
    opened = truck(**{WHEEL + "offset": "20 mm"})
    text = " ".join("\n".join(page(opened, flags(opened))).split())
    because = text.partition("Not known, because entries contradict each other")[2]
    assert because.count("tall set's wheel offset") == 1 and "fit.wider_than_legal" in because
    assert "Not known yet" not in text and "Measure or settle next" not in text


def test_json_has_the_keys_of_the_stop_and_what_each_entry_stands_against(tmp_path, capsys):
    path = write(tmp_path)
    make(try_settings(open_project(path, TODAY), [Setting("axles.front.ratio", "4.10")]), "")
    data = json.loads(call(capsys, "check", path, "--json")[1])
    stop = next(
        one for one in data["flags"] if one["rule"] == "gearing.ratio_differs_from_teeth" and one["answer"] == "raised"
    )
    assert stop["between"] == ["axles.front.ratio", "axles.front.ring_teeth", "axles.front.pinion_teeth"]
    assert data["contradictions"]["axles.front.ratio"] == ["axles.front.ring_teeth", "axles.front.pinion_teeth"]


def test_why_tells_of_the_two_entries_and_a_tooth_ratio_is_the_teeths_own(tmp_path, capsys):
    path = write(tmp_path)
    assert (
        "= 5.222" in call(capsys, "why", path, "gearing.tooth_ratio", "--axle", "front")[1]
    )  # 47 / 9; entered is 5.22
    make(try_settings(open_project(path, TODAY), [Setting("axles.front.ratio", "4.10")]), "")
    assert "= 5.222" not in call(capsys, "why", path, "gearing.effective_axle_ratio", "--axle", "front")[1]
    told = " ".join(call(capsys, "why", path, "gearing.effective_axle_ratio", "--axle", "front")[1].split())
    assert "front axle ratio (it contradicts front axle ring teeth and front axle pinion teeth)" in told
    assert "by 21.0 %" in " ".join(
        call(capsys, "why", path, "gearing.ratio_differs_from_teeth", "--axle", "front")[1].split()
    )


def test_what_the_truck_found_says_twice_is_told_though_another_fitment_is_chosen():
    opened = truck(fitments__found__tire__overall_diameter="30 in ± 1/8 in")  # 7.50-17 stands near 33 1/2 in
    stop = next(flag for flag in flags(opened) if flag.rule.name == "tire.diameter_and_size")
    assert stop.verdict.answer == "raised" and "found" in stop.where


@pytest.mark.parametrize("axle", ["front", "rear"])
def test_a_radius_of_one_axle_contradicts_the_diameter_of_the_tires_as_found(axle):
    opened = truck(**{f"fitments__found__{axle}__tire__loaded_radius": "13 in ± 1/8 in"})  # 33 1/2 / 2 is 16 3/4 in
    stop = next(flag for flag in flags(opened) if flag.rule.name == "tire.loaded_radius_and_diameter")
    assert stop.verdict.answer == "raised" and "found" in stop.where and {at[1] for at in stop.places} == {axle}


def test_of_two_candidates_only_the_one_with_the_contradiction_is_not_known():
    opened = truck(plan__chosen=TAKEN_AWAY, **{TIRE + "load_capacity": "9,000 lb"})
    answers = {
        flag.places[0][0]: flag.verdict.answer
        for flag in flags(opened)
        if flag.rule.name == "tire.carries_less_than_load"
    }
    assert answers == {"tall": "not known", "modest": "clear"}


def test_a_change_that_contradicts_what_was_found_leaves_that_known_and_the_candidate_not():
    change = {
        "name": "other hubs",
        "state": "decided",
        "with": ["tall"],
        "sets": {"axles.front.studs.skip_spacing": "7 in ± 0.005 in"},  # 7 / sin 60° is 8.08 in, where 7 5/8 was found
    }
    opened = truck(changes=[change])
    circle = {
        one: opened.sheet.outcome(opened.spot("stud_circle", fitment=one, axle="front")) for one in ("found", "tall")
    }
    assert isinstance(circle["found"], Known) and not isinstance(circle["tall"], Known)
    stop = next(flag for flag in flags(opened) if flag.rule.name == "wheel.stud_readings_disagree" and flag.between)
    assert stop.verdict.answer == "raised" and "front stud skip spacing (by the change" in stop.says


def test_a_rating_and_its_plate_contradict_each_other_by_their_readings():
    plate = {"of": "axles.front.rating", "value": "3,200 lb", "how": "plate on the axle"}  # entered are 3,500 lb
    opened = truck(readings=[plate])
    (fault,) = opened.opened.faults
    assert fault.key == ("axles", "front", "rating") and fault.against == (("readings", 0, "value"),)
    assert told(opened)["tire.carries_less_than_rating", "front"] == "not known"


@pytest.mark.parametrize("offset", [None, "60 mm"])
def test_while_a_limit_on_the_backspace_rests_on_what_contradicts_the_window_is_not_known_and_no_wider(
    offset,
):
    # Scrub and bearings go by where the tire was found: 4 3/4 − 6/2 − 1/2 in is 1 1/4 in, and not 60 mm.
    entered = {} if offset is None else {"fitments__found__wheel__offset": offset}
    opened = truck(**entered)
    width = opened.spot("window_width", fitment="tall", axle="rear")
    assert (opened.sheet.value(width) is None) == (offset is not None)
    assert (width in opened.swept.needs) == (offset is not None)
