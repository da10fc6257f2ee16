"""The truck as it will sit: every point drawn is an entry or follows from one, wishes, and the photo's points."""

import re
from datetime import date
from math import pi, sin

import pytest
from plain_truck import PLAIN

from planner.plan.answers.flagging import flags
from planner.plan.answers.open_project import open_project
from planner.plan.asking.next_question import ask_state, next_question
from planner.plan.drawings.look_ends import look_end
from planner.plan.drawings.look_side import look_side
from planner.plan.drawings.looks import looks_beside, whole_look
from planner.plan.drawings.truck_body import named, on_truck, outline_points, photo_miss
from planner.project.models.look import Outline

TODAY = date(2026, 11, 28)
TIRE = """
[fitments.{name}.tire]
overall_diameter = "{diameter} mm"
loaded_radius = "{loaded} mm"
section_width = "200 mm"
tread_width = "160 mm"
[fitments.{name}.wheel]
rim_diameter = 16
rim_width = "160 mm"
flange_thickness = "12 mm"
backspace = "102 mm"
"""
OPENING = """
[axles.{axle}]
face_to_face = "1500 mm ± 0 mm"
ride_height = "{ride} mm ± 0 mm"
[axles.{axle}.travel]
bump = "80 mm ± 0 mm"
[axles.{axle}.fender]
axle_to_fender = "600 mm ± 0 mm"
face_to_edge = "130 mm ± 0 mm"
ahead = "560 mm ± 0 mm"
up_ahead = "620 mm ± 0 mm"
top = "600 mm ± 0 mm"
up_behind = "620 mm ± 0 mm"
behind = "580 mm ± 0 mm"
"""
BODY = """
[outline]
points = "-800 mm, 500 mm; -800 mm, 1000 mm; 3000 mm, 1200 mm"
front = "0 mm, 1500 mm; 900 mm, 1000 mm"
"""
VEHICLE = """
[vehicle]
units = "metric"
wheelbase = "3000 mm ± 0 mm"
overall_height = "1900 mm ± 0 mm"
body_width = "1800 mm ± 0 mm"
[vehicle.ends]
point_ahead = "800 mm ± 0 mm"
point_ahead_height = "500 mm ± 0 mm"
"""
TRUCK = (
    "format = 2\n"
    + VEHICLE
    + OPENING.format(axle="front", ride=350)
    + OPENING.format(axle="rear", ride=402)
    + TIRE.format(name="found", diameter=800, loaded=380)
    + TIRE.format(name="tall", diameter=900, loaded=430)
    + PLAIN
)


def truck(tmp_path, more: str = "", without: str = "", text: str = TRUCK + BODY):
    path = tmp_path / "truck.toml"
    kept = [line for line in text.splitlines() if not (without and re.match(without, line))]
    path.write_text("\n".join(kept) + "\n" + more, "utf-8")
    return open_project(path, TODAY)


def drawn(scene, weight):
    return [point for line in scene.lines if line.weight == weight for point in line.points]


def near(points, spot):
    return any(point == pytest.approx(spot, abs=1e-9) for point in points)


# the side


def test_the_wheels_stand_at_their_loaded_radius_and_the_body_goes_up_with_them(tmp_path):
    scene = look_side(truck(tmp_path), "tall")
    centers = {
        (arc.center, arc.weight) for arc in scene.arcs if arc.radius in (pytest.approx(0.4), pytest.approx(0.45))
    }
    assert centers == {
        ((0.0, 0.38), "thin"), ((-3.0, 0.38), "thin"), ((0.0, 0.43), "outline"), ((-3.0, 0.43), "outline"),
    }  # fmt: skip
    # 430 − 380: every point of the body is 50 mm higher than found
    for spot in ((0.8, 0.5), (0.8, 1.0), (-3.0, 1.2)):
        assert near(drawn(scene, "thin"), spot)
        assert near(drawn(scene, "outline"), (spot[0], spot[1] + 0.05))
    # it stands on the ground: the tire is cut off where its center is its loaded radius up
    tire = next(arc for arc in scene.arcs if arc.weight == "outline")
    assert 0.45 * sin(-tire.start) == pytest.approx(0.43) and tire.end == pytest.approx(pi - tire.start)


