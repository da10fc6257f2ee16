"""Amending keeps what a person wrote; saving leaves the old file or the new one, whole, and nobody's work undone."""

import datetime
import errno
import multiprocessing
import os
import random
import stat
import threading
import tomllib
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

import filelock
import pytest

from planner.project import amending, migrating, saving
from planner.project.amending import CannotAmend, amend, rewrite
from planner.project.changes import DELETE, changed
from planner.project.lines import Key, tokens
from planner.project.migrating import amend_or_rewrite
from planner.project.saving import Busy, CannotSave, ChangedOutside, NotSaved, Written, write
from planner.project.source import ProjectText, digest_of, load

TRUCK = """\
# The old truck, begun in spring
#:schema ./schema.json

version = 1
my_own = "keep me" # not a key of the program

# What it is
[vehicle] # the donor
wheelbase = "145 in ± 1/2 in" # by tape
gvw = 10_000
notes = [
  "one", # first
  'two', # second
  # end of the list
]
seen.where = "at the fair" # dotted
seen.on = 2021-06-05

  # indented remark
  [vehicle.paint]
  color = "red"
# between

[axles.front]
rating = "4,500 lb"   # plate
place = { left = 1, right = 2.50 } # inline
# last in front

# ---- parts ----

# the good one
[[parts]]
name = "rim"
odd = { mine = true }
[parts.maker]
town = "far"

# the spare
[[parts]]
name = "tire" # round

[axles.rear]
rating = "9,000 lb"

# tail of the file
"""


def comments(text: str) -> list[str]:
    return sorted(token.text for token in tokens(text) if token.kind == "comment")


def test_a_value_is_changed_and_not_a_letter_besides() -> None:
    changes = {("vehicle", "wheelbase"): "150 in", ("axles", "front", "place", "left"): 3, ("vehicle", "notes", 1): "2"}
    expected = TRUCK.replace('"145 in ± 1/2 in"', '"150 in"').replace("left = 1", "left = 3").replace("'two'", '"2"')
    assert amend(TRUCK, changes) == expected


def test_what_is_set_to_what_it_is_stays_as_written() -> None:
    whole = tomllib.loads(TRUCK)
    assert amend(TRUCK, {(name,): value for name, value in whole.items()}) == TRUCK
    assert amend("a = 0x10 # hex", {("a",): 16}) == "a = 0x10 # hex"
    assert amend("a = 1", {("a",): 1.0}) == "a = 1.0\n"


def test_a_new_entry_stands_at_the_end_of_its_table_above_the_comment_on_the_next() -> None:
    text = "[a]\nx = 1 # one\n# still a\n\n# about b\n[b]\ny = 2\n\n# the end\n"
    assert amend(text, {("a", "n"): 5, ("b", "n"): True, ("c", "n"): "new"}) == (
        '[a]\nx = 1 # one\n# still a\nn = 5\n\n# about b\n[b]\ny = 2\nn = true\n\n[c]\nn = "new"\n\n# the end\n'
    )


def test_a_table_is_appended_to_its_list_above_the_comment_on_the_next() -> None:
    text = "[[parts]]\nn = 1\n\n# about b\n[b]\n"
    assert amend(text, {("parts", 1): {"maker": {"town": "x"}, "n": 2}}) == (
        '[[parts]]\nn = 1\n\n[[parts]]\nn = 2\n\n[parts.maker]\ntown = "x"\n\n# about b\n[b]\n'
    )


def test_a_comment_beside_or_above_what_is_deleted_stays() -> None:
    text = "[a]\nx = 1 # one\n\n# about b\n[b]\ny = 2\n\n# about c\n[c]\n"
    assert amend(text, {("a", "x"): DELETE, ("b",): DELETE}) == "[a]\n# one\n\n# about b\n\n# about c\n[c]\n"


def test_where_the_last_entry_of_a_table_named_with_dots_went_another_takes_its_place() -> None:
    text = "[a]\nb.x = 1\nb.c.d = 1\n"
    changes = {("a", "b", "c", "d"): DELETE, ("a", "b", "c", "e"): 5}
    assert amend(text, changes) == "[a]\nb.x = 1\nb.c = {e = 5}\n"  # and under no heading of its own


