"""A diary that is torn, damaged or forged is reported, and everything else in it is read."""

import json
from hashlib import sha256
from pathlib import Path
from typing import Any

import pytest
from diary_truck import TRUCK, by_hand, change, kinds, sound, three

from planner.project.diary import bring_back, commit, redo, undo
from planner.project.diary_entries import WHOLE_EVERY, Packed, line_for, pack
from planner.project.diary_reading import Diary, data_at, diary_path, read_diary, read_end, read_last, text_at
from planner.project.diary_words import entry_lines
from planner.project.faults import Faulty
from planner.project.saving import NotSaved
from planner.project.source import LARGEST_FILE, digest_of, load


@pytest.fixture
def truck(tmp_path: Path) -> Path:
    path = tmp_path / "truck.toml"
    path.write_text(TRUCK, encoding="utf-8")
    return path


def test_a_last_line_torn_at_any_byte_is_left_aside_and_nothing_else_is_lost(truck: Path) -> None:
    raw, whole = three(truck)
    last = raw.rfind(b"\n", 0, -1) + 1
    by_hand(truck, text_at(whole, 3))  # the entry is written before the project is
    for cut in range(last, len(raw)):
        diary_path(truck).write_bytes(raw[:cut])
        for diary in (read_diary(truck), read_end(truck)):
            complete = cut == len(raw) - 1  # all but the line's end
            assert diary.entries[-1] == whole.entries[3 if complete else 2]
            assert (diary.torn, diary.unended) == (0 if complete else cut - last, complete)
            assert len(diary.troubles) == (0 if complete or cut == last else 1)
        if cut % 29 and cut < len(raw) - 3:
            continue
        done = change(truck, "4 in")
        sound(truck)
        if cut == last or complete:
            assert done.set_aside is None
        else:
            assert done.set_aside is not None
            assert done.set_aside.name.startswith("truck.diary.torn-")
            assert done.set_aside.read_bytes() == raw[last:cut]
        tail = ["change", "not done", "change"] if complete else ["change"]
        assert kinds(truck) == ["began", "change", "change", *tail]
        by_hand(truck, text_at(whole, 3))


def test_a_tail_of_zeros_as_some_disks_leave_it_is_left_aside(truck: Path) -> None:
    raw, _ = three(truck)
    for length in (5000, 5000, 3000):
        diary_path(truck).write_bytes(raw + bytes(length))
        assert read_diary(truck).torn == length
        for found in truck.parent.glob("*.torn-*"):  # as when writing it was cut off
            found.write_bytes(b"half")
        aside = change(truck, "3 in").set_aside
        assert aside is not None
        assert aside.read_bytes() == bytes(length)
        assert len(sound(truck).entries) == 5
    assert len(list(truck.parent.glob("*.torn-*"))) == 3


@pytest.mark.parametrize("mask", [0x01, 0x20, 0x80])
def test_any_flipped_byte_is_reported_and_the_other_entries_are_read(truck: Path, mask: int) -> None:
    raw, whole = three(truck)
    ends = [at for at, byte in enumerate(raw) if byte == 10]
    for at in range(len(raw)):
        spoiled = bytearray(raw)
        spoiled[at] ^= mask
        diary_path(truck).write_bytes(spoiled)
        diary = read_diary(truck)
        hit = sum(end < at for end in ends)
        lost = {hit, hit + 1} if at in ends else {hit}
        assert diary.entries == [entry for place, entry in enumerate(whole.entries) if place not in lost]
        assert diary.troubles
        assert diary.troubles[0].line == hit + 1
        if hit < len(whole.entries) - 1:
            assert f"entry {hit + 1} cannot be read" in diary.troubles[0].message


