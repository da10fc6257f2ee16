"""Reading designations: every form that people write, the same however it is written, and nothing else."""

from time import process_time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.trade.tire.designation import LONGEST, read_designation
from planner.worksheet.declare import Impossible

INCH = 0.0254


@pytest.mark.parametrize(
    ("written", "kind", "width", "aspect", "rim", "construction"),
    [
        ("LT235/85R16 120/116R", "metric", 0.235, 0.85, 16, "radial"),
        ("235/85R16C", "metric", 0.235, 0.85, 16, "radial"),
        ("P265/70R17 113S", "metric", 0.265, 0.70, 17, "radial"),
        ("265/70R17", "metric", 0.265, 0.70, 17, "radial"),
        ("37x12.50R17LT", "flotation", 12.5 * INCH, None, 17, "radial"),
        ("37X12.50-17 LT", "flotation", 12.5 * INCH, None, 17, "bias"),
        ("7.50-16", "numeric", 7.5 * INCH, None, 16, "bias"),
        ("7.50R16LT", "numeric", 7.5 * INCH, None, 16, "radial"),
        ("9.00-20", "numeric", 9 * INCH, None, 20, "bias"),
        ("335/80R20 147K", "metric", 0.335, 0.80, 20, "radial"),
        ("14.00R20", "numeric", 14 * INCH, None, 20, "radial"),
        ("185R14C", "metric", 0.185, None, 14, "radial"),
        ("H78-15", "alphanumeric", None, 0.78, 15, "bias"),
        ("HR78-15", "alphanumeric", None, 0.78, 15, "radial"),
        ("8.75R16.5LT", "numeric", 8.75 * INCH, None, 16.5, "radial"),
        ("11R22.5", "numeric", 11 * INCH, None, 22.5, "radial"),
        ("245/40ZR18 (93Y)", "metric", 0.245, 0.40, 18, "radial"),
    ],
)
def test_every_form_of_size_is_read(written, kind, width, aspect, rim, construction):
    size = read_designation(written)
    assert (size.kind, size.aspect_ratio, size.rim_diameter_code, size.construction) == (
        kind,
        aspect,
        rim,
        construction,
    )
    assert size.nominal_section_width == (None if width is None else pytest.approx(width))


@pytest.mark.parametrize(
    "ways",
    [
        ("LT235/85R16 120/116R", "lt235/85r16 120/116r", "LT 235 / 85 R 16  120 / 116 R", " LT235/85R16120/116R "),
        ("37x12.50R17LT", "37X12.50R17 LT", "37×12.50R17LT", "37 x 12.50 R 17 lt", "LT37x12.50R17"),
        ("9.00-20", "9.00 - 20", "9.00\u201320", "9.00\u221220", "9.00-20 "),
        ("7.50-16LT 8PR", "7.50-16 LT 8 PR", "LT7.50-16 8 ply", "7.50-16lt 8-ply", "7.50-16LT D", "7.50-16 LT LRD"),
        (
            "LT235/85R16/E 120/116R",
            "LT235/85R16 120/116R E",
            "LT235/85R16E 120/116R",
            "LT235/85R16 LOAD RANGE E 120/116R",
        ),
        ("235/85R16C", "235/85R16 C", "235/85r16 c"),
    ],
)
def test_case_spaces_and_the_sort_of_cross_make_no_difference(ways):
    assert {read_designation(way) for way in ways} == {read_designation(ways[0])}


def test_a_single_and_a_dual_load_index_and_the_speed_symbol_are_read():
    size = read_designation("LT235/85R16 120/116R")
    assert (size.load_index, size.load_index_dual, size.speed_symbol) == (120, 116, "R")
    single = read_designation("335/80R20 147K")
    assert (single.load_index, single.load_index_dual, single.speed_symbol) == (147, None, "K")


def test_a_c_is_commercial_behind_a_plain_size_and_a_load_range_behind_a_light_truck_size():
    plain, light_truck = read_designation("235/85R16C"), read_designation("LT235/85R16C")
    assert (plain.commercial, plain.load_range) == (True, None)
    assert (light_truck.commercial, light_truck.load_range, light_truck.ply_rating) == (False, "C", 6)
    both = read_designation("185R14C 8PR 102/100Q")
    assert (both.commercial, both.load_range, both.load_index_dual) == (True, "D", 100)


def test_the_letters_of_load_ranges_stand_two_plies_apart_and_i_and_k_are_left_out():
    for letter, plies in zip("ABCDEFGHJLMN", range(2, 25, 2), strict=True):  # American yearbooks, from memory
        assert read_designation(f"7.50-16LT {letter}").ply_rating == plies
        assert read_designation(f"7.50-16LT {plies}PR").load_range == letter


def test_a_c_set_apart_from_an_old_bias_size_is_its_load_range():
    """From memory: the yearbooks' letters stand apart, ETRTO's C for commercial stands at the rim's code."""
    apart, at_it = read_designation("7.50-16 C"), read_designation("7.50-16C")
    assert (apart.load_range, apart.ply_rating, apart.commercial) == ("C", 6, False)
    assert (at_it.load_range, at_it.ply_rating, at_it.commercial) == (None, None, True)
    assert read_designation("7.50 R 16 C").commercial  # all of it is set apart, as ETRTO does
    assert read_designation("235/85R16 LOAD RANGE C").load_range == "C"
    assert {read_designation(one).passenger for one in ("7.50-16 C", "7.50-16C", "7.50 R 16 C")} == {False}


