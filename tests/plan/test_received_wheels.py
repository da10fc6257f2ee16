"""Wheels as they came: each against its order, where it would do by its own readings, and what is said of it."""

from datetime import date
from pathlib import Path

import pytest
from work_truck import TODAY, listed, opened, replace, written

from planner.plan.answers.flagging import flags
from planner.plan.change.changing import Setting, make, try_settings
from planner.plan.change.task_recordings import make_recording, no_reason_helps
from planner.plan.revisit.plan_flags import all_flags
from planner.plan.work import buying
from planner.plan.work.held_readings import order_copy
from planner.plan.work.hold_points import stops_in_words
from planner.plan.work.money import money
from planner.plan.work.part_words import bought_words
from planner.plan.work.received_wheels import received_wheels
from planner.plan.work.received_words import advice, piece_words

ROOT = Path(__file__).parents[2]

# The order's bore clears the pilot at both ends; the rear pilot is a tenth of an inch larger than the front one.
HUBS = """
[axles.front.hub]
pilot = "5.0 in ± 0.005 in"
[axles.rear.hub]
pilot = "5.1 in ± 0.005 in"
"""


SIDED = ((1, "left"), (2, "right"))


def truck(folder, wheels="", more=""):
    path = written(folder, HUBS + more + wheels)
    replace(path, "format = 1", "format = 2")
    replace(path, "[fitments.tall.wheel]\n", '[fitments.tall.wheel]\nbore = "5.2 in ± 0.005 in"\n')
    return path


def wheel(mark="W1", position="rear left", backspace="5 in ± 1/64 in", bore="5.2 in ± 0.002 in", more=""):
    read = "".join(f'{name} = "{text}"\n' for name, text in (("backspace", backspace), ("bore", bore)) if text)
    return f'\n[[wheels]]\nmark = "{mark}"\nposition = "{position}"\n{read}{more}'


def came(path):
    project = opened(path)
    return received_wheels(project, flags(project))


def answers(path):
    project = opened(path)
    found = [one for one in all_flags(project, flags(project)) if "received_wheel" in one.rule.name]
    return {(flag.rule.name.removeprefix("plan.received_wheel_"), flag.where): flag for flag in found}


@pytest.mark.parametrize(
    ("readings", "answer"),
    [
        # ordered are 5 in ± 1/16 in: 1/64 in of reading leaves 3/64 in to each side
        ({"backspace": "5 3/64 in ± 1/64 in"}, "within"),
        ({"backspace": "4 61/64 in ± 1/64 in"}, "within"),
        ({"backspace": "5 1/16 in ± 1/64 in"}, "too close to call"),
        ({"backspace": "5 5/64 in ± 1/64 in"}, "too close to call"),
        ({"backspace": "5 3/32 in ± 1/64 in"}, "outside"),
        ({"bore": "5.203 in ± 0.002 in"}, "within"),
        ({"bore": "5.208 in ± 0.002 in"}, "outside"),
    ],
)
def test_a_piece_is_held_against_its_order_with_both_tolerances(tmp_path, readings, answer):
    (piece,) = came(truck(tmp_path, wheel(**readings)))
    assert piece.as_ordered == answer
    flag = answers(truck(tmp_path, wheel(**readings)))["outside_order", "W1"]
    assert flag.verdict.answer == {"within": "clear", "outside": "raised"}.get(answer, answer)


@pytest.mark.parametrize(
    ("runout", "answer", "runs_out"),
    [
        # the order has 0.030 in; past 1.2 mm, 0.0472 in, a wheel goes back whatever was ordered
        ("0.029 in ± 0.001 in", "within", False),
        ("0.032 in ± 0.001 in", "outside", False),
        ("0.048 in ± 0.001 in", "outside", False),
        ("0.049 in ± 0.001 in", "outside", True),
    ],
)
def test_runout_is_held_against_the_order_and_against_what_is_mounted_at_all(tmp_path, runout, answer, runs_out):
    path = truck(tmp_path, wheel(more=f'radial_runout = "{runout}"\n'))
    (piece,) = came(path)
    assert (piece.as_ordered, piece.runs_out) == (answer, runs_out)
    close = runout.startswith("0.048")  # 0.047 to 0.049 in
    answer = "raised" if runs_out else "too close to call" if close else "clear"
    assert answers(path)["will_not_do", "W1"].verdict.answer == answer
    assert ("may run out of true" in " ".join(piece_words(piece))) == close
    assert ("send it back" in advice(piece)) == runs_out


