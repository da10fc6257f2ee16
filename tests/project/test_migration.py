"""Files of format 1: read for ever, brought to format 2 at the first save, in place, and never by halves."""

import json
import shutil
import tomllib
from collections import Counter
from collections.abc import Iterator
from datetime import date
from functools import reduce
from hashlib import sha256
from pathlib import Path

import pytest

from planner.plan.answers.flagging import flags
from planner.plan.answers.open_project import open_project
from planner.plan.change.changing import Setting, make, try_settings
from planner.plan.external_change import put_back
from planner.plan.state import read
from planner.plan.truck.project import OpenProject
from planner.plan.truck.sweep_results import NODES
from planner.project.amending import amend
from planner.project.changes import same, without_empty
from planner.project.diary import bring_back, redo, undo
from planner.project.diary_reading import diary_path, read_diary, text_at
from planner.project.diary_words import entry_lines
from planner.project.facts import inner_model
from planner.project.faults import Faulty
from planner.project.lines import Key, tokens
from planner.project.migrating import amend_or_rewrite, in_newest_format
from planner.project.models.entry import Table, entries, since
from planner.project.models.project import Project
from planner.project.reading import read_project
from planner.project.saving import NotSaved
from planner.project.source import load
from planner.project.usual_tolerances import assumed_keys
from planner.project.versions import TABLES_MOVED, brought_up_to_date
from planner.worksheet.outcome import Known, Spot
from tests.calling import call
from tests.project.format_1_texts import FILES, seeded, texts_in_tests

TODAY = date(2026, 11, 25)
TEXTS = [(path.stem, path.read_text("utf-8")) for path in FILES] + list(texts_in_tests())


def comments(text: str) -> Counter[str]:
    return Counter(one.text for one in tokens(text.replace("\r\n", "\n")) if one.kind == "comment")


def worked_out(opened: OpenProject) -> dict[str, str]:
    """Every figure at every place, with its low, its high and its shares, to the bit."""
    steps = opened.sheet.layout.steps
    return {str(one.spot): repr(opened.sheet.outcome(one.spot)) for one in steps}


def with_assumed_as_exact(path: Path) -> int:
    """Writes out that each value whose tolerance is assumed has none; how many there were."""
    opened = read_project(path)
    said: dict[Key, object] = {}
    for key in assumed_keys(opened.project):
        said[key] = _exact(reduce(lambda held, name: held[name], key, opened.data))
    path.write_bytes(amend(opened.source.text, said).encode("utf-8"))
    return len(said)


def _exact(held: object) -> object:
    if isinstance(held, list):
        return [_exact(one) for one in held]
    return held if "±" in str(held) else f"{held} exact"


def may_widen(opened: OpenProject, spot: Spot, seen: dict[Spot, bool]) -> bool:
    """Whether an entry whose tolerance is assumed goes into a value, or may by way of the sweep."""
    if spot not in seen:
        seen[spot] = False  # no circle goes through an entry
        own = opened.tolerance_assumed(spot) or spot.node in NODES
        seen[spot] = own or any(may_widen(opened, one, seen) for one in opened.sheet.inputs(spot))
    return seen[spot]


def assert_wider_only(before: OpenProject, after: OpenProject) -> None:
    """Only what rests on an assumed tolerance is another, and that has its value, in a spread that is no narrower."""
    seen: dict[Spot, bool] = {}
    for step in before.sheet.layout.steps:
        spot = step.spot
        one, two = before.sheet.outcome(spot), after.sheet.outcome(spot)
        if repr(one) == repr(two):
            continue
        assert may_widen(after, spot, seen), spot
        if isinstance(one, Known) and isinstance(two, Known) and spot.node not in NODES:
            # a limit of the sweep stands at its worst, and moves with what is wider
            at_worst = any(read.node in NODES for read in after.sheet.inputs(spot))
            assert one.value == two.value or at_worst, spot
            slack = 1e-12 * max(1.0, abs(one.value)) if isinstance(one.value, float) else 1e-12
            slack = 1e-3 if at_worst else slack  # m or rad: as closely as a search is brought to an end
            assert two.low <= one.low + slack and two.high >= one.high - slack, spot


