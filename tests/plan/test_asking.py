"""Being asked: which question comes next, what an answer becomes, what few answers say, and that nothing is lost."""

from datetime import date
from pathlib import Path

import pytest

from planner.plan.answers.flagging import flags
from planner.plan.answers.open_project import open_project
from planner.plan.asking.answering import RefusedAnswer, example_of, such_as, understand_answer
from planner.plan.asking.evening import evening_page
from planner.plan.asking.interview import Heard, Interview, begin, hear, leave
from planner.plan.asking.questions import STANDS
from planner.project.diary_reading import read_diary

TODAY = date(2026, 11, 25)
PROJECTS = Path(__file__).parents[2] / "projects"
EMPTY = 'format = 2\n[vehicle]\nname = "an old truck"\nunits = "inch"\n'
# The order of standing at the truck: sidewall, on its wheels, wheel off, at the table; with what one might say.
TWELVE = (
    ("fitments.found.tire.designation", "7.50-17"),
    ("fitments.found.wheel.pieces", "multi"),
    ("axles.rear.studs.circle", "6, 4 3/8"),
    ("axles.rear.fender.axle_to_fender", "26 tape"),
    ("axles.rear.travel.bump", "3 1/2 guess"),
    ("axles.rear.fender.face_to_edge", "9"),
    ("axles.rear.brake.radius", "7"),
    ("obstacles.rear.inboard", "spring pack: 0, 9, 8"),
    ("axles.rear.fender.clearance", "2"),
    ("axles.rear.fender.wanted_poke", "-1/2"),
    ("fitments.first.tire.designation", "37x12.50R17LT"),
    ("fitments.first.wheel.rim_width", "middle"),
)


@pytest.fixture
def asked(tmp_path):
    """Being asked, from a file with nothing but a name in it."""
    return begun(tmp_path, EMPTY)


def begun(folder: Path, text: str) -> Interview:
    path = folder / "truck.toml"
    path.write_text(text, encoding="utf-8")
    return begin(open_project(path, TODAY))


def said(interview: Interview, *answers: str) -> Heard:
    """What came of the last of these, none of which is refused."""
    heard = Heard(interview)
    for one in answers:
        heard = hear(heard.then, one)
        assert not heard.refused, (one, heard.lines)
    return heard


def present(interview: Interview) -> str:
    assert interview.asked is not None
    return interview.asked.question.id


def order(interview: Interview, most: int = 12) -> list[str]:
    """The questions as they come to somebody who puts every one off."""
    found = []
    for _ in range(most):
        found.append(present(interview))
        interview = hear(interview, "skip").then
    return found


def file_of(interview: Interview) -> Path:
    return interview.state.opened.opened.source.path


def test_an_empty_project_is_asked_twelve_questions_in_the_order_of_standing_at_the_truck(asked):
    stands = []
    for key, answer in TWELVE:
        assert present(asked) == key
        stands.append(STANDS.index(asked.asked.question.stand))
        asked = said(asked, answer).then
    assert stands == sorted(stands)
    assert asked.state.first_axle == "front"  # the rear is known; the front wants more, for it steers


def test_a_list_of_what_may_be_near_the_tire_changes_no_order_while_nothing_on_it_is_measured(tmp_path):
    asked = begun(tmp_path, EMPTY + '[[obstacles]]\nname = "frame rail"\naxle = "front"\nmoves_with = "body"\n')
    assert order(said(asked, *(answer for _, answer in TWELVE[:7])).then, 2) == [key for key, _ in TWELVE[7:9]]