def test_the_opening_goes_through_the_five_measured_points_and_up_with_the_body(tmp_path):
    scene = look_side(truck(tmp_path), "tall")
    across = 0.62 / 2**0.5
    for x, z in ((0.56, 0.0), (across, across), (0.0, 0.6), (-across, across), (-0.58, 0.0)):
        assert near(drawn(scene, "thin"), (x, 0.38 + z))
        assert near(drawn(scene, "outline"), (x, 0.43 + z))
        assert near(drawn(scene, "outline"), (-3.0 + x, 0.43 + z))


def test_no_point_is_drawn_of_what_was_not_entered_and_the_entry_that_would_is_named(tmp_path):
    whole = look_side(truck(tmp_path), "tall")
    assert "fender opening" not in whole.words and "body outline" not in whole.words
    bare = look_side(truck(tmp_path, without="(ahead|up_ahead|top|up_behind|behind) ="), "tall")
    assert len(bare.lines) == len(whole.lines) - 4
    assert "front fender opening ahead, up ahead, at the top, up behind, behind; the same at the rear" in bare.words
    bare = look_side(truck(tmp_path, text=TRUCK), "tall")
    assert "body outline (outline.points)" in bare.words
    assert {line.weight for line in bare.lines if near(line.points, (0.8, 1.05))} == set()


def test_a_candidate_whose_tire_is_not_known_is_left_out_and_named(tmp_path):
    opened = truck(tmp_path, more="[fitments.later]\ndescription = 'later'\n")
    scene = look_side(opened, "later")
    assert {arc.weight for arc in scene.arcs} == {"thin"} and not near(drawn(scene, "outline"), (0.8, 1.05))
    assert "wheel (later)" in scene.words and "later set's tire size" in scene.words


def test_a_truck_with_nothing_entered_says_in_a_line_what_it_takes(tmp_path):
    opened = truck(tmp_path, text="format = 2\n")
    for scene in (look_side(opened, "found"), whole_look(opened, "found").scene, looks_beside(opened, 2)):
        assert not scene.lines and "wheelbase" in scene.missing


def test_a_lift_takes_the_opening_along_and_what_it_leaves_open_is_not_guessed(tmp_path):
    lift = """
[[changes]]
name = "lift"
kind = "lift"
state = "decided"
with = ["tall"]
[changes.sets]
"axles.front.lift" = "100 mm ± 0 mm"
"axles.rear.lift" = "100 mm ± 0 mm"
"""
    scene = look_side(truck(tmp_path, more=lift), "tall")
    assert near(drawn(scene, "outline"), (0.0, 0.38 + 0.6 + 0.15))  # 50 from the tires, 100 from the lift
    assert near(drawn(scene, "outline"), (0.8, 0.5 + 0.15))
    trimmed = lift.replace('kind = "lift"', 'kind = "fender or bed trimmed"').replace(
        "front.lift", "front.fender.face_to_edge"
    )
    trimmed = trimmed.replace('"axles.rear.lift" = "100 mm ± 0 mm"\n', "")
    scene = look_side(truck(tmp_path, more=trimmed), "tall")
    assert not near(drawn(scene, "outline"), (0.0, 0.43 + 0.6)) and near(drawn(scene, "outline"), (-3.0, 0.43 + 0.6))
    assert "fender opening, front" in scene.words


# the ends


def test_the_tires_stand_on_their_track_under_the_fenders_edge(tmp_path):
    scene = look_end(truck(tmp_path), "tall", "front")
    # rim 160 + 2 × 12 = 184 overall, backspace 102: offset 10, so the center plane lies 750 − 10 = 740 mm out
    planned = drawn(scene, "outline")
    assert max(x for x, z in planned if z < 0.5) == pytest.approx(0.840)
    assert near(planned, (0.880, 0.43 + 0.6)) and near(planned, (-0.880, 0.43 + 0.6))  # 750 + 130 out, 600 over the hub
    assert near(drawn(scene, "outline"), (0.9, 1.05)) and near(drawn(scene, "thin"), (-0.9, 1.0))
    assert min(z for _, z in planned) == 0.0
    assert any(one.text == "poke -40.0 mm" for one in scene.labels)  # 840 − 880
    assert {one.text for one in scene.dimensions} == {"track 1480 mm", "body 1800 mm"}