def raised(opened: OpenProject) -> list[tuple[str, str, str]]:
    return [(one.rule.name, one.where, repr(one.verdict)) for one in flags(opened)]


def written(folder: Path, text: str, name: str = "truck.toml") -> Path:
    path = folder / name
    path.write_bytes(text.encode("utf-8"))
    return path


def migrate(path: Path) -> None:
    make(try_settings(open_project(path, TODAY), [Setting("format", "2")]), "")


@pytest.mark.parametrize(("where", "text"), TEXTS, ids=[where for where, _ in TEXTS])
def test_a_file_of_format_1_saved_once_says_what_it_said_before(tmp_path, where, text):
    path = written(tmp_path, text)
    before = open_project(path, TODAY)
    faults = [(one.key, one.message, one.read, one.accepted) for one in before.opened.faults]
    figures, found = worked_out(before), raised(before)
    if faults:  # nothing is written over a fault: the text alone is brought up to date
        path.with_name("truck.toml.v1.bak").write_bytes(path.read_bytes())
        written(tmp_path, in_newest_format(text)[0])
    else:
        migrate(path)
    after = open_project(path, TODAY)
    assert load(path).data["format"] == 2
    assert [(one.key, one.message, one.read, one.accepted) for one in after.opened.faults] == faults
    assert_wider_only(before, after)
    assert comments(load(path).text) == comments(text)
    assert path.with_name("truck.toml.v1.bak").read_bytes() == text.encode("utf-8")
    if with_assumed_as_exact(path):  # written out as exact, all is as it was to the bit
        after = open_project(path, TODAY)
    assert worked_out(after) == figures
    assert raised(after) == found


def keys(model: type[Table], key: str, version: int = 1) -> Iterator[str]:
    """Every key that a format has, and where the entries of one that are single."""
    for name, info in entries(model).items():
        if since(info).version <= version:
            inner = inner_model(info.annotation)
            yield f"{key}{name}"
            yield from keys(inner, f"{key}{name}.", version) if inner else ()


def test_what_is_marked_as_of_format_1_is_what_format_1_had():
    """The list is from the program as it was; a key marked wrongly would turn a person's own away, or lose it."""
    then = (Path(__file__).parent / "format_1" / "keys.txt").read_text("utf-8").split()
    moved = {".".join((*map(str, old), name)) for old, _, names in TABLES_MOVED[1] for name in names}
    assert set(keys(Project, "")) == set(then) - moved


@pytest.mark.parametrize("seed", range(60))
def test_every_comment_and_blank_stays_where_its_entry_goes(seed):
    text = seeded(seed)
    after, lost = in_newest_format(text)
    data = tomllib.loads(text.removeprefix("\ufeff"))
    wanted = brought_up_to_date(data)
    assert isinstance(wanted, dict) and not lost
    assert same(without_empty(tomllib.loads(after.removeprefix("\ufeff"))), without_empty(wanted))
    assert comments(after) == comments(text)
    assert after.startswith("\ufeff") == text.startswith("\ufeff")
    assert ("\r\n" in after) == ("\r\n" in text)
    rows = after.replace("\r\n", "\n").splitlines()
    for end in ("front", "rear"):
        head = rows.index(f"[axles.{end}.nuts]")
        assert rows[head + 1 : head + 6] == [
            f"# the nuts that came in a can, {end}",
            f'seat = "cone" # seat {end}',
            f'#seat_angle = "90 deg"  # example {end}',
            f'seat_angle = "60 deg" # angle {end}',
            f'hand_left = "left" # left {end}',
        ]
        assert f'torque = "110 ft·lb" # torque {end}' in rows[:head]


@pytest.mark.parametrize(
    ("was", "now"),
    [
        ('[axles.front]\nstuds.seat = "cone" # c\n', '[axles.front]\nnuts.seat = "cone" # c\n'),
        ('axles.front.studs.seat = "cone" # c\n', 'axles.front.nuts.seat = "cone" # c\n'),
        ('axles.rear."studs".\'hand_left\' = "left"\n', "axles.rear.nuts.'hand_left' = \"left\"\n"),
        ('[axles.front.studs]\nseat = "cone"', '[axles.front.studs]\n\n[axles.front.nuts]\nseat = "cone"\n'),
    ],
)
def test_nuts_move_in_the_way_in_which_they_were_written(was, now):
    assert in_newest_format("format = 1\n" + was) == ("format = 2\n" + now, False)


