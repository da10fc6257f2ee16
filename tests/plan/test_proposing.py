"""What is proposed: from where it is had, how it is compared, taken into the file, and refused where it cannot be."""

import tomllib
from datetime import date

import pytest
import tomli_w
from benchmarks.ratio import COUNTY, ROOT

from planner.plan.answers.flagging import flags
from planner.plan.answers.open_project import as_if_chosen, open_project, work_out
from planner.plan.change.changing import Setting, amended, settings_as_changes
from planner.plan.proposing.candidate import price_of, try_taking
from planner.plan.proposing.proposal_words import ruled_out_words
from planner.plan.proposing.question_checks import contradicting_wishes, too_little_measured
from planner.plan.proposing.rows import rows
from planner.plan.proposing.search import MOST, FitSearch
from planner.plan.proposing.size_map import size_map
from planner.plan.proposing.space import search_space
from planner.plan.truck.recording import RefusedChange
from planner.project.reading import understand
from planner.project.source import parse
from planner.quantities.show import Style

DAY = date(2026, 11, 29)
INCH = 0.0254
LOW = ("19.5",)
FEW = ("drag link, wheel hard left", "fender lip, top", "spring pack", "bed skirt, lip over the tire")
EXAMPLES = {
    # By example, what is entered so that a wheel may be proposed, and the sizes that are tried.
    "county-road-4x4": ({}, LOW),
    "quarry-flatbed": ({}, ("R22.5",)),
    "forestry-4x4": ({"axles.front.kingpin.caster": "3 deg ± 1/2 deg"}, ("75R16",)),
}


def with_entries(opened, entries):
    """As the file would read with them; what they change of the rest is not asked."""
    if not entries:
        return opened
    changes = settings_as_changes(opened, [Setting(key, value) for key, value in entries.items()]).changes
    return work_out(understand(amended(opened.opened.source, changes)[0]), DAY)


def searched(opened, only=(), **asked):
    search = FitSearch(opened, search_space(opened, only, **asked))
    list(search.run())
    return search


@pytest.fixture(scope="module")
def county():
    return open_project(COUNTY, DAY)


@pytest.fixture(scope="module")
def few():
    """The same truck with a few of its obstacles, for what is asked of offers, wishes and brakes."""
    data = tomllib.loads(COUNTY.read_text("utf-8"))
    data["obstacles"] = [one for one in data["obstacles"] if one["name"] in FEW]
    return work_out(understand(parse(COUNTY, tomli_w.dumps(data).encode())), DAY)


@pytest.fixture(scope="module")
def low(county):
    """The first example on wheels of 19.5 in, which clear its drums."""
    return searched(county, LOW)


def told(opened, name):
    """Every flag with where it stands, but for the candidate's name, and between what its margin lies."""
    return sorted(
        (
            flag.rule.name,
            tuple(tuple("" if part == name else part for part in place) for place in flag.places),
            flag.verdict.answer,
            str(flag.verdict.margin and (flag.verdict.margin.low, flag.verdict.margin.high)),
        )
        for flag in flags(opened)
    )


@pytest.mark.parametrize(
    "name", [pytest.param(name, marks=() if name.startswith("county") else pytest.mark.slow) for name in EXAMPLES]
)
def test_a_proposal_that_is_taken_and_checked_gives_the_same_flags(name, request):
    if name == "county-road-4x4":
        opened, search = request.getfixturevalue("county"), request.getfixturevalue("low")
    else:
        entries, only = EXAMPLES[name]
        opened = with_entries(open_project(ROOT / "projects" / f"{name}.toml", DAY), entries)
        search = searched(opened, only)
    found = search.answer(2)
    assert found.proposals
    for one in found.proposals:
        taken = try_taking(opened, search.space, one.fitting.candidate, "taken").after
        assert not taken.opened.faults
        assert told(as_if_chosen(taken, "taken"), "taken") == told(one.full.opened, "proposed")
        assert not one.full.against


def test_every_row_has_a_window_around_its_backspace_and_says_why_it_is_listed(county, low):
    found = low.answer()
    told = rows(county, found, low.wished)
    assert 0 < len(told) <= MOST
    for row in told:
        assert row.room is not None and row.room.low <= row.proposal.fitting.look.backspace <= row.room.high
        assert row.why and row.window and row.tightest
        step = row.proposal.fitting.look.backspace / (0.25 * INCH)
        assert abs(step - round(step)) < 1e-9  # a quarter inch, where no maker's step is entered


def test_a_wheel_made_to_order_fits_as_far_off_as_its_maker_may_be(county, low):
    """Common practice: a maker holds a length to 1/32 in. What fits only as it is drawn would not be proposed."""
    off = INCH / 32
    for row in rows(county, low.answer(), low.wished):
        fitting = row.proposal.fitting
        assert (
            row.room.low - 1e-4 <= fitting.look.backspace - off < fitting.look.backspace + off <= row.room.high + 1e-4
        )
        wheel = try_taking(county, low.space, fitting.candidate, "taken").after.project.fitments["taken"].wheel
        assert wheel.backspace.tolerance == pytest.approx(off)