def test_a_runout_that_was_ordered_is_what_a_piece_is_held_against(tmp_path):
    path = truck(tmp_path, wheel(more='radial_runout = "0.032 in ± 0.001 in"\n'))
    replace(path, "[fitments.tall.wheel]\n", '[fitments.tall.wheel]\nradial_runout = "0.035 in"\n')
    (piece,) = came(path)
    assert piece.as_ordered == "within" and piece.held[-1].ordered == "up to 0.035 in"
    assert order_copy(opened(path))["front radial runout"] == "0.035 in"
    replace(path, 'radial_runout = "0.035 in"', 'radial_runout = "0.030 in"')
    assert came(path)[0].as_ordered == "outside"


def test_what_was_ordered_without_a_tolerance_has_the_general_one_of_the_order_sheet(tmp_path):
    path = truck(tmp_path, wheel(bore="5.209 in ± 0.0005 in"))
    replace(path, 'bore = "5.2 in ± 0.005 in"', 'bore = "5.2 in"')
    assert came(path)[0].as_ordered == "within"  # up to 0.010 in over, and nothing less
    replace(path, "5.209 in", "5.199 in")
    assert came(path)[0].as_ordered == "outside"


@pytest.mark.parametrize(
    ("position", "bore", "does_at", "says"),
    [
        # 5.05 in goes over the front pilot of 5.0 in and not over the rear one of 5.1 in
        (
            "rear left",
            "5.05 in ± 0.002 in",
            ("front",),
            "it would fit the front, as far as anybody knows; if not, send it back",
        ),
        ("front left", "5.05 in ± 0.002 in", ("front",), "outside the order's tolerance"),
        (
            "spare",
            "5.05 in ± 0.002 in",
            ("front",),
            "it would fit only the front, as far as anybody knows; if not, send it back",
        ),
        ("rear left", "4.9 in ± 0.002 in", (), "send it back"),
        ("front left", "4.9 in ± 0.002 in", (), "send it back"),
    ],
)
def test_a_piece_is_judged_at_each_end_by_its_own_readings(tmp_path, position, bore, does_at, says):
    path = truck(tmp_path, wheel(position=position, bore=bore))
    (piece,) = came(path)
    assert piece.does_at == does_at and says in advice(piece)
    against = {end.axle: [flag.rule.name for flag in end.against] for end in piece.places}
    assert against["rear"] == ["wheel.bore_smaller_than_pilot"]
    flag = answers(path)["will_not_do", "W1"]
    does_here = position.split()[0] in does_at
    assert flag.verdict.answer == ("clear" if does_here else "raised")
    assert flag.rule.severity == "stop"
    # the plan itself is judged as it was ordered
    assert not [one for one in flags(opened(path)) if one.rule.name == "wheel.bore_smaller_than_pilot" and one.stands]


def test_what_was_not_measured_is_never_clear(tmp_path):
    found = answers(truck(tmp_path, wheel(backspace="")))
    assert found["will_not_do", "W1"].verdict.answer == "not known"
    assert found["will_not_do", "W1"].wants == ("wheels[0].backspace",)
    assert answers(truck(tmp_path, wheel(bore="")))["will_not_do", "W1"].wants == ("wheels[0].bore",)
    assert not answers(truck(tmp_path, wheel(backspace="", bore="")))  # not begun: the task asks for it
    assert "not measured yet" in advice(came(truck(tmp_path, wheel(backspace="", bore="")))[0])
    assert answers(truck(tmp_path, wheel()))["will_not_do", "W1"].verdict.answer == "clear"


def test_a_faulty_reading_of_a_piece_is_not_known(tmp_path):
    found = answers(truck(tmp_path, wheel(bore="5.2 lb")))
    assert {flag.verdict.answer for flag in found.values()} == {"not known"}


def test_what_went_back_is_told_and_not_judged(tmp_path):
    path = truck(tmp_path, wheel(bore="4.9 in ± 0.002 in", more='state = "sent back"\n'))
    assert not answers(path) and "it went back" in next(piece_words(came(path)[0]))


def test_the_order_is_kept_with_the_part_and_what_comes_is_held_against_that(tmp_path):
    part = '\n[[parts]]\nid = "rims"\nkind = "wheels"\nused_for = ["tall"]\n'
    path = truck(tmp_path, wheel(), part)
    project = opened(path)
    make_recording(project, buying.set_part_state(project, 0, "ordered"))
    assert opened(path).project.parts[0].as_ordered == {"backspace": "5 in ± 0.0625 in", "bore": "5.2 in ± 0.005 in"}
    replace(path, 'backspace = "5 in ± 1/16 in" # as ordered', 'backspace = "4 1/2 in ± 1/64 in"')
    assert came(path)[0].as_ordered == "within"
    project = opened(path)
    make_recording(project, buying.set_part_state(project, 0, "wanted"))
    assert not opened(path).project.parts[0].as_ordered