@pytest.mark.parametrize("mark", ["MPT 147K", "147K MPT", "POR 147K", "ET", "ML"])
def test_the_marks_of_a_trucks_use_are_read_and_make_it_no_passenger_tire(mark):
    size = read_designation(f"335/80R20 {mark}")
    assert (size.nominal_section_width, size.rim_diameter_code, size.passenger) == (pytest.approx(0.335), 20, False)
    assert size.load_index == (147 if "147" in mark else None)


@pytest.mark.parametrize("mark", ["XL", "EXTRA LOAD", "REINFORCED", "M+S 3PMSF"])
def test_marks_that_change_no_size_are_read_past(mark):
    assert read_designation(f"265/70R17 {mark}")._replace(passenger=None) == read_designation("265/70R17")


@pytest.mark.parametrize(
    ("written", "why"),
    [
        ("ST235/80R16", "trailers"),
        ("ST 235/80 R16 124/120M", "trailers"),
        ("235/80R16 ST", "trailers"),
        ("335/80R20 FRT", "trailers"),
        ("7.50-16 NHS", "not for use on roads"),
        ("7.50-16 IMP", "farm implements"),
        ("T125/70D17", "a temporary spare"),
    ],
)
def test_a_tire_that_is_made_for_something_else_is_refused_with_the_reason(written, why):
    with pytest.raises(Impossible) as caught:
        read_designation(written)
    assert why in caught.value.accepted and "LT235/85R16" in caught.value.accepted


def test_tube_type_and_tubeless_marks_are_read():
    assert read_designation("9.00-20 14PR TT").tube == "tube"
    assert read_designation("14.00R20 TL").tube == "tubeless"
    assert read_designation("14.00R20").tube is None


@pytest.mark.parametrize("written", ["P265/70R17 113S", "H78-15", "265/70R17 113S"])
def test_a_passenger_tire_is_known_as_one(written):
    assert read_designation(written).passenger is True


@pytest.mark.parametrize(
    "written",
    [
        "LT235/85R16",
        "235/85R16C",
        "235/85R16 120/116R",
        "335/80R20 147K",
        "9.00-20",
        "7.50-16 8PR",
        "11R22.5",
        "H78-15LT",
    ],
)
def test_a_truck_tire_is_never_taken_for_a_passenger_tire(written):
    assert read_designation(written).passenger is False


@pytest.mark.parametrize("written", ["265/70R17", "7.50-16", "6.70-15"])
def test_where_the_text_does_not_tell_it_is_left_open(written):
    assert read_designation(written).passenger is None


@pytest.mark.parametrize(
    "written",
    [
        "", " ", "tire", "7.50", "265/70", "265/70R", "R17", "265/70R17R", "265//70R17", "265/70/R17", "265/7OR17",
        "7.50x16", "37x12,50R17", "37x12.50", "-16", "7.50-16 7PR", "7.50-16 8PR 8PR", "LT235/85R16 E 8PR",
        "P265/70R17LT", "LT235/85R16 116/120R", "LT235/85R16 250R", "265/70R17 113", "265/70R99", "265/05R16",
        "999/99R16", "0/0R16", "15x12.50R17LT", "ST235/85R16", "185R14CC", "LT265/70R17LT",
        "9.00-20 TT TL", "265/70R17\n113S\n", "nan", "1e9",
        "٣٣٥/80R20", "265/70R17\x1b[2J", "265/70R17 " + "M+S " * 20, "7" * 100,
    ],
)  # fmt: skip
def test_a_text_that_is_no_tire_size_is_refused_with_the_key_and_what_would_do(written):
    with pytest.raises(Impossible) as caught:
        read_designation(written)
    assert caught.value.key == "designation"
    assert "LT235/85R16" in caught.value.accepted
    assert str(caught.value).isprintable()


@given(st.text(max_size=60))
def test_any_text_at_all_is_read_or_refused(text):
    try:
        size = read_designation(text)
    except Impossible:
        return
    assert 10 <= size.rim_diameter_code <= 30


@given(st.text(alphabet="0123456789./xRP-LT CDPY()", max_size=LONGEST))
def test_texts_made_of_the_same_characters_are_read_or_refused(text):
    try:
        size = read_designation(text)
    except Impossible:
        return
    assert 10 <= size.rim_diameter_code <= 30


@pytest.mark.parametrize("piece", ["1", "1 ", " ", "1.", "/", "LT", "8PR", "R1", "265/70R17 ", "M+S", "C"])
def test_no_text_stalls_the_reading(piece):
    start = process_time()
    for length in (10, 40, 100_000):
        with pytest.raises(Impossible):
            read_designation("265/70R1" + (piece * length)[:length])
    assert process_time() - start < 0.5