def test_what_is_counted_adds_up_to_what_was_tried(low):
    found = low.answer(1)
    out = sum(number for _, number in found.ruled_out)
    assert out + found.beaten + found.more + len(found.proposals) == found.tried == found.of == low.whole


def test_a_search_that_is_stopped_answers_of_what_it_tried(few):
    search = FitSearch(few, search_space(few, ("19.5",)))
    run = search.run()
    for _ in range(4):
        tried = next(run)
    found = search.answer(1)
    assert not found.whole and found.tried == tried < found.of
    assert all(not one.full.against for one in found.proposals)
    list(run)
    assert search.answer(1).whole


def test_a_brake_read_too_loosely_rules_out_only_in_doubt_and_says_what_to_measure(few):
    search = searched(few, ("37x12.50R17LT",))
    found = search.answer(1)
    (doubt,) = {(one.rule, one.about, one.close, one.better) for one, _ in found.ruled_out if one.close}
    assert any("; all of them just too close to call: measure" in told for _, told in ruled_out_words(few, found))
    assert doubt == ("brakes.barrel_near_brake", "rear", True, "axles.rear.brake.radius")
    # Read closely enough, the same rims are no longer ruled out by it.
    closer = with_entries(few, {"axles.rear.brake.radius": "7 1/8 in ± 1/64 in"})
    assert not any(one.rule == doubt[0] for one, _ in searched(closer, ("37x12.50R17LT",)).answer(1).ruled_out)


def least(drawn):
    """The section of the first column, in half inches."""
    return min(int(one.section / INCH * 2) for one in drawn.points)


def test_the_map_has_every_size_in_its_place(county, low):
    drawn = size_map(low.answer(1), county.style)
    assert {one.tire.size for one in drawn.points} == {one.size for one in low.space.tires}
    (best,) = [one for one in drawn.points if one.proposal == 1]
    (line,) = [one for one in drawn.lines if one.startswith(f"{int(best.diameter / INCH):>4} in")]
    assert line[8 + 2 * (int(best.section / INCH * 2) - least(drawn)) + 1] == "1"
    assert all(len(line) <= 78 for line in drawn.lines)
    metric = size_map(low.answer(1), Style("metric", False))
    assert all(int(line.split()[0]) % 25 == 0 for line in metric.lines[:-1]), "no inches in millimeters"
    assert {text for text in metric.lines[-1].split() if text != "mm"} <= {str(50 * at) for at in range(9)}


OFFERS = {
    "offered[0].designation": "245/70R19.5",
    "offered[0].price": "300",
    "offered[0].lead_time": "2 weeks",
    "offered[1].kind": "wheel",
    "offered[1].rim_diameter": "19.5",
    "offered[1].rim_width": "7 1/2 in",
    "offered[1].price": "200",
    "offered[1].lead_time": "9 weeks",
    "offered[2].ratio": "4.56",
    "offered[2].axle": "both",
    "offered[2].price": "400",
    "offered[2].lead_time": "3 weeks",
}


def offered(few, more):
    return with_entries(few, OFFERS | more)


def test_what_is_offered_is_tried_with_its_price_and_its_wait(few):
    opened = offered(few, {})
    space = search_space(opened, offered_alone=True)
    assert [one.size for one in space.tires] == ["245/70R19.5"]
    assert [(one.ratio, one.price, one.days) for one in space.gears[1:]][0] == ("4.56", 800, 21)  # two axles
    found = searched(opened, offered_alone=True).answer()
    priced = {price_of(opened, one.fitting.combination) for one in found.proposals} - {None}
    assert priced <= {5 * 500, 5 * 500 + 800} and priced  # four on the axles and the spare
    assert {one.fitting.days for one in found.proposals if one.fitting.price is not None} == {63}


@pytest.mark.parametrize(
    ("wish", "rule"),
    [
        ({"wishes.budget": "2400"}, "wishes.budget"),
        ({"wishes.longest_lead_time": "8 weeks"}, "wishes.longest_lead_time"),
    ],
)
def test_a_limit_on_money_or_time_rules_out_what_is_known_to_be_past_it(few, wish, rule):
    opened = offered(few, wish)
    found = searched(opened, offered_alone=True).answer(3)
    assert any(one.rule == rule for one, _ in found.ruled_out)
    assert not any(one.fitting.look.rim.known_from == "offered" for one in found.proposals)


def test_a_set_right_at_the_budget_is_kept(few):
    found = searched(offered(few, {"wishes.budget": "2500"}), offered_alone=True).answer()
    assert any(one.fitting.price == 2500 for one in found.proposals)


def test_a_wished_diameter_leaves_the_sizes_within_it_and_the_next_ones(few):
    opened = with_entries(few, {"wishes.diameter": "33 in to 34 in"})
    search = searched(opened, ("19.5",))
    outside = [one for one in search.answer(1).looks if one.out is not None and one.out.rule == "wishes.diameter"]
    assert {one.tire.size for one in outside} == set()  # 31.9 to 34.1 in all lie within a twentieth
    narrow = with_entries(few, {"wishes.diameter": "34 in to 35 in"})
    outside = [
        one for one in searched(narrow, ("19.5",)).answer(1).looks if one.out and one.out.rule.startswith("wish")
    ]
    assert {one.tire.size for one in outside} == {"225/70R19.5"}  # 495 + 2 × 157.5 = 810 mm, 31.9 in; 32.3 is near