def test_with_a_damaged_entry_the_rest_stays_readable_and_the_diary_goes_on(truck: Path) -> None:
    source = load(truck)
    for number in range(2 * WHOLE_EVERY):
        source = commit(source, f"{TRUCK}n = {number}\n# {number * 7919}\n", kind="change").written.source
    rows = diary_path(truck).read_bytes().splitlines(keepends=True)
    rows[4] = rows[4].replace(b"change", b"chance")
    diary_path(truck).write_bytes(b"".join(rows))
    diary = read_diary(truck)
    assert [fault.message for fault in diary.troubles] == [
        "entry 5 cannot be read, its checksum does not match; those before and after it are"
    ]
    readable = []
    for entry in diary.entries:
        try:
            text_at(diary, entry.number)
            readable.append(entry.number)
        except Faulty as faulty:
            assert "can't be put together anymore" in str(faulty)
    assert readable == [1, 2, 3, 4, *range(WHOLE_EVERY + 1, 2 * WHOLE_EVERY + 2)]
    undo(source)
    change(truck, "5 in")
    assert len(read_diary(truck).troubles) == 1
    # The last entry is damaged: its number is not given again, and what happened is taken for a change by hand.
    rows = diary_path(truck).read_bytes().splitlines(keepends=True)
    diary_path(truck).write_bytes(b"".join(rows[:-1]) + rows[-1].replace(b"5 in", b"6 in"))
    entries = change(truck, "7 in").entries
    assert [(entry.kind, entry.number) for entry in entries] == [
        ("hand edit", len(rows) + 1),
        ("change", len(rows) + 2),
    ]
    assert len(read_diary(truck).troubles) == 2


def test_a_damaged_entry_is_gone_round_where_its_text_was_reached_otherwise(truck: Path) -> None:
    change(truck, "146 in")
    undo(load(truck))
    redo(load(truck))
    rows = diary_path(truck).read_bytes().splitlines(keepends=True)
    diary_path(truck).write_bytes(b"".join([*rows[:2], rows[2].replace(b"undo", b"undo!"), rows[3]]))
    diary = read_diary(truck)
    assert [entry.number for entry in diary.entries] == [1, 2, 4]
    assert text_at(diary, 4) == TRUCK.replace("145 in ± 1/2 in", "146 in")


def test_lines_taken_out_put_in_or_in_another_order_are_reported(truck: Path) -> None:
    raw, whole = three(truck)
    one, two, three_, four = raw.splitlines(keepends=True)
    for spoiled, told_of in (
        ([one, two, four], "entries are missing before entry 4: the last was 2"),
        ([two, three_, four], "entries are missing before entry 2: the last was 0"),
        ([one, two, four, three_], "entry 3 comes after entry 4"),
        ([one, two, two, three_, four], "entry 2 comes after entry 2"),
    ):
        diary_path(truck).write_bytes(b"".join(spoiled))
        diary = read_diary(truck)
        assert told_of in [fault.message for fault in diary.troubles]
        assert len(diary.entries) == len(spoiled)
    by_hand(truck, text_at(whole, 1))
    diary_path(truck).write_bytes(one)
    change(truck, "8 in")
    other = diary_path(truck).read_bytes().splitlines(keepends=True)[1]
    diary_path(truck).write_bytes(one + other + three_)
    assert "wasn't written after the entry before it" in read_diary(truck).troubles[0].message
    diary_path(truck).write_bytes(raw.replace(b"\n", b"\r\n").replace(three_[:-1], three_[:-1] + b"\r\n\r\n"))
    assert (read_diary(truck).entries, read_diary(truck).troubles) == (whole.entries, [])


def forged(truck: Path, **changes: Any) -> Diary:
    """The diary with its last entry changed, and a sum that is right."""
    rows = diary_path(truck).read_bytes().splitlines(keepends=True)
    body = {name: value for name, value in json.loads(rows[-1]).items() if name != "sum"} | changes
    return with_last(truck, json.dumps(body)[1:].encode())


def with_last(truck: Path, rest: bytes) -> Diary:
    rows = diary_path(truck).read_bytes().splitlines(keepends=True)
    row = b'{"sum":"' + sha256(rest).hexdigest().encode() + b'",' + rest
    diary_path(truck).write_bytes(b"".join(rows[:-1]) + row + b"\n")
    diary = read_diary(truck)
    diary_path(truck).write_bytes(b"".join(rows))
    return diary