@pytest.mark.parametrize(
    "studs", ['studs = { count = 6, seat = "cone" }', '[axles.front.studs]\ncount = 6\nseat = """\ncone"""']
)
def test_however_the_nuts_were_written_they_are_read_afterwards(studs):
    text = f"format = 1\n[axles.front] # c\n{studs}\n"
    after, lost = in_newest_format(text)
    assert not lost and "# c" in after
    assert tomllib.loads(after)["axles"]["front"] == {"studs": {"count": 6}, "nuts": {"seat": "cone"}}


def test_what_records_rested_on_and_readings_are_of_follow_the_nuts(tmp_path):
    path = written(
        tmp_path,
        'format = 1\n[axles.front.studs]\nseat = "cone"\n[[readings]]\nof = "axles.front.studs.seat" # who\n'
        '[[tasks]]\nid = "own.a"\n[tasks.rested_on]\n"axles.front.studs.seat" = "cone" # then\n',
    )
    found = read_project(path).project
    assert found.readings[0].of == "axles.front.nuts.seat"
    assert found.tasks[0].rested_on == {"axles.front.nuts.seat": "cone"}
    after, _ = in_newest_format(load(path).text)
    assert 'of = "axles.front.nuts.seat" # who\n' in after
    assert '"axles.front.nuts.seat" = "cone" # then\n' in after


def test_a_key_of_ones_own_that_format_2_has_a_meaning_for_is_kept_under_another_name(tmp_path):
    text = (
        'format = 1\nbuyer = "me" # c\n[axles.front]\nnuts = "in a can"\n[[parts]]\nphoto = 3\n'
        '[[wheels]]\nposition = "in the barn"\n[mine]\nwishes = 1\n'
    )
    path = written(tmp_path, text)
    opened = read_project(path)
    assert [one.key for one in opened.notices] == [
        ("buyer",),
        ("axles", "front", "nuts"),
        ("parts", 0, "photo"),
        ("wheels",),
        ("mine",),
    ]  # as the file has them
    after, lost = in_newest_format(text)
    assert not lost
    assert after == (
        'format = 2\nbuyer_of_format_1 = "me" # c\n[axles.front]\nnuts_of_format_1 = "in a can"\n[[parts]]\n'
        'photo_of_format_1 = 3\n[[wheels_of_format_1]]\nposition = "in the barn"\n[mine]\nwishes = 1\n'
    )
    assert len(read_project(written(tmp_path, after)).notices) == 5


def test_a_fault_in_what_moved_is_told_where_the_file_has_it(tmp_path):
    path = written(tmp_path, 'format = 1\n[axles.front.studs]\ncount = 6\nseat = "cube"\n')
    (fault,) = read_project(path).faults
    assert (fault.key, fault.line) == (("axles", "front", "nuts", "seat"), 4)  # the key that mends it, on its line


def test_an_entry_left_in_its_old_place_under_the_new_number_is_a_fault_that_names_the_new_place(tmp_path):
    path = written(tmp_path, 'format = 2\n[axles.front.studs]\nseat = "cone"\nhand_lef = "left"\n')
    assert [(one.line, one.accepted) for one in read_project(path).faults] == [
        (3, "axles.front.nuts.seat"),
        (4, "hand_left, if that is what you meant"),
    ]


# the first save, and the way back

OLD = FILES[[path.stem for path in FILES].index("just-begun")].read_text("utf-8")
NUTS = '\n[axles.rear.studs]\nseat = "cone" # by eye\n'