def test_of_several_speedometer_gears_the_one_that_reads_closest_is_taken(few):
    teeth = {f"offered[{3 + at}].teeth": str(one) for at, one in enumerate((17, 19))}
    opened = offered(few, teeth)
    search = searched(opened, offered_alone=True)
    chosen = {(one.fitting.gear.gears.ratio, one.fitting.gear.driven.teeth) for one in search.answer().proposals}
    # 838 mm × 3.05 by hand is 2.56 m a turn; 6 × 5.22 / (2.56 × 0.6214) = 19.7, and with 4.56 gears 17.2 teeth.
    assert chosen <= {("", None), ("4.56", 17), ("", 19), ("4.56", 17), ("5.86", 20), ("5.86", None)}
    assert ("4.56", 17) in chosen
    one = next(one for one in search.answer().proposals if one.fitting.gear.driven.teeth == 17)
    taken = try_taking(opened, search.space, one.fitting.candidate, "taken", "the clerk asked").after
    assert taken.sheet.value(taken.spot("driven_teeth", fitment="taken")) == 17
    assert taken.sheet.value(taken.spot("driven_teeth", fitment="tall")) == 20
    assert told(as_if_chosen(taken, "taken"), "taken") == told(one.full.opened, "proposed")


def test_an_offer_that_cannot_be_read_is_left_out_plainly(few):
    sound = {key: value for key, value in OFFERS.items() if key != "offered[1].rim_width"}
    opened = with_entries(few, sound | {"offered[0].designation": "35 by 12"})
    space = search_space(opened, offered_alone=True)
    assert not space.tires
    assert "35 by 12" in space.left_out[0] and "as molded" in space.left_out[0]
    assert space.left_out[1] == "offered[1]: no rim_width"


def test_a_truck_too_little_measured_says_which_entries_would_open_it():
    opened = open_project(ROOT / "projects" / "forestry-4x4.toml", DAY)
    assert too_little_measured(FitSearch(opened, search_space(opened, ("R16",)))) == [
        "front axle: enter front kingpin caster"
    ]
    whole = with_entries(opened, EXAMPLES["forestry-4x4"][0])
    assert not too_little_measured(FitSearch(whole, search_space(whole, ("R16",))))


@pytest.mark.parametrize(
    ("wishes", "words"),
    [
        ({"wishes.least_steer": "33 deg"}, "wishes.least_steer"),  # the stops let it turn 32° at most
        ({"wishes.poke": "1 in to 2 in"}, "wishes.poke"),  # the local code allows none
        ({"wishes.diameter": "70 in to 72 in"}, "no tire you can get comes near"),
        ({"wishes.diameter": "40 in to 41 in", "wishes.section_width": "7 in to 8 in"}, "comes near both"),
    ],
)
def test_wishes_that_contradict_are_said(few, wishes, words):
    opened = with_entries(few, wishes)
    said = contradicting_wishes(FitSearch(opened, search_space(opened)))
    assert any(words in one for one in said), said


@pytest.mark.parametrize("wishes", [{"wishes.least_steer": "31 deg"}, {"wishes.poke": "-1 in to 0 in"}, {}])
def test_wishes_that_the_truck_allows_contradict_nothing(few, wishes):
    opened = with_entries(few, wishes)
    assert not contradicting_wishes(FitSearch(opened, search_space(opened, ("19.5",))))


@pytest.mark.parametrize("name", ["found", "tall", "TALL ".strip().lower(), ""])
def test_a_name_that_is_taken_or_none_is_refused(county, low, name):
    candidate = low.answer(1).proposals[0].fitting.candidate
    with pytest.raises(RefusedChange):
        try_taking(county, low.space, candidate, name)


def test_what_a_candidate_takes_from_the_chosen_one_goes_with_the_hub_and_not_with_the_size(county, low):
    candidate = low.answer(1).proposals[0].fitting.candidate
    after = try_taking(county, low.space, candidate, "taken").after
    wheel, tall = (after.project.fitments[name].wheel for name in ("taken", "tall"))
    assert wheel.stud_circle == tall.stud_circle and wheel.bore == tall.bore and wheel.load_rating == tall.load_rating
    assert wheel.mass is None and wheel.rim_width != tall.rim_width and wheel.rim_diameter.value == 19.5


def test_what_one_axle_has_of_its_own_at_the_hub_stays_with_that_axle(county, low):
    opened = with_entries(
        county, {"fitments.tall.front.wheel.bore": "5.2 in", "fitments.tall.front.wheel.mass": "60 lb"}
    )
    candidate = low.answer(1).proposals[0].fitting.candidate
    taken = try_taking(opened, low.space, candidate, "taken").after.project.fitments["taken"]
    assert taken.front.wheel.bore.text == "5.2 in" and taken.front.wheel.mass is None
    assert taken.wheel.bore.text != "5.2 in" and taken.front.wheel.rim_width is None