def test_what_stands_beside_a_deleted_entry_stays_as_it_was_written() -> None:
    assert amend("a.b.c = 1 # x\na.b.d = 0x10\n", {("a", "b", "c"): DELETE}) == "# x\na.b.d = 0x10\n"
    braces = "a = { b = [ # odd\n  1, # one\n  0x2,\n], c = 1 }\n"
    assert amend(braces, {("a", "b", 0): DELETE}) == "a = { b = [ # odd\n  0x2,\n], c = 1 }\n"


def test_the_first_line_of_the_file_stays_first() -> None:
    assert amend("#:schema x.json\n\n# about a\n[a]\n", {("version",): 1}).startswith(
        "#:schema x.json\n\nversion = 1\n"
    )


def test_the_traps_of_tables_in_odd_order_are_passed() -> None:
    odd = "[a]\nx = 1\n\n[b]\ny = 1\n\n# ac\n[a.c]\nz = 1\n[[l]]\nn = 1\n[e]\n[[l]]\nn = 2"
    for change in (
        ("a", "n"),
        ("a", "c", "n"),
        ("a", "d", "n"),
        ("b", "n"),
        ("l", 0, "n"),
        ("l", 1, "n"),
        ("l", 2, "n"),
    ):
        assert comments(amend(odd, {change: 5})) == ["# ac"], change
    assert amend("[a.c]\nz = 1 # q\n", {("a", "n"): 1}) == "[a]\nn = 1\n\n[a.c]\nz = 1 # q\n"
    assert amend("a.b = 1 # c\nz = 3\n", {("a", "n"): {"x": 1}}) == "a.b = 1 # c\na.n = {x = 1}\nz = 3\n"
    assert amend("[t]\na = [\n  {x = 1}\n # c\n]\n", {("t", "a", 1): {"x": 2}}).count("# c") == 1
    assert amend("a = { b.c = 1, d = 2 }\n", {("a", "b", "c"): DELETE}).startswith("a = {")


def test_windows_line_ends_and_a_byte_order_mark_stay() -> None:
    text = "\ufeff[a]\r\nx = 1 # one\r\n\r\n# b\r\n[b]\r\n"
    amended = amend(text, {("a", "n"): "two\nlines", ("c", "n"): 1})
    assert amended.startswith("\ufeff[a]\r\nx = 1 # one\r\nn = ")
    assert amended.count("\n") == amended.count("\r\n")


def test_every_kind_of_value_is_read_back_as_it_was_given() -> None:
    values: dict[Any, object] = {
        ("text",): "a\"b'\\\x00\x7f\u202e\r\n\t½",
        ("small",): -1.5e-300,
        ("no",): False,
        ("day",): datetime.date(2024, 5, 31),
        ("moment",): datetime.datetime(2024, 5, 31, 12, 30, tzinfo=datetime.UTC),
        ("mixed",): [1, "x", [2], {"a": []}],
        ("tables",): ({"a": {"b": 1}, "c": 2}, {}),
        ("odd name", 'q"\n', ""): 1,
        ("list", 0, "deep", 0): "x",
    }
    for text in ("", "# only a comment", TRUCK):
        assert tomllib.loads(amend(text, values)) == changed(tomllib.loads(text), values)


def test_a_change_that_does_not_fit_is_our_own_mistake() -> None:
    with pytest.raises(ValueError, match=r"name doesn't fit"):
        changed({"parts": []}, {("parts", "name"): 1})
    with pytest.raises(ValueError):
        changed({"parts": []}, {("parts", 1): 1})
    with pytest.raises(TypeError):
        amend("", {("a",): None})


