"""A key that is set where the starting file has its example takes the example's place, and nobody's own words go."""

import tomllib

import pytest

from planner.project.amending import amend
from planner.project.changes import DELETE
from planner.project.starting import starting_text

FORMS = pytest.mark.parametrize("every", [False, True], ids=["what everybody fills in", "the whole form"])
UNITS = pytest.mark.parametrize("units", ["inch", "metric"])
RADIUS = ("axles", "rear", "brake", "radius")


@FORMS
@UNITS
def test_a_new_entry_takes_the_place_of_its_example_and_keeps_what_is_said_of_it(every, units):
    before = starting_text("x", units, every)
    after = amend(before, {RADIUS: "7 in"})
    old, new = before.splitlines(), after.splitlines()
    (at,) = [at for at, (one, other) in enumerate(zip(old, new, strict=True)) if one != other]
    assert old[at].startswith("#radius = ") and new[at].startswith('radius = "7 in"  ')
    assert new[at].partition("  # ")[2] == old[at].partition("  # ")[2] != ""
    assert new.index("[axles.rear.brake]") < at < at + 2 < len(new)
    assert "axles" in tomllib.loads(after) and tomllib.loads(after)["axles"]["rear"]["brake"] == {"radius": "7 in"}


@FORMS
def test_a_table_that_the_form_has_as_an_example_begins_there(every):
    before = starting_text("x", "inch", every)
    after = amend(before, {("fitments", "taller", "wheel", "backspace"): "4 in"})
    old, new = before.splitlines(), after.splitlines()
    moved = [(one, other.split("  #")[0].strip()) for one, other in zip(old, new, strict=True) if one != other]
    assert [other for _, other in moved] == ["[fitments.taller.wheel]", 'backspace = "4 in"']
    assert moved[0][0] == "#[fitments.taller.wheel]"


def test_the_first_of_a_list_begins_where_the_form_has_one():
    before = starting_text("x", "inch", every=True)
    after = amend(before, {("parts", 0): {"id": "wheels", "price": 900}})
    assert len(after.splitlines()) == len(before.splitlines())
    assert tomllib.loads(after)["parts"] == [{"id": "wheels", "price": 900}]
    more = amend(after, {("parts", 1): {"id": "tires"}})
    assert [one["id"] for one in tomllib.loads(more)["parts"]] == ["wheels", "tires"]


def test_an_obstacle_of_the_form_has_its_place_where_the_blank_was():
    before = starting_text("x", "inch", every=True)
    after = amend(before, {("obstacles", 2, "at"): ["0 in", "-7 in", "2 in"]})
    assert len(after.splitlines()) == len(before.splitlines())
    assert "at" in tomllib.loads(after)["obstacles"][2] and "at" not in tomllib.loads(after)["obstacles"][1]


def test_what_a_person_put_behind_a_mark_stays_and_the_entry_comes_below_it():
    before = '[axles.rear.brake]\n# drum, measured cold\n#radius = "7 1/8 in"  # by eye\n#face = "0 in"\n'
    after = amend(before, {RADIUS: "7 in"})
    assert after == before.replace("# by eye\n", '# by eye\nradius = "7 in"\n')


def test_what_looks_like_an_example_within_a_list_or_a_text_is_left_alone():
    before = '[axles.rear.brake]\nnotes = [\n  "a",\n  #radius = "7 in"\n]\nmore = """\n#radius = "8 in"\n"""\n'
    after = amend(before, {RADIUS: "7 in"})
    assert after == before + 'radius = "7 in"\n'
    before = 'more = """\n#[[parts]]\n"""\n'
    assert amend(before, {("parts", 0): {"id": "a"}}).startswith(before)


def test_an_entry_that_is_taken_away_again_leaves_the_file_sound():
    before = starting_text("x", "inch", every=True)
    after = amend(amend(before, {RADIUS: "7 in"}), {RADIUS: DELETE})
    assert tomllib.loads(after) == tomllib.loads(before) and "largest radius of the drum" in after