def test_the_views_of_a_candidate_stand_under_each_other_at_one_scale(tmp_path):
    opened = truck(tmp_path)
    view = whole_look(opened, "tall")
    radii = sorted({round(arc.radius, 4) for arc in view.scene.arcs})
    assert radii == sorted({round(arc.radius, 4) for arc in look_side(opened, "tall").arcs})
    assert {"from the front", "from the rear"} <= {one.text for one in view.scene.labels}
    assert named(opened, view.left_out) == (
        "Not drawn, since not entered: lowest rear point (point behind, point behind height); lowest point between "
        "(lowest between position, lowest between); body from the rear (outline.rear)."
    )


def test_every_candidate_is_drawn_beside_the_others(tmp_path):
    opened = truck(tmp_path, more=TIRE.format(name="small", diameter=820, loaded=385))
    scene = looks_beside(opened, 2)
    assert {one.text for one in scene.labels} >= {"tall, Ø 900.0 mm", "small, Ø 820.0 mm"}
    tires = [arc for arc in scene.arcs if arc.weight == "outline" and arc.radius > 0.3]
    assert sorted(round(arc.radius, 3) for arc in tires) == [0.41, 0.41, 0.45, 0.45]


# wishes


@pytest.mark.parametrize(
    ("wish", "rule", "answers"),
    [
        # 900 of 560 + 580 is 78.9 %
        ('fender_fill = "78 to 85 %"', "look.fill_not_as_wished", {"clear"}),
        ('fender_fill = "80 to 85 %"', "look.fill_not_as_wished", {"raised"}),
        ('fender_fill = "as large as clears"', "look.fill_not_as_wished", set()),
        # 40 mm inside
        ('poke = "-50 to -30 mm"', "look.poke_not_as_wished", {"clear"}),
        ('poke = "-35 to 0 mm"', "look.poke_not_as_wished", {"raised"}),
        # 52 mm over 3000 is 0.993°
        ('rake = "0.9 to 1.5 deg"', "look.rake_not_as_wished", {"clear"}),
        ('rake = "0 to 0.9 deg"', "look.rake_not_as_wished", {"raised"}),
    ],
)
def test_a_wish_is_held_against_how_it_will_stand(tmp_path, wish, rule, answers):
    exact = TRUCK.replace(' mm"', ' mm ± 0 mm"').replace("± 0 mm ± 0 mm", "± 0 mm")
    opened = truck(tmp_path, more=f"[wishes]\n{wish}\n", text=exact)
    found = [one for one in flags(opened) if one.rule.name == rule]
    assert {one.verdict.answer for one in found if one.verdict.answer != "does not apply"} <= answers | {
        "does not apply"
    }
    assert ({one.verdict.answer for one in found} & {"clear", "raised"}) == answers
    assert all(one.rule.severity == "note" for one in found)


def test_a_wish_that_waits_for_a_reading_is_not_known_and_asks_for_it(tmp_path):
    opened = truck(tmp_path, more='[wishes]\nfender_fill = "78 to 85 %"\n', without="ahead =")
    found = [one for one in flags(opened) if one.rule.name == "look.fill_not_as_wished"]
    assert {one.verdict.answer for one in found} == {"not known"}
    assert {need for one in found for need in one.needs} == {"axles.front.fender.ahead", "axles.rear.fender.ahead"}


# a photo


def outline(**more):
    return Outline.model_validate(more)


HUBS = ({"pixel": [400, 900], "at": ["0 m", "0.4 m"]}, {"pixel": [1400, 900], "at": ["3 m", "0.4 m"]})