@pytest.mark.parametrize(
    "edits", [pytest.param(100, marks=pytest.mark.shortened), pytest.param(1000, marks=pytest.mark.slow)]
)
def test_comments_and_unknown_keys_survive_any_number_of_edits(edits: int) -> None:
    chance = random.Random(1)
    text = TRUCK
    mine: list[tuple[str | int, ...]] = []  # what the edits have added, and may take away again
    for number in range(edits):
        data = tomllib.loads(text)
        tables: list[tuple[str | int, ...]] = [
            ("vehicle",),
            ("vehicle", "paint"),
            ("axles", "front"),
            ("axles",),
            ("axles", "front", "place"),
            (),
        ]
        tables += [("parts", at) for at in range(len(data["parts"]))]
        place = chance.choice(tables)
        value = chance.choice([number, f"{number} in", 1.5 * number, [number], {"n": number}, [{"n": number}], True])
        kind = chance.choice(["new", "old", "append", "note", "delete"])
        changes: dict[tuple[str | int, ...], object] = {}
        if kind == "new":
            changes = {(*place, f"new{number}"): value}
            mine.append((*place, f"new{number}"))
        elif kind == "old":
            changes = {
                ("vehicle", "gvw"): number,
                ("axles", "rear", "rating"): f"{number} lb",
                ("parts", 0, "name"): "r",
            }
        elif kind == "append" and len(data["parts"]) < 9:
            changes = {("parts", len(data["parts"])): {"name": f"part {number}", "maker": {"town": "x"}}}
        elif kind == "note":
            count = len(data["vehicle"]["notes"])
            changes = (
                {("vehicle", "notes", count): f"note {number}"} if count < 9 else {("vehicle", "notes", 8): DELETE}
            )
        elif mine and kind == "delete":
            changes = {mine.pop(chance.randrange(len(mine))): DELETE}
        elif len(data["parts"]) > 2:
            changes = {("parts", len(data["parts"]) - 1): DELETE}
        text = amend(text, changes)
        if len(mine) > 8:
            text = amend(text, dict.fromkeys(mine, DELETE))
            mine = []
        assert comments(text) == comments(TRUCK), (number, changes)
        now = tomllib.loads(text)
        assert now["my_own"] == "keep me"
        assert now["parts"][0]["odd"] == {"mine": True}
        assert now["vehicle"]["seen"] == tomllib.loads(TRUCK)["vehicle"]["seen"]
    order = [row for row in TRUCK.split("\n") if row.startswith(("#", "[", "my_own", "wheelbase"))]
    rows = iter(text.split("\n"))
    assert all(row in rows for row in order)


def save(source: ProjectText, changes: Mapping[Key, object]) -> Written:
    """Makes the changes in the file that was read as `source`."""
    text, keep_old = amend_or_rewrite(source.text, changes)
    return write(source.path, text, expected_digest=source.digest, keep_old=keep_old)


@pytest.fixture
def truck(tmp_path: Path) -> Path:
    path = tmp_path / "truck.toml"
    path.write_text(TRUCK, encoding="utf-8")
    return path


def left_over(path: Path) -> set[str]:
    return {found.name for found in path.parent.iterdir()} - {path.name, f".{path.name}.lock"}


def test_a_save_gives_back_the_file_as_it_now_is(truck: Path) -> None:
    written = save(load(truck), {("vehicle", "gvw"): 11_000})
    assert written.source == load(truck)
    assert truck.read_text() == TRUCK.replace("10_000", "11000")
    assert (written.kept, written.durable) == (None, True)
    assert left_over(truck) == set()
    assert save(written.source, {("vehicle", "gvw"): 12_000}).source.data["vehicle"]["gvw"] == 12_000