def test_twelve_answers_name_the_largest_tire_the_rim_and_a_backspace_with_its_window(asked):
    heard = said(asked, *(answer for _, answer in TWELVE))
    assert heard.lines[1] == "A FIRST WHEEL, REAR"
    told = {line.name: line for line in heard.then.state.wheels[0].lines}
    # 2 × (26 − 2 − 3 1/2) = 41; the tape is off by 1/16 and the guess by 1/2 in: 2 × 9/16 = 1 1/8 to either side
    assert told["largest tire, rear"].value == "about 41 in, 39 7/8 in to 42 1/8 in"
    assert told["largest tire, rear"].guess and told["largest tire, rear"].sharper == "measure the rear bump travel"
    # 7 in + 3 mm + 1 in of well + 1/4 in of barrel = 212.55 mm; code 16 has 202.8 mm, 17 has 218.3 mm, 18 has 231.0
    # mm; the brake is off by 1/16, the well by 1/4, the barrel by 1/16 in: 203.0 to 222.1 mm, so 17 or 18
    assert told["smallest rim, rear"].value == "17 (17 to 18)" and told["smallest rim, rear"].guess
    # 12 1/2 in × 0.65 and × 0.90, its middle 9.69 in, a half inch the nearest: 9 1/2 in
    assert told["rim width for the rear tire"].value == "8 1/8 in to 11 1/4 in"
    window = told["backspace window, rear"]
    assert "spring pack" in window.value and "the poke you want" in window.value and window.guess
    assert all(one.sharper for name, one in told.items() if "width" not in name)
    headings = [one.heading for one in evening_page(heard.then.state, heard.then.answered)]
    assert headings[:2] == ["Became known", "A first wheel"] and any(one.startswith("Take") for one in headings)


def test_a_size_that_no_table_has_is_asked_its_width_and_diameter(asked):
    answers = [answer for _, answer in TWELVE[:10]]
    heard = said(asked, *answers, "8.5R19.5")
    assert present(heard.then) == "fitments.first.tire.section_width"
    heard = said(heard.then, "8.6")
    assert present(heard.then) == "fitments.first.tire.overall_diameter"
    heard = said(heard.then, "33", "6")
    told = {line.name: line for line in heard.then.state.wheels[0].lines}
    assert "backspace for the poke you want, rear" in told
    assert told["tires at the rear"].guess  # a wheel of a pair is another


def test_another_truck_is_asked_in_another_order(tmp_path):
    orders = [
        order(begun(tmp_path, EMPTY)),
        order(begun(tmp_path, (PROJECTS / "just-begun.toml").read_text(encoding="utf-8"))),
        order(begun(tmp_path, (PROJECTS / "forestry-4x4.toml").read_text(encoding="utf-8"))),
        order(begun(tmp_path, EMPTY + "[axles.rear]\nsteered = true\n[axles.front]\nsteered = false\n")),
    ]
    assert len({tuple(one) for one in orders}) == 4
    assert orders[3][2] == "axles.front.studs.circle"  # the axle that does not steer comes first


def test_after_the_first_wheel_what_more_and_graver_rules_wait_for_comes_first(asked):
    state = said(asked, *(answer for _, answer in TWELVE)).then.state
    rest = [one.weight for one in state.open if not one.for_first]
    assert rest == sorted(rest, reverse=True) and rest[0] > 50


def test_only_what_can_be_answered_where_the_person_stands_is_asked(asked):
    for stand in STANDS:
        here = hear(asked, f"at {stand}").then
        while here.asked is not None and here.asked.question.id not in here.put_off:
            assert here.asked.question.stand == stand
            here = hear(here, "skip").then
    assert hear(asked, "at the moon").refused and hear(asked, "at scale").then.stands == "on a scale"


def test_a_guess_becomes_no_entry_and_raises_no_flag(asked):
    sure = said(asked, *(answer for _, answer in TWELVE[:4]))
    guessed = said(sure.then, "31 1/2 guess")  # the whole of the opening: no tire is left
    assert not open_project(file_of(asked)).project.axles.rear.travel.bump
    before, after = (flags(one.then.state.opened) for one in (sure, guessed))
    assert [(one.rule.name, one.where, one.verdict.answer) for one in before] == [
        (one.rule.name, one.where, one.verdict.answer) for one in after
    ]
    measured = said(guessed.then, "back", "3 1/2")
    assert not measured.then.state.opened.project.asking.guesses


def test_the_bolt_circle_is_one_question_whichever_way_it_is_taken(asked):
    asked = said(asked, "7.50-17", "one").then
    assert len(asked.ways) == 4
    taken = said(asked, "way 3", "5, 6.1, 2").then
    studs = taken.state.opened.project.axles.rear.studs
    assert (studs.count, studs.outer_edge_skip) == (5, 2) and studs.outer_edge_spacing is not None
    assert not any("rear.studs" in key and key.endswith(("circle", "spacing", "points")) for key in open_keys(taken))