def set_by_change(path, **values):
    make(try_settings(opened(path), [Setting(f"parts.rims.{name}", value) for name, value in values.items()]), "")
    return opened(path).project.parts[0]


def test_a_state_set_by_a_change_brings_day_and_figures_with_it_as_on_the_screens(tmp_path):
    path = truck(tmp_path, more='\n[[parts]]\nid = "rims"\nkind = "wheels"\nused_for = ["tall"]\n')
    part = set_by_change(path, state="ordered")
    kept = {"backspace": "5 in ± 0.0625 in", "bore": "5.2 in ± 0.005 in"}
    assert (part.ordered, part.as_ordered) == (TODAY, kept)
    replace(path, 'backspace = "5 in ± 1/16 in" # as ordered', 'backspace = "4 1/2 in ± 1/64 in"')
    part = set_by_change(path, state="arrived", arrived="2026-01-06")
    assert (part.arrived, part.ordered, part.as_ordered) == (date(2026, 1, 6), TODAY, kept)
    part = set_by_change(path, state="ordered")  # it had not come after all
    assert (part.arrived, part.ordered, part.as_ordered) == (None, TODAY, kept)
    part = set_by_change(path, state="wanted")
    assert (part.ordered, part.as_ordered) == (None, {})


def test_wheels_are_ordered_by_the_figures_that_one_change_gives_them(tmp_path):
    path = truck(tmp_path, more='\n[[parts]]\nid = "rims"\nkind = "wheels"\nused_for = ["tall"]\n')
    settings = [("parts.rims.state", "ordered"), ("parts.rims.ordered", "2026-01-02")]
    settings.append(("fitments.tall.wheel.backspace", "4 1/2 in ± 1/16 in"))
    make(try_settings(opened(path), [Setting(*one) for one in settings]), "")
    part = opened(path).project.parts[0]
    assert (part.ordered, part.as_ordered["backspace"]) == (date(2026, 1, 2), "4.5 in ± 0.0625 in")


def test_while_no_candidate_is_chosen_nobody_can_say_what_a_piece_is_for(tmp_path):
    path = truck(tmp_path, wheel(), '\n[fitments.low.wheel]\nbackspace = "4 in"\n')
    replace(path, 'chosen = "tall"\n', "")
    assert answers(path)["will_not_do", "W1"].wants == ("plan.chosen",)
    assert listed(path, TODAY) and not came(path)[0].places


def test_without_a_candidate_no_piece_is_clear(tmp_path):
    path = tmp_path / "truck.toml"
    path.write_text(f"format = 2\n{HUBS}{wheel()}")
    assert answers(path)["will_not_do", "W1"].wants == ("plan.chosen",)
    assert not came(path)[0].held


def test_what_cannot_be_judged_at_an_end_is_counted_there(tmp_path):
    path = truck(tmp_path, wheel(bore="5.19 in ± 0.002 in"))
    replace(path, '[axles.rear.hub]\npilot = "5.1 in ± 0.005 in"\n', "")
    front, rear = came(path)[0].places
    names = [{flag.rule.name for flag in end.open} for end in (front, rear)]
    assert "wheel.bore_smaller_than_pilot" in names[1] - names[0]
    assert "can't be judged there yet" in [*piece_words(came(path)[0])][-1]


def test_what_is_too_near_stands_against_a_piece_at_its_own_end_alone(tmp_path):
    path = tmp_path / "county.toml"
    text = (ROOT / "projects" / "county-road-4x4.toml").read_text(encoding="utf-8")
    # 3/4 in more of backspace than was ordered has the rim that much nearer to drag link and tie rod, both in front
    path.write_text(text + wheel(position="rear left", backspace="5 1/2 in ± 1/64 in", bore="5.15 in ± 0.002 in"))
    project = opened(path, date(2026, 11, 25))
    (piece,) = received_wheels(project, flags(project))
    left, right, rear = piece.places
    near = [{flag.places[0][2] for flag in one.against if flag.places[0][2]} for one in (left, right)]
    assert near[1] and all(project.obstacles[label].measured.axle == "front" for label in near[0] | near[1])
    assert near[0] - near[1] == {"drag link, wheel hard left"} and not near[1] - near[0]  # there is none on the right
    assert not rear.against and piece.does_at == piece.own_places == ("rear",)