def test_the_diary_says_that_the_format_moved_and_undo_brings_the_old_text_back_to_the_byte(tmp_path):
    path = written(tmp_path, OLD + NUTS)
    opened = open_project(path, TODAY)
    done = make(try_settings(opened, [Setting("vehicle.name", "The pickup")]), "")
    last = done.entries[-1]
    assert [one.key for one in last.moved] == [("vehicle", "name")]  # that keys have other places is told once
    assert any("from format 1 to format 2" in line and ".v1.bak" in line for line in entry_lines(last))
    new = path.read_bytes()
    assert b'seat = "cone" # by eye' in new and b"[axles.rear.nuts]" in new

    back = undo(load(path))
    assert path.read_text("utf-8") == OLD + NUTS
    assert any("back from format 2 to format 1" in line for line in entry_lines(back.entries[-1]))
    redo(load(path))
    assert path.read_bytes() == new
    bring_back(load(path), 1)
    assert path.read_text("utf-8") == OLD + NUTS

    again = make(try_settings(open_project(path, TODAY), [Setting("vehicle.name", "Red")]), "")  # and it works on
    assert load(path).data["format"] == 2
    diary = read_diary(path)
    assert not diary.troubles
    assert text_at(diary, again.entries[-1].number) == load(path).text
    assert sorted(found.name for found in tmp_path.glob("*.bak*")) == ["truck.toml.v1.bak"]  # the same bytes, once


def test_a_text_put_back_by_hand_from_before_the_migration_is_told_with_its_format(tmp_path):
    path = written(tmp_path, OLD + NUTS)
    migrate(path)
    make(try_settings(open_project(path, TODAY), [Setting("vehicle.name", "Green")]), "")
    path.write_text(OLD + NUTS, "utf-8")
    done = make(try_settings(open_project(path, TODAY), [Setting("vehicle.name", "Red")]), "")
    kinds = [(one.kind, one.details.get("format")) for one in done.entries]
    assert kinds == [("hand edit", {"was": 2, "now": 1}), ("change", {"was": 1, "now": 2})]


WRITERS = [
    ("change", "vehicle.name=Red", "--apply"),
    ("change", "axles.rear.nuts.seat=ball", "--apply"),
    ("task", "tick", "safe.rims", "--because", "a person looked", "--anyway"),
    ("task", "add", "paint", "--phase", "fit"),
    ("accept", "tire.age_unknown", "--because", "it stands in the shed"),
    ("print", "measuring", "--text", "-o", "sheet.txt"),
]


@pytest.mark.parametrize("arguments", WRITERS, ids=[" ".join(one[:2]) for one in WRITERS])
def test_whatever_writes_leaves_no_new_key_under_the_old_number(tmp_path, capsys, monkeypatch, arguments):
    monkeypatch.chdir(tmp_path)
    path = written(tmp_path, OLD + NUTS)
    command, *rest = arguments
    call(capsys, command, path.name, *rest)
    data = load(path).data
    if path.read_text("utf-8") != OLD + NUTS:
        assert data["format"] == 2
        assert "nuts" in data["axles"]["rear"] and not data["axles"]["rear"]["studs"]
        assert path.with_name("truck.toml.v1.bak").read_text("utf-8") == OLD + NUTS


def test_an_older_number_is_never_written_and_what_changes_nothing_leaves_an_old_file_alone():
    with pytest.raises(ValueError, match="undo or bring-back"):
        amend_or_rewrite("format = 2\n", {("format",): 1})
    assert amend_or_rewrite(OLD, {("vehicle", "name"): "The shed pickup"}) == (OLD, None)


def test_the_command_says_where_the_old_file_is_and_that_no_comment_was_lost(tmp_path, capsys):
    path = written(tmp_path, OLD)
    code, out, err = call(capsys, "change", path, "format=2", "--apply")
    assert (code, "is brought to format 2" in out) == (0, True)
    assert "truck.toml.v1.bak" in err and "comments" not in err


# what a newer program made

NEWER = 'format = 3\n[vehicle]\nname = "from the future" # c\n'


@pytest.fixture(scope="module")
def newer(tmp_path_factory):
    """A project with a diary of its own, after which a newer program wrote its file."""
    path = written(tmp_path_factory.mktemp("newer"), OLD)
    migrate(path)
    make(try_settings(open_project(path, TODAY), [Setting("vehicle.name", "Red")]), "")
    undo(load(path))
    path.write_text(NEWER, "utf-8")
    return path