def test_two_wheels_side_by_side_are_asked_no_poke_of_one(tmp_path):
    asked = begun(tmp_path, EMPTY + "[axles.rear]\ntires = 4\n")
    assert "axles.rear.fender.wanted_poke" not in open_keys(asked)
    assert "axles.rear.fender.wanted_poke" in open_keys(begun(tmp_path, EMPTY))


def open_keys(interview: Interview) -> list[str]:
    return [key for one in interview.state.open for key in (one.question.id, *one.question.keys)]


def test_what_does_not_apply_is_not_asked(asked):
    rear = [key for key in open_keys(said(asked, *(a for _, a in TWELVE)).then) if ".rear." in key]
    assert rear and not any("kingpin" in key or "steering" in key for key in rear)


@pytest.mark.parametrize(
    ("before", "answer", "example"),
    [
        (0, "foo", "7.50-16"),
        (1, "maybe", "one, multi"),
        (2, "6", "6, 4.375 in"),
        (2, "six, 4 3/8", "such as 6"),
        (3, "abc", "24 in ± 1/8 in"),
        (3, "-3", "24 in ± 1/8 in"),
        (3, "26 ± x", "24 in ± 1/8 in"),
        (3, "26 lb", "24 in ± 1/8 in"),
        (3, "9" * 500, "24 in ± 1/8 in"),
        (3, "26\x1b[31m", "24 in ± 1/8 in"),
        (7, "spring\u200bpack: 0, 9, 8", "spring pack: 0 in, 9 in, 4 in"),
        (3, "", "24 in ± 1/8 in"),
        (7, "spring pack", "spring pack: 0 in, 9 in, 4 in"),
        (7, "spring pack: a, b, c", "spring pack: 0 in, 9 in, 4 in"),
        (8, "n", "skip puts it off"),
    ],
)
def test_what_is_no_answer_is_told_in_one_line_with_an_example_and_nothing_is_lost(asked, before, answer, example):
    asked = said(asked, *(answer for _, answer in TWELVE[:before])).then
    text, key = file_of(asked).read_bytes(), present(asked)
    heard = hear(asked, answer)
    assert heard.refused and len(heard.lines) == 1 and example in heard.lines[0] and "\n" not in heard.lines[0]
    assert heard.then == asked and present(heard.then) == key and file_of(asked).read_bytes() == text


def test_an_answer_that_cannot_be_together_with_what_stands_there_is_not_written(asked):
    asked = said(asked, *(answer for _, answer in TWELVE[:8])).then
    text = file_of(asked).read_bytes()
    heard = hear(asked, "40 ft")  # of room around a tire in an opening of 26 in
    assert heard.refused or file_of(asked).read_bytes() != text
    if heard.refused:
        assert file_of(asked).read_bytes() == text


def test_what_was_left_off_is_taken_up_again_at_the_same_place(asked):
    asked = said(asked, "7.50-17", "skip", "at wheel off", "skip").then
    leave(asked)
    again = begin(open_project(file_of(asked), TODAY))
    assert (present(again), again.stands, again.put_off) == (present(asked), "wheel off", asked.put_off)
    text = file_of(asked).read_bytes()
    leave(again)
    assert file_of(asked).read_bytes() == text


def test_back_asks_again_and_enter_keeps_what_stands(asked):
    asked = said(asked, "7.50-17", "one", "back", "back").then
    assert present(asked) == "fitments.found.tire.designation"
    kept = said(asked, "").then
    assert present(kept) == "axles.rear.studs.circle"
    assert said(asked, "7.50-16").then.state.opened.project.fitments["found"].tire.designation == "7.50-16"
    assert len(said(asked, "7.50-16").then.answered) == 2  # one line of what was said twice


def test_what_is_not_on_this_truck_is_not_asked_again_until_it_is_answered(asked):
    asked = said(asked, "at wheel off", "n").then
    assert asked.state.opened.project.asking.not_there == ["axles.rear.brake.radius"]
    assert present(asked) != "axles.rear.brake.radius" and "axles.rear.brake.radius" not in open_keys(asked)
    undone = said(asked, "back", "7").then
    assert not undone.state.opened.project.asking.not_there and undone.state.opened.project.axles.rear.brake.radius