@pytest.mark.parametrize(
    "changes",
    [
        {"moved": [1]}, {"moved": [[["a"], 1]]}, {"moved": [[[1.5], 1, 2]]}, {"moved": {"a": 1}}, {"moved": None},
        {"number": "2"}, {"number": True}, {"number": -1}, {"number": 10**30}, {"left_out": None}, {"since": [1]},
        {"at": 5}, {"because": None}, {"details": []}, {"details": None}, {"before": {}}, {"text": 5}, {"text": ["a"]},
        {"text": [5, None]}, {"text": ["", [-1, 5]]}, {"text": ["", "ab"]}, {"details": {"d": {"toml": "1\nx = 1"}}},
        {"details": {"d": {"toml": "2021-99-99"}}}, {"details": {"d": {"toml": 5}}},
        {"details": {"d": {"toml": f"2021-06-05{' ' * 31}"}}},
    ],
    ids=str,
)  # fmt: skip
def test_a_forged_entry_of_the_wrong_kind_is_reported_as_any_other(truck: Path, changes: dict[str, Any]) -> None:
    three(truck)
    diary = forged(truck, **changes)
    assert len(diary.entries) == 3
    assert "the planner doesn't write them like that" in diary.troubles[0].message


def test_nothing_in_a_diary_can_stall_or_crash_the_program_or_drive_the_terminal(truck: Path) -> None:
    three(truck)
    for depth in (200, 100_000):
        assert len(with_last(truck, b'"details":' + b"[" * depth + b"]" * depth + b"}").entries) == 3
    assert len(with_last(truck, b'"number":' + b"9" * 900_000 + b"}").entries) == 3
    assert len(with_last(truck, b"x" * 3_000_000).entries) == 3
    bomb = pack(None, bytes(LARGEST_FILE + 1)).blob
    for text in (Packed(bomb, None), Packed("AwA=" * 50_000, None), Packed("!", None), Packed("", (10**9, 0))):
        diary = forged(truck, text=text)
        with pytest.raises(Faulty) as caught:
            text_at(diary, 4)
        assert str(caught.value).isprintable()
    diary = forged(truck, text=pack(None, b"a = 1\n"))
    with pytest.raises(Faulty, match="isn't the text the entry is about"):
        text_at(diary, 4)
    wild = "\x1b[31m\u202e\ud800\nx"
    diary = forged(truck, at=wild, kind=wild, because=wild, moved=[[["a", wild, 0], wild, {"b": [wild]}]], left_out=3)
    lines = entry_lines(diary.entries[-1])
    assert len(lines) == 3
    assert all(line.isprintable() for line in lines)


def test_a_fault_of_the_diary_is_told_by_the_diarys_name_and_its_line(truck: Path) -> None:
    source = commit(load(truck), TRUCK + "n = 1\n", kind="change").written.source
    rows = diary_path(truck).read_bytes().splitlines(keepends=True)
    diary_path(truck).write_bytes(b"\n" + rows[0].replace(b"began", b"begun") + rows[1])  # an editor left an empty line
    assert read_diary(truck).troubles[0].line == 2
    with pytest.raises(NotSaved, match=r"truck\.toml: not saved: truck\.diary\.jsonl: there is no entry 1"):
        bring_back(source, 1)
    diary_path(truck).unlink()
    diary_path(truck).mkdir()
    with pytest.raises(NotSaved, match=r"not saved: truck\.diary\.jsonl: this isn't an ordinary file"):
        commit(source, TRUCK, kind="change")


def test_the_line_of_a_fault_is_counted_from_the_start_where_only_the_end_is_read(truck: Path) -> None:
    source = load(truck)
    for number in range(6):
        source = commit(source, f"{TRUCK}n = {number}\n", kind="change").written.source
    rows = diary_path(truck).read_bytes().splitlines(keepends=True)
    rows[5] = rows[5].replace(b"change", b"chance")
    diary_path(truck).write_bytes(b"".join(rows))
    assert [fault.line for fault in read_last(truck, 3).troubles] == [6]


def test_a_text_in_the_diary_that_is_no_project_is_told_as_the_diarys_with_its_entry(truck: Path) -> None:
    commit(load(truck), TRUCK + "n = 1\n", kind="change")
    rows = diary_path(truck).read_bytes().splitlines(keepends=True)
    broken = b'[vehicle\nname = "x"\n'
    entry = read_diary(truck).entries[1]
    row, _ = line_for(
        2, entry.at, "change", "", (), {}, entry.before, digest_of(broken), pack(None, broken), 0, entry.previous
    )
    diary_path(truck).write_bytes(rows[0] + b"\n" + row)
    with pytest.raises(Faulty) as raised:
        data_at(read_diary(truck), 2)
    assert str(raised.value).startswith(
        f"{diary_path(truck)}:3: what entry 2 left isn't TOML: the heading isn't closed"
    )