def test_what_is_too_near_on_one_side_leaves_the_other_for_the_wheel(tmp_path):
    # Swept, the county truck's front left keeps the least room to its drag link, the right has none.
    path = tmp_path / "county.toml"
    text = (ROOT / "projects" / "county-road-4x4.toml").read_text(encoding="utf-8")
    pieces = [wheel(f"W{at}", f"front {side}", "5 1/2 in ± 1/64 in", "5.15 in ± 0.002 in") for at, side in SIDED]
    path.write_text(text + "".join(pieces))
    project = opened(path, date(2026, 11, 25))
    one, other = received_wheels(project, flags(project))
    assert (one.own_places, other.own_places) == (("front left",), ("front right",))
    assert {flag.places[0][2] for flag in one.against} - {flag.places[0][2] for flag in other.against} == {
        "drag link, wheel hard left"
    }


def test_a_wheel_that_will_not_do_where_it_goes_holds_the_mounting_until_it_goes_elsewhere_or_back(tmp_path):
    holds = ("mock_up.sign", "check.sign")
    path = truck(tmp_path, wheel("W3", "rear left", bore="5.05 in ± 0.002 in"))  # goes over the front pilot alone
    for id_ in holds:
        one = listed(path).items[id_]
        assert "W3: a wheel that came" in stops_in_words(one.stops)
        assert f"{id_} can't be signed while there's a stop" in no_reason_helps(listed(path), one)
    assert not any("W3" in stops_in_words(listed(path).items[id_].stops) for id_ in ("decide.sign", "order.drawing"))
    replace(path, '"rear left"', '"front left"')
    assert not any("W3" in stops_in_words(listed(path).items[id_].stops) for id_ in holds)
    replace(path, '"front left"', '"rear left"\nstate = "sent back"')
    assert not any("W3" in stops_in_words(listed(path).items[id_].stops) for id_ in holds)


def test_a_signed_mock_up_lapses_by_a_wheel_that_came_since(tmp_path):
    signed = '\n[[tasks]]\nid = "mock_up.sign"\nstate = "done"\nbecause = "offered up by hand"\n'
    path = truck(tmp_path, wheel("W3", bore=""), signed)
    one = listed(path).items["mock_up.sign"]
    assert ("wheels[0].bore",) in [flag.wants for flag in one.not_known] and not one.stops  # not measured, not clear
    replace(path, 'mark = "W3"', 'mark = "W3"\nbore = "4.9 in ± 0.002 in"')
    assert listed(path).items["mock_up.sign"].why.startswith("its signature has lapsed: W3: ")
    project = opened(path)
    lapsed = [one for one in all_flags(project, flags(project)) if one.rule.node == "signature_lapsed"]
    assert [(one.where, one.verdict.answer) for one in lapsed] == [("mock_up.sign", "raised")]


def test_a_wheel_whose_bore_may_not_go_over_the_hub_is_too_close_to_call_there_and_not_sent_back(tmp_path):
    # 5.098 to 5.102 in over a rear pilot of 5.095 to 5.105 in; the front one is a tenth smaller
    path = truck(tmp_path, wheel("W3", "rear left", bore="5.1 in ± 0.002 in"))
    (piece,) = came(path)
    assert (piece.does_at, piece.may_do_at, piece.close) == (("front",), ("front", "rear"), True)
    assert answers(path)["will_not_do", "W3"].verdict.answer == "too close to call"
    assert "measure it better before you mount it; it would fit the front" in advice(piece)
    assert "not for sure at the rear: " in " ".join(piece_words(piece))
    assert "W3: " in stops_in_words(listed(path).items["mock_up.sign"].stops)  # nor is it signed for


def test_the_whole_wheel_stays_as_it_was_ordered_to_be_read_later(tmp_path):
    path = truck(tmp_path, more='\n[[parts]]\nid = "rims"\nkind = "wheels"\nused_for = ["tall"]\n')
    more = 'rim_diameter = "17"\nrim_width = "9 in"\nstud_count = 6\nstud_circle = "7 5/8 in ± 0.005 in"\n'
    replace(path, "[fitments.tall.wheel]\n", f"[fitments.tall.wheel]\n{more}")
    kept = set_by_change(path, state="ordered").as_ordered
    told = ("rim diameter code 17", "rim width 9 in", "stud holes 6", "bolt circle 7 5/8 in ± 0.005 in")
    assert set(told) <= {f"{name} {text}" for name, text in kept.items()}
    row = next(one for one in money(opened(path)).rows if one.id == "rims")
    assert any(line.startswith("ordered as: backspace 5 in ± 0.0625 in; ") for line in bought_words(row, ""))
