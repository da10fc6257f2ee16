"""The pages in docs/: they say what the declarations say, everything is on them, and every link leads somewhere."""

import re
from itertools import chain

import pytest

from planner.plan.truck.catalog import catalog
from planner.project.facts import entrances
from planner.reference.by_question import QUESTIONS, answers
from planner.reference.markdown import anchor, plain
from planner.reference.pages import main
from planner.tasks.sequence import standing

NAMES = ["cautions.md", "checks.md", "figures.md", "flags.md", "project-file.md"]
REMAKE = "run: python -m planner.reference.pages docs/"


def headings(text):
    """The anchors of a page's headings, code blocks aside."""
    outside = re.sub(r"```.*?```", "", text, flags=re.DOTALL)
    return [anchor(found.replace("\\", "")) for found in re.findall(r"^#+ (.+)$", outside, re.MULTILINE)]


@pytest.mark.parametrize("name", NAMES)
def test_a_page_is_not_stale(name, docs, made):
    written = (docs / name).read_text(encoding="utf-8") if (docs / name).exists() else ""
    assert written == made[name], f"docs/{name} is stale; {REMAKE}"


def test_docs_holds_nothing_that_is_made_and_no_longer_wanted(docs, made):
    left = [path.name for path in docs.glob("*.md") if "Made by `python -m" in path.read_text(encoding="utf-8")]
    assert set(left) <= set(made)


@pytest.mark.parametrize("name", NAMES)
def test_every_link_leads_to_a_heading(name, made, docs):
    links = re.findall(r"\]\(([\w-]+\.md)?(?:#([^)]+))?\)", made[name])
    assert links
    for file, target in links:
        text = made.get(file or name) or (docs / file).read_text(encoding="utf-8")  # some pages are written by hand
        assert not target or target in headings(text), (file, target)


@pytest.mark.parametrize("name", NAMES)
def test_no_two_headings_share_a_target(name, made):
    found = headings(made[name])
    assert len(found) == len(set(found)), [one for one in found if found.count(one) > 1]


@pytest.mark.parametrize("name", NAMES)
def test_the_rows_of_a_table_are_as_wide_as_its_head(name, made):
    for block in re.findall(r"(?:^\|.*\|\n)+", made[name], re.MULTILINE):
        widths = {len(re.findall(r"(?<!\\)\|", line)) for line in block.splitlines()}
        assert len(widths) == 1, block


def by_question():
    return {one.words: {told.node for told in chain(*answers(catalog(), one))} for one in QUESTIONS}


def test_every_figure_and_rule_answers_a_question_and_no_question_is_about_everything():
    everything = {*catalog().figures, *catalog().rules}
    found = by_question()
    assert set().union(*found.values()) == everything
    assert all(0 < len(nodes) < len(everything) / 4 for nodes in found.values())


def test_a_question_has_what_a_mechanic_would_look_for_there():
    """From the trade: a brake fits by its barrel, disc and valve; the law says how wide, how high and how lit."""
    found = by_question()
    inside = found["Will the brakes fit inside?"]
    assert inside >= {"barrel_near_brake", "disc_near_brake", "valve_near_brake", "smallest_rim_code"}
    assert not inside & {"braking_force_lost", "stop_energy"}
    assert found["What does the law say?"] >= {
        "wider_than_legal",
        "lamps_out_of_band",
        "lifted_past_local_code",
        "poke",
    }
    assert found["What do I order?"] >= {"backspace", "offset", "rim_width_band", "wider_than_legal"}
    assert found["What can it carry?"] >= {"axle_overloaded", "per_tire", "rated_below_load"}


def test_every_figure_rule_limit_and_assumed_value_has_its_heading(made):
    named = {"figures.md": [], "flags.md": []}
    for one in (*catalog().figures.values(), *catalog().assumed.values(), *catalog().rules.values()):
        on_flags = one.node in catalog().rules or getattr(one, "limit", False)
        named["flags.md" if on_flags else "figures.md"].append(anchor(one.name))
    for page, names in named.items():
        assert set(names) <= set(headings(made[page]))


def test_every_entry_that_formulas_read_is_on_the_page_of_the_project_file(made):
    rows = set(re.findall(r"^\| `(\w+)` \|", made["project-file.md"], re.MULTILINE))
    for entrance in entrances():
        key = next(part for part in reversed(entrance.key) if not part.startswith("<"))
        assert key in rows, entrance.key


def test_what_the_sweep_gives_is_on_the_page_of_figures(made):
    rows = made["figures.md"].split("\n## the sweep\n")[1].split("\n## ")[0]
    assert "`fit.clearance`" in rows and "`fit.largest_tire`" in rows and "`fit.backspace_window`" in rows


def test_every_caution_of_a_task_every_hold_point_and_every_stop_is_on_the_page_of_cautions(made):
    for task in standing():
        assert plain(task.caution) in made["cautions.md"], task.id
        assert not task.hold or f"| `{task.id}` |" in made["cautions.md"]
    for rule in catalog().rules.values():
        assert rule.severity != "stop" or f"[{rule.name}](flags.md#" in made["cautions.md"]


def test_writing_the_pages_twice_changes_nothing(tmp_path, rows_folder, capsys):
    arguments = [str(tmp_path / "docs"), "--rows", str(rows_folder)]
    assert main(arguments) == 0
    assert sorted(path.name for path in (tmp_path / "docs").iterdir()) == NAMES
    capsys.readouterr()
    assert main(arguments) == 0
    assert capsys.readouterr().out == ""


def test_a_stale_page_is_named_and_left_alone_when_only_checking(tmp_path, rows_folder, capsys):
    arguments = [str(tmp_path), "--rows", str(rows_folder)]
    main(arguments)
    (tmp_path / "flags.md").write_text("# Flags\n", encoding="utf-8")
    capsys.readouterr()
    assert main([*arguments, "--check"]) == 1
    assert "flags.md: stale" in capsys.readouterr().out
    assert (tmp_path / "flags.md").read_text(encoding="utf-8") == "# Flags\n"


def test_a_folder_of_rows_that_is_not_there_is_a_plain_error(tmp_path, capsys):
    with pytest.raises(SystemExit) as stopped:
        main([str(tmp_path), "--rows", str(tmp_path / "nowhere")])
    assert stopped.value.code == 2
    assert "not a folder" in capsys.readouterr().err