def test_what_cannot_be_amended_is_written_anew_and_the_old_file_kept(
    truck: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def no(text: str, changes: object) -> str:
        raise CannotAmend

    monkeypatch.setattr(migrating, "amend", no)
    written = save(load(truck), {("vehicle", "gvw"): 1})
    assert written.kept is not None
    assert written.kept.name == "truck.toml.bak"
    assert written.kept.read_text() == TRUCK
    assert load(truck).data == changed(tomllib.loads(TRUCK), {("vehicle", "gvw"): 1})


@pytest.mark.parametrize("wrong", [None, "b = 2\n", "not toml", "[a]\nx = 2\ny = 3\n"])
def test_an_amended_text_that_does_not_read_back_as_meant_is_not_given(
    monkeypatch: pytest.MonkeyPatch, wrong: str | None
) -> None:
    monkeypatch.setattr(amending, "_amended", lambda *given: wrong)
    with pytest.raises(CannotAmend):
        amend("[a]\nx = 1\n", {("a", "x"): 2})
    assert rewrite("[a]\nx = 1 # one\n", {("a", "x"): 2}) == "[a]\nx = 2\n"


def test_the_old_file_is_kept_under_a_suffix_and_never_over_another(truck: Path) -> None:
    first = write(truck, "a = 1\n", expected_digest=load(truck).digest, keep_old=".v1.bak")
    assert first.kept is not None
    assert first.kept.read_text() == TRUCK
    second = write(truck, TRUCK, expected_digest=first.source.digest, keep_old=".v1.bak")
    assert second.kept is not None
    assert (second.kept.name, second.kept.read_text()) == ("truck.toml.v1.bak.2", "a = 1\n")
    third = write(truck, "a = 3\n", expected_digest=second.source.digest, keep_old=".v1.bak")
    assert third.kept == first.kept  # the same bytes are there already
    assert left_over(truck) == {"truck.toml.v1.bak", "truck.toml.v1.bak.2"}


def test_a_new_file_is_written_only_where_none_is(truck: Path, tmp_path: Path) -> None:
    new = tmp_path / "new.toml"
    assert write(new, "a = 1\n", expected_digest=None).source.data == {"a": 1}
    with pytest.raises(ChangedOutside, match="there is already a file by that name"):
        write(truck, "a = 1\n", expected_digest=None)
    assert truck.read_text() == TRUCK


def test_a_file_changed_or_gone_since_it_was_read_is_left_alone(truck: Path) -> None:
    source = load(truck)
    truck.write_text("mine = 1\n")
    with pytest.raises(ChangedOutside, match="changed by another program"):
        save(source, {("a",): 1})
    assert truck.read_text() == "mine = 1\n"
    truck.unlink()
    with pytest.raises(ChangedOutside, match="has gone"):
        save(source, {("a",): 1})
    truck.mkdir()
    with pytest.raises(ChangedOutside, match="something else"):
        save(source, {("a",): 1})
    assert left_over(truck) == set()


def test_a_change_made_while_the_new_file_is_being_written_is_noticed(
    truck: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    source, real = load(truck), os.fsync

    def meanwhile(handle: int) -> None:
        real(handle)
        truck.write_text("mine = 1\n")

    monkeypatch.setattr(os, "fsync", meanwhile)
    with pytest.raises(ChangedOutside):
        save(source, {("a",): 1})
    assert truck.read_text() == "mine = 1\n"
    assert left_over(truck) == set()


@pytest.mark.parametrize("there", ["theirs.toml", "nothing"])
def test_a_new_file_is_written_through_no_link(tmp_path: Path, there: str) -> None:
    (tmp_path / "theirs.toml").write_text(TRUCK)
    (tmp_path / "new.toml").symlink_to(tmp_path / there)
    with pytest.raises(NotSaved, match="there is a link by that name"):
        write(tmp_path / "new.toml", TRUCK, expected_digest=None)
    assert (tmp_path / "theirs.toml").read_text() == TRUCK and not (tmp_path / "nothing").exists()


def test_a_file_that_comes_while_a_new_one_is_being_written_is_left_alone(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """In the last moment: between the last look and the name's being taken."""
    path, real = tmp_path / "new.toml", saving.put_new

    def meanwhile(fresh: Path, target: Path) -> None:
        path.write_text("typed meanwhile")
        real(fresh, target)

    monkeypatch.setattr(saving, "put_new", meanwhile)
    with pytest.raises(NotSaved):
        write(path, TRUCK, expected_digest=None)
    assert path.read_text() == "typed meanwhile"
    assert sorted(os.listdir(tmp_path)) == [".new.toml.lock", "new.toml"]


def test_a_file_that_another_program_is_saving_is_busy(truck: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(saving, "PATIENCE", 0.05)
    source = load(truck)
    held = threading.Event()
    done = threading.Event()

    def other() -> None:
        with filelock.FileLock(truck.with_name(".truck.toml.lock")):
            held.set()
            done.wait(10)

    thread = threading.Thread(target=other)
    thread.start()
    held.wait(10)
    try:
        with pytest.raises(Busy, match="another program is saving it") as caught:
            save(source, {("a",): 1})
    finally:
        done.set()
        thread.join()
    assert "\n" not in str(caught.value)
    assert save(source, {("a",): 1}).source.data["a"] == 1


def test_a_lock_file_left_behind_is_in_nobodys_way(truck: Path) -> None:
    truck.with_name(".truck.toml.lock").touch()
    assert save(load(truck), {("a",): 1}).durable


def test_permissions_are_kept_and_a_link_still_points_at_the_file(truck: Path, tmp_path: Path) -> None:
    truck.chmod(0o640)
    link = tmp_path / "there" / "link.toml"
    link.parent.mkdir()
    link.symlink_to(truck)
    written = write(link, "a = 1\n", expected_digest=load(link).digest)
    assert link.is_symlink()
    assert written.source.path == truck
    assert truck.read_text() == "a = 1\n"
    assert stat.S_IMODE(truck.stat().st_mode) == 0o640
    assert [found.name for found in link.parent.iterdir()] == ["link.toml"]


def test_a_file_marked_read_only_is_left_alone(truck: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(os, "access", lambda path, mode: False)  # the system lets root write anywhere
    with pytest.raises(CannotSave, match="marked read-only"):
        save(load(truck), {("a",): 1})
    assert truck.read_text() == TRUCK


@pytest.mark.parametrize(
    "text", ["a = \n", "a = '\ud800'\n", "a = 1e999\n", "#" * 300_000], ids=["broken", "surrogate", "infinite", "large"]
)
def test_what_could_not_be_read_again_is_never_written(truck: Path, text: str) -> None:
    with pytest.raises(CannotSave) as caught:
        write(truck, text, expected_digest=load(truck).digest)
    assert str(caught.value).isprintable()
    assert truck.read_text() == TRUCK


def test_a_folder_that_is_not_there_and_a_name_that_is_none_are_told_plainly(tmp_path: Path) -> None:
    for path in (tmp_path / "none" / "truck.toml", tmp_path / "a\0b.toml", tmp_path / ("x" * 300), Path("/dev/null/x")):
        with pytest.raises(CannotSave) as caught:
            write(path, "a = 1\n", expected_digest=None)
        assert str(caught.value).isprintable()
    assert list(tmp_path.iterdir()) == []


CALLS = ("open", "write", "fsync", "close", "replace", "stat", "fstat", "read", "fchmod", "fchown", "lstat", "link")


@pytest.mark.parametrize("code", [errno.ENOSPC, errno.EIO, errno.EACCES])
@pytest.mark.parametrize("keep_old", [None, ".v1.bak"])
def test_whichever_call_to_the_system_fails_the_old_or_the_new_file_is_there_whole(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, code: int, keep_old: str | None
) -> None:
    new = "a = 1 # new\n" * 1 + "# filled\n" * 50
    failed = []
    for turn in range(200):
        folder = tmp_path / str(turn)
        folder.mkdir()
        truck = folder / "truck.toml"
        truck.write_text(TRUCK, encoding="utf-8")
        digest = digest_of(TRUCK.encode())
        count = 0

        def failing(name: str, real: Callable[..., Any], turn: int = turn) -> Callable[..., Any]:
            def call(*given: Any, **named: Any) -> Any:
                nonlocal count
                count += 1
                if count - 1 != turn:
                    return real(*given, **named)
                failed.append(name)
                if name == "close":  # a close that fails has closed all the same
                    real(*given)
                if name == "write":  # and a disk that fills up takes the first half
                    real(given[0], bytes(given[1])[: len(given[1]) // 2])
                raise OSError(code, os.strerror(code))

            return call

        problem = None
        with monkeypatch.context() as patch:
            for name in CALLS:
                patch.setattr(os, name, failing(name, getattr(os, name)))
            try:
                write(truck, new, expected_digest=digest, keep_old=keep_old)
            except NotSaved as error:
                problem = error
        content = truck.read_text(encoding="utf-8")
        assert content == (TRUCK if problem else new), (turn, failed[-1:], problem)
        assert problem is None or str(problem).isprintable()
        extra = left_over(truck)
        assert extra <= {"truck.toml.v1.bak"}, (turn, failed[-1:])
        if extra:
            assert (folder / "truck.toml.v1.bak").read_text(encoding="utf-8") == TRUCK
        if count <= turn:
            break
        assert save(load(truck), {("b",): 1}).source.data["b"] == 1  # and nothing is in the way of the next
    else:
        pytest.fail("the save never came to its end")
    assert {"open", "write", "fsync", "close", "replace"} <= set(failed)


def test_what_a_killed_save_left_goes_with_the_next_and_nothing_else_does(truck: Path) -> None:
    left = truck.with_name(".truck.toml.0123456789ab.new")
    names = (".truck.toml.mine.new", ".other.toml.0123456789ab.new", "truck.toml.0123456789ab.new", ".truck.toml.new")
    for name in (left.name, *names):
        truck.with_name(name).write_text("half")
    save(load(truck), {("a",): 1})
    assert left_over(truck) == set(names)
    left.write_text("half")
    saving.clear_left(truck, age=60)
    assert left.exists()
    os.utime(left, (0, 0))
    saving.clear_left(truck, age=60)
    assert not left.exists()


def test_an_interrupted_save_leaves_the_old_file_and_nothing_else(truck: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def interrupted(*rest: object) -> None:
        raise KeyboardInterrupt

    source = load(truck)
    with monkeypatch.context() as patch:
        patch.setattr(os, "replace", interrupted)
        with pytest.raises(KeyboardInterrupt):
            save(source, {("a",): 1})
    assert truck.read_text() == TRUCK
    assert left_over(truck) == set()
    assert save(source, {("a",): 1}).source.data["a"] == 1


@pytest.mark.parametrize(
    "races", [pytest.param(30, marks=pytest.mark.shortened), pytest.param(200, marks=pytest.mark.slow)]
)
def test_of_two_that_save_what_both_have_read_exactly_one_does(tmp_path: Path, races: int) -> None:
    truck = tmp_path / "truck.toml"
    truck.write_text("count = 0\n")
    for number in range(races):
        source = load(truck)
        start = threading.Barrier(2)
        ended: list[object] = []

        def run(who: int, number: int = number, source: Any = source, start: Any = start, ended: Any = ended) -> None:
            start.wait()
            try:
                write(truck, f"count = {number * 2 + who}\n", expected_digest=source.digest)
                ended.append(number * 2 + who)
            except NotSaved as error:
                ended.append(error)

        threads = [threading.Thread(target=run, args=(who,)) for who in (1, 2)]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()
        done = [end for end in ended if isinstance(end, int)]
        assert [type(end) for end in ended if not isinstance(end, int)] == [ChangedOutside]
        assert done == [load(truck).data["count"]]


def count_up(path: Path, times: int) -> None:
    done = 0
    while done < times:
        source = load(path)
        try:
            write(path, f"count = {source.data['count'] + 1}\n", expected_digest=source.digest)
            done += 1
        except (ChangedOutside, Busy):
            continue


def test_two_programs_that_count_in_one_file_lose_no_count(tmp_path: Path) -> None:
    truck = tmp_path / "truck.toml"
    truck.write_text("count = 0\n")
    context = multiprocessing.get_context("spawn")
    programs = [context.Process(target=count_up, args=(truck, 100)) for _ in range(2)]
    for program in programs:
        program.start()
    for program in programs:
        program.join(120)
    assert [program.exitcode for program in programs] == [0, 0]
    assert load(truck).data["count"] == 200
    assert left_over(truck) == set()
