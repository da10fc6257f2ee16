"""`planner ask` as a person or a script calls it: a visit by keyboard alone, over a pipe, broken off, at its end."""

import io
from pathlib import Path

import pytest
from calling import call, one_line

from planner.plan.answers.open_project import open_project
from planner.plan.asking.questions import STANDS
from planner.project.saving import CannotSave

COUNTY = Path(__file__).parents[2] / "projects" / "county-road-4x4.toml"
# What somebody typed on a first evening, slips and second thoughts included.
VISIT = """7.50-17
multi
?
6, 4 3/8
26 tape
back

3 1/2 stone
3 1/2 guess
nine
9
7
spring pack: 0, 9, 8
2
-1/2
largest
back
37x12.50R17LT
middle
at scale
skip
later
"""


@pytest.fixture
def typed(monkeypatch):
    """Has the lines typed that it is given."""
    return lambda text: monkeypatch.setattr("sys.stdin", io.StringIO(text))


def test_a_visit_by_keyboard_alone_goes_from_an_empty_folder_to_a_first_wheel(capsys, tmp_path, typed, monkeypatch):
    monkeypatch.chdir(tmp_path)
    path = Path("truck.toml")
    typed(VISIT)
    code, out, err = call(capsys, "ask", path)
    assert code == 0 and not err
    assert "truck.toml is started, in inches." in out
    assert max(map(len, out.splitlines())) <= 80
    last = out[: out.index("Became known")]
    questions = [last.index(f"question {number} of about 12") for number in range(1, 13)]
    assert questions == sorted(questions)
    assert (
        out.count("'3 1/2 foot' ") <= 1 and out.count("'nine' is not a length; write it such as 6 1/2 in ± 1/8 in") == 1
    )
    assert "Read as 7 in ± 1/16 in assumed (177.8 mm)." in out
    page = " ".join(out[out.index("Became known") :].split())
    for said in (
        "largest tire, rear: about 41 in",
        "smallest rim, rear: 17 (17 to 18) (guess)",
        "to sharpen it: measure the rear bump travel",
    ):
        assert said in page
    for heading in ("A first wheel", "Take to the truck next", "Guessed so far", "Put off"):
        assert f"\n{heading}" in out
    assert out.endswith("Local codes and licensed practice come first.\n")
    project = open_project(path).project
    assert project.axles.rear.brake.radius and project.asking.stands == "on a scale"
    assert list(project.asking.guesses) == ["axles.rear.travel.bump", "fitments.first.wheel.rim_width"]


def test_a_pipe_that_ends_leaves_everything_whole(capsys, tmp_path, typed):
    typed("7.50-17\nmul")  # the last line without its end
    assert call(capsys, "ask", tmp_path / "truck.toml")[0] == 0
    found = open_project(tmp_path / "truck.toml").project.fitments["found"]
    assert found.tire.designation == "7.50-17" and found.wheel.pieces == "multi"
    typed("")
    code, out, _ = call(capsys, "ask", tmp_path / "truck")
    assert code == 0 and "question 3 of about 12" in out and "is begun" not in out


@pytest.mark.parametrize("word", ["quit", "exit"])
def test_who_wants_out_is_let_out_by_any_usual_word(capsys, tmp_path, typed, word):
    typed(f"7.50-17\n{word}\nmulti\n")
    code, out, _ = call(capsys, "ask", tmp_path / "truck.toml")
    assert code == 0 and "is not" not in out and "question 3" not in out and "Became known" in out


def test_breaking_off_leaves_what_was_said_and_the_page(capsys, tmp_path, monkeypatch):
    class Broken(io.StringIO):
        def readline(self, *_):
            line = super().readline()
            if not line:
                raise KeyboardInterrupt
            return line

    monkeypatch.setattr("sys.stdin", Broken("7.50-17\nskip\n"))
    code, out, _ = call(capsys, "ask", tmp_path / "truck.toml")
    assert code == 130 and "tires on the truck: 7.50-17" in out
    asking = open_project(tmp_path / "truck.toml").project.asking
    assert asking.skipped == ["fitments.found.wheel.pieces"]


def test_bytes_that_are_no_text_are_no_answer(capsys, tmp_path, monkeypatch):
    raw = io.BytesIO(b"\xff\xfe\n7.50-17\n\x1b[31m\n\x00\n")
    monkeypatch.setattr("sys.stdin", io.TextIOWrapper(raw, encoding="utf-8"))
    code, out, err = call(capsys, "ask", tmp_path / "truck.toml")
    assert code == 0 and not err and "Read as 7.50-17." in out and "\x1b" not in out and "\x00" not in out


def test_where_nothing_can_be_written_the_question_stands_again_and_it_is_said(capsys, tmp_path, typed, monkeypatch):
    path = tmp_path / "truck.toml"
    typed("7.50-17\n")
    call(capsys, "ask", path)
    before = path.read_bytes()

    def full(*_, **__):
        raise CannotSave(path, "no space is left")

    monkeypatch.setattr("planner.plan.asking.answering.commit", full)
    typed("one\nskip\n")
    code, _, err = call(capsys, "ask", path)
    assert code == 2 and "no space is left" in err and path.read_bytes() == before


def test_a_picture_shows_where_the_tape_goes_and_only_that(capsys, tmp_path, typed):
    typed("7.50-17\none\n")
    _, out, _ = call(capsys, "ask", tmp_path / "truck.toml")
    shown = out[out.index("How many studs") :]
    assert shown.count("this") == 1 and any("⠀" <= mark <= "⣿" for mark in shown)


def test_the_page_alone_asks_and_writes_nothing(capsys, typed):
    typed("nobody reads this\n")
    before = COUNTY.read_bytes()
    code, out, _ = call(capsys, "ask", COUNTY, "--page")
    assert code == 0 and "A first wheel" in out and ">" not in out and COUNTY.read_bytes() == before


def test_a_project_with_everything_in_it_has_nothing_to_ask(capsys, tmp_path, typed):
    path = tmp_path / "truck.toml"
    path.write_text(COUNTY.read_text(encoding="utf-8"), encoding="utf-8")
    typed("3\n")
    code, out, _ = call(capsys, "ask", path)
    assert code == 0 and "Nothing more to ask." in out


def test_a_place_that_there_is_not_and_a_faulty_file_are_told_in_a_line(capsys, tmp_path, typed):
    typed("")
    path = tmp_path / "truck.toml"
    path.write_text('format = 2\n[vehicle]\nname = "a"\n', encoding="utf-8")
    code, _, err = call(capsys, "ask", path, "--at", "moon")
    assert code == 2 and one_line(err) and all(stand in err for stand in STANDS)
    path.write_text('format = 2\n[vehicle]\nwheelbase = "7 lb"\n', encoding="utf-8")
    code, out, err = call(capsys, "ask", path)
    assert code == 2 and one_line(err) and "wheelbase" in err and not out
    code, _, err = call(capsys, "ask", tmp_path / "none.toml", "--page")
    assert code == 2 and err and not (tmp_path / "none.toml").exists()