def test_a_photos_pixels_are_placed_by_two_known_points_whichever_way_the_truck_faces():
    # 3 m over 1000 pixels: 3 mm each; 100 up and 200 ahead of the front hub
    left = outline(known=HUBS, pixels=[[200, 800], [1400, 900]])
    assert outline_points(left) == (pytest.approx((0.6, 0.7)), pytest.approx((-3.0, 0.4)))
    facing_right = ({"pixel": [1400, 900], "at": ["0 m", "0.4 m"]}, {"pixel": [400, 900], "at": ["3 m", "0.4 m"]})
    assert outline_points(outline(known=facing_right, pixels=[[1600, 800]])) == (pytest.approx((0.6, 0.7)),)


def test_a_photo_that_was_held_a_little_askew_is_turned_back():
    # a quarter more down than across: the hubs stand 4 across to 1 down, and 100 pixels up the picture leans along
    known = ({"pixel": [0, 0], "at": ["0 m", "0.4 m"]}, {"pixel": [400, 100], "at": ["3 m", "0.4 m"]})
    place = on_truck(outline(known=known, pixels=[]))
    assert place is not None and place((400, 100)) == pytest.approx((-3.0, 0.4))
    assert place((25, -100)) == pytest.approx((0.0, 0.4 + 0.75))  # square to the line of the hubs, a quarter as long


def test_another_known_point_tells_how_far_off_the_photo_is():
    third = {"pixel": [900, 500], "at": ["1.5 m", "1.63 m"]}  # 400 up is 1.2 m: 1.6 m, and it is 1.63
    assert photo_miss(outline(known=[*HUBS, third], pixels=[[0, 0]])) == pytest.approx(0.03)
    assert photo_miss(outline(known=HUBS, pixels=[[0, 0]])) is None


@pytest.mark.parametrize(
    "known",
    [[], [HUBS[0]], [HUBS[0], {"pixel": [400, 900], "at": ["3 m", "0.4 m"]}], [HUBS[0], {"pixel": [1400, 900]}]],
)
def test_pixels_without_two_known_points_draw_nothing_and_ask_for_them(tmp_path, known):
    assert outline_points(outline(known=known, pixels=[[1, 2]])) == ()
    opened = truck(tmp_path, more="[outline]\npixels = [[1, 2], [3, 4]]\n", text=TRUCK)
    assert "body outline (outline.known)" in look_side(opened, "tall").words


# readings that cannot be together


def test_a_tightest_point_that_is_further_off_than_the_edge_straight_up_is_not_believed(tmp_path):
    at_odds = TRUCK.replace('top = "600 mm ± 0 mm"', 'top = "590 mm ± 0 mm"', 1)
    opened = truck(tmp_path, text=at_odds, more='[axles.rear.brake]\nradius = "150 mm"\n')
    found = {(one.rule.name, one.where): one.verdict.answer for one in flags(opened)}
    assert found["fit.tightest_point_contradicted", "front"] == "raised"
    assert found["fit.tightest_point_contradicted", "rear"] == "clear"
    # by 600 mm the 900 mm tire would clear its opening on the stop: by 590 nobody knows which is right
    assert opened.sheet.value(opened.spot("tire_for_clearance", fitment="tall", axle="front")) is None
    assert opened.sheet.value(opened.spot("opening_top", fitment="tall", axle="front")) == pytest.approx(0.59)


# being asked


def test_what_a_wish_for_the_look_waits_for_is_asked_behind_all_that_the_first_wheel_waits_for(tmp_path):
    wish = '[wishes]\nfender_fill = "75 to 85 %"\nrake = "0 to 1 deg"\n'
    begun = 'format = 2\n[fitments.tall.tire]\ndesignation = "LT235/85R16"\n'
    state = ask_state(truck(tmp_path, text=begun, more=wish))
    of_look = {"ahead", "behind", "ride_height"}
    places = {one.question.id: at for at, one in enumerate(state.open)}
    asked = [at for key, at in places.items() if key.rpartition(".")[2] in of_look]
    assert len(asked) == 6
    assert not any(one.for_first for at, one in enumerate(state.open) if at in asked)
    assert min(asked) > max(at for at, one in enumerate(state.open) if one.for_first)
    assert next_question(state) is not None and next_question(state).for_first
    without = ask_state(truck(tmp_path, text=begun))
    assert not [one for one in without.open if one.question.id.rpartition(".")[2] in of_look]
