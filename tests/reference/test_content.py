"""What stands on the pages, where a careful reader would look for it."""


def part(page, heading):
    """One figure's or rule's part of a page."""
    return page.split(f"\n### {heading}\n")[1].split("\n### ")[0]


def test_a_figure_shows_its_formula_keys_default_result_ground_and_checks(made):
    offset = part(made["figures.md"], "wheel.offset")
    assert "offset = backspace − rim width / 2 − flange thickness" in offset
    assert "| `flange_thickness` | length | 1/2 in |" in offset
    assert "- result: length, either sign, m" in offset
    assert "- ground: geometry" in offset
    assert "- checked against: " in offset


def test_a_figure_shows_an_example_that_can_be_pasted_into_a_shell(made):
    assert "planner figure fender.zero_clearance_diameter 'axle_to_fender=24 in'" in made["figures.md"]


def test_a_figure_of_several_parts_lists_them(made):
    points = part(made["figures.md"], "bolts.circle_from_points")
    assert "| `diameter` | length, m |" in points and "`worst_residual`" in points


def test_a_figure_shows_no_lines_of_the_interpreter(made):
    assert ">>>" not in made["figures.md"]


def test_a_ground_from_memory_says_so(made):
    assert "from memory" in part(made["figures.md"], "wheel.specified_rim_diameter")


def test_a_rule_shows_severity_limit_cure_examples_and_ground(made):
    gap = part(made["flags.md"], "brakes.barrel_near_brake")
    assert "**stop**: the barrel is too close to the brake" in gap
    assert "`3 mm`" in gap and "Do: " in gap and "| worked example | clear | raised |" in gap
    assert "to spare" in gap and "short" in gap and "- ground: common practice" in gap


def test_a_rule_that_waits_for_a_wish_says_so(made):
    assert "asked only where there is an entry for: `wanted_poke`" in part(made["flags.md"], "fit.poke_not_as_wanted")


def test_no_words_of_a_rule_are_left_in_braces(made):
    assert "{" not in made["flags.md"]


def test_an_entry_shows_its_meaning_how_to_get_it_and_an_example(made):
    row = next(line for line in made["project-file.md"].splitlines() if line.startswith("| `wheelbase`"))
    assert "front axle center to rear axle center" in row.lower()
    assert "measure both sides" in row and "`126 in ± 1/4 in`" in row


def test_a_table_that_stands_in_several_places_names_them_all(made):
    for table in ("fitments.<fitment>.tire", "fitments.<fitment>.front.tire", "fitments.<fitment>.rear.tire"):
        assert f"`[{table}]`" in made["project-file.md"]