def test_a_blank_for_an_obstacle_that_is_not_there_goes(tmp_path):
    blank = '[[obstacles]]\nname = "exhaust"\naxle = "front"\nmoves_with = "body"\nkind = "exhaust"\n'
    asked = hear(begun(tmp_path, EMPTY + blank), "at wheel off").then
    while present(asked) != "obstacles[0].at":
        asked = hear(asked, "skip").then
    assert said(asked, "2, -7, 6").then.state.opened.project.obstacles[0].at[1].value == pytest.approx(-7 * 0.0254)
    assert (
        said(
            begun(tmp_path, EMPTY + blank)._replace(again=asked.asked.question), "n"
        ).then.state.opened.project.obstacles
        == []
    )


def test_how_well_it_was_read_goes_into_the_file(asked):
    asked = said(asked, "7.50-17", "one", "6, 4 3/8 caliper").then
    assert asked.state.opened.project.axles.rear.studs.adjacent_spacing.text == "4 3/8 in ± 0.005 in"
    assert said(asked, "t", "26").then.state.opened.project.axles.rear.fender.axle_to_fender.text == "26 in ± 1/16 in"
    back = said(asked, "t rule", "26 ± 1/4")
    assert back.then.state.opened.project.axles.rear.fender.axle_to_fender.text == "26 in ± 1/4 in"
    assert back.lines[0] == "Read as 26 in ± 1/4 in (660.4 mm)."


def test_the_largest_and_the_middle_stand_for_a_tire_and_a_rim(asked):
    wheel = said(asked, *(answer for _, answer in TWELVE[:10]), "largest", "middle").then.state.wheels[0]
    told = {line.name: line for line in wheel.lines}
    assert told["backspace window, rear"].guess and told["backspace for the poke you want, rear"].guess
    assert not open_project(file_of(asked)).candidates


def test_each_answer_is_in_the_diary(asked):
    asked = said(asked, *(answer for _, answer in TWELVE)).then
    kinds = [entry.kind for entry in read_diary(file_of(asked)).entries]
    assert kinds.count("answer") == 12


def test_an_answer_is_made_on_what_another_program_wrote_meanwhile(asked):
    path = file_of(asked)
    path.write_text(path.read_text(encoding="utf-8") + '[use]\ntop_speed = "55 mph"\n', encoding="utf-8")
    after = said(asked, "7.50-17").then.state.opened.project
    assert after.use.top_speed and after.fitments["found"].tire.designation == "7.50-17"


def test_a_metric_truck_is_asked_and_read_in_millimeters(tmp_path):
    asked = begun(tmp_path, EMPTY.replace("inch", "metric"))
    heard = said(asked, "7.50-17", "one", "6, 111", "660")
    assert heard.lines[0] == "Read as 660.0 mm ± 3.2 mm assumed (25.98 in)."
    assert said(heard.then, "75 tape").then.state.opened.project.axles.rear.travel.bump.text == "75 mm ± 1.5 mm"


def test_a_letter_that_begins_no_choice_is_a_command(asked):
    asked = said(asked, "7.50-17").then
    assert said(asked, "s").then.put_off and said(asked, "o").then.answered[-1].endswith("one")


def test_every_question_can_be_answered_by_its_own_example(asked):
    """All of a truck in one evening: no question is a dead end, and none comes again."""
    seen: list[str] = []
    while asked.asked is not None and len(seen) < 150:
        key = present(asked)
        assert key not in seen, key
        seen.append(key)
        entries = [one.choices[0] if one.choices else example_of(asked.state.opened, one) for one in asked.fields]
        told = such_as(asked.state.opened, asked.asked.question, 0).partition("such as ")[2]
        asked = said(asked, ", ".join(entries) or told).then
        if len(seen) % 12 == 0:  # nothing that stands since before is out of date
            afresh = flags(open_project(file_of(asked), TODAY))
            assert [_judged(one) for one in asked.state.flags] == [_judged(one) for one in afresh], key
    assert 60 < len(seen) < 150
    assert not asked.state.open


def _judged(flag) -> tuple[object, ...]:
    return flag.rule.name, flag.where, flag.verdict.answer, flag.by, flag.needs


def test_nothing_is_understood_of_a_question_that_has_no_such_entry(asked):
    with pytest.raises(RefusedAnswer):
        understand_answer(asked.state.opened, asked.asked.question, " ")