@pytest.mark.parametrize(
    "arguments",
    [
        ("check",),
        ("change", "vehicle.name=x", "--apply"),
        ("change", "format=2", "--apply"),
        ("task", "tick", "safe.rims", "--because", "x"),
        ("accept", "tire.age_unknown", "--because", "x"),
        ("print", "measuring"),
        ("diary", "undo"),
        ("diary", "redo"),
        ("diary", "bring-back", "1"),
        ("diary", "catch-up"),
        ("again",),
        ("compare",),
    ],
    ids=" ".join,
)
def test_no_command_touches_a_file_of_a_newer_format_or_its_diary(tmp_path, capsys, monkeypatch, newer, arguments):
    shutil.copytree(newer.parent, tmp_path, dirs_exist_ok=True)
    monkeypatch.chdir(tmp_path)
    path = tmp_path / newer.name
    before = {found.name: found.read_bytes() for found in tmp_path.iterdir()}
    code, _, err = call(capsys, arguments[0], path.name, *arguments[1:])
    assert code == 2 and "newer program" in err
    assert {found.name: found.read_bytes() for found in tmp_path.iterdir()} == before


def test_an_earlier_state_of_a_newer_format_is_not_brought_back(tmp_path, monkeypatch):
    path = written(tmp_path, OLD)
    migrate(path)
    monkeypatch.setattr("planner.project.diary.made_by_newer", lambda data: None)
    path.write_text(NEWER, "utf-8")
    from planner.project.diary import catch_up

    caught = catch_up(load(path))
    undo(load(path))
    monkeypatch.undo()
    assert caught is not None
    text = path.read_bytes()
    with pytest.raises(Exception, match="newer program"):
        bring_back(load(path), caught.entries[-1].number)
    with pytest.raises(Exception, match="newer program"):
        redo(load(path))
    assert path.read_bytes() == text


def test_putting_back_what_was_open_leaves_a_newer_file_alone(tmp_path):
    path = written(tmp_path, OLD)
    state = read(path, TODAY)
    path.write_text(NEWER, "utf-8")
    with pytest.raises((NotSaved, Faulty), match="newer program"):
        put_back(state)
    assert path.read_text("utf-8") == NEWER


# the lines of a diary


def reckoned(rest: bytes) -> bytes:
    return b'{"sum":"' + sha256(rest).hexdigest().encode() + b'",' + rest


def with_format(row: bytes, number: int | None) -> bytes:
    """The line with another format, or none, as in the first: its sum is reckoned anew."""
    body = json.loads(row)
    del body["sum"], body["format"]
    if number is not None:
        body["format"] = number
    return reckoned(json.dumps(body, separators=(",", ":")).encode()[1:])


def test_a_line_of_a_diary_carries_its_format_and_one_without_is_read_as_it_is(tmp_path):
    path = written(tmp_path, OLD)
    migrate(path)
    diary = diary_path(path)
    rows = diary.read_bytes().splitlines()
    assert [json.loads(row)["format"] for row in rows] == [2, 2]
    diary.write_bytes(with_format(rows[0], None) + b"\n")
    assert [one.kind for one in read_diary(path).entries] == ["began"]


def test_a_diary_with_an_entry_of_a_newer_program_is_refused_unharmed(tmp_path, capsys):
    path = written(tmp_path, OLD)
    migrate(path)
    diary = diary_path(path)
    rows = diary.read_bytes().splitlines()
    diary.write_bytes(b"\n".join((*rows, with_format(rows[-1], 3))) + b"\n")
    before = diary.read_bytes(), path.read_bytes()
    for arguments in (["undo"], ["redo"], ["bring-back", 1], ["catch-up"], []):
        code, _, err = call(capsys, "diary", path, *arguments)
        assert code == 2 and "newer program" in err
    code, _, err = call(capsys, "change", path, "vehicle.name=x", "--apply")
    assert code == 2 and "newer program" in err
    assert (diary.read_bytes(), path.read_bytes()) == before
