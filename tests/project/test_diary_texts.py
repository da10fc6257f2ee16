"""Every state of a project comes back byte for byte out of its diary."""

import random
from pathlib import Path
from typing import Any

import pytest
from diary_truck import TRUCK, by_hand, sound
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.project.diary import commit
from planner.project.diary_entries import KeyChange, line_for, pack, unpack
from planner.project.diary_reading import Diary, text_at
from planner.project.diary_writing import Draft, lines_for
from planner.project.source import LARGEST_FILE, digest_of

rows = st.one_of(
    st.text(st.characters(exclude_categories=("Cc", "Cs")), max_size=30).map(lambda text: f"# {text}"),
    st.tuples(st.integers(0, 9), st.integers()).map(lambda one: f"k{one[0]} = {one[1] % 2**62}"),
    st.just(""),
)


def as_toml(lines: list[str], end: str) -> str:
    seen = set()
    kept = [row for row in lines if not row.startswith("k") or not (row[:2] in seen or seen.add(row[:2]))]
    return "".join(row + end for row in kept)


@settings(deadline=None, max_examples=25)
@given(st.lists(st.builds(as_toml, st.lists(rows, max_size=12), st.sampled_from(["\n", "\r\n"])), max_size=8))
def test_every_state_comes_back_byte_for_byte(tmp_path_factory: pytest.TempPathFactory, states: list[str]) -> None:
    truck = tmp_path_factory.mktemp("any") / "truck.toml"
    source = by_hand(truck, TRUCK)
    for text in states:
        source = commit(source, text, kind="change").written.source
    if states:
        diary = sound(truck)
        assert [text_at(diary, entry.number) for entry in diary.entries] == [TRUCK, *states]


@given(st.binary(max_size=400), st.binary(max_size=400), st.binary(max_size=100), st.binary(max_size=100))
def test_what_is_packed_is_unpacked(old: bytes, new: bytes, head: bytes, tail: bytes) -> None:
    for one, other in ((old, new), (head + old + tail, head + new + tail), (head + tail, head + new + tail)):
        assert unpack(pack(one, other), one) == other
    assert unpack(pack(None, new), old) == new


def test_a_small_change_in_the_largest_project_is_packed_small_and_a_new_text_whole() -> None:
    chance = random.Random(1)
    lines = [f"k{number} = {chance.randrange(10**9)}\n" for number in range(12_000)]
    old = "".join(lines)[: LARGEST_FILE - 500].encode()
    new = old.replace(b"\n", b" # first\n", 1) + b"# last\n"
    assert unpack(pack(old, new), old) == new
    assert len(pack(old, new).blob) < 0.05 * len(pack(None, new).blob)
    other = "".join(f"# {chance.getrandbits(400):x}\n" for _ in range(20)).encode()
    assert pack(old, other).keep is None


def test_a_line_is_no_longer_than_what_is_read_at_once_its_end_included() -> None:
    def line(letters: int) -> bytes:
        return line_for(1, "", "", "x" * letters, (), {}, "", "", None, 0, "")[0]

    room = 2**20 - len(line(0))
    assert len(line(room)) == 2**20
    with pytest.raises(ValueError, match="too long"):
        line(room + 1)


def test_one_text_in_fifty_is_kept_whole(tmp_path: Path) -> None:
    texts = [f"{TRUCK}n = {number}\n" for number in range(101)]
    digests = [digest_of(text.encode()) for text in texts]
    drafts = [Draft("change", "", (), {}, *digests[at - 1 : at + 1], *texts[at - 1 : at + 1]) for at in range(1, 101)]
    _, entries = lines_for(tmp_path, Diary(tmp_path, [], []), drafts, None)
    assert [one.number for one in entries if one.packed and one.packed.keep is None] == [50, 100]


def unfolded(moment: Any) -> Any:
    return moment.replace(fold=0)  # TOML knows nothing of it


plain_data = st.recursive(
    st.one_of(st.booleans(), st.integers(-(2**63), 2**63 - 1), st.floats(allow_nan=False, allow_infinity=False))
    | st.text(max_size=5)
    | st.dates()
    | st.times().map(unfolded)
    | st.datetimes().map(unfolded),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.sampled_from(["toml", "a", ""]), inner, max_size=2),
    max_leaves=8,
)


@given(st.dictionaries(st.sampled_from(["toml", "a", "b"]), plain_data, max_size=3), plain_data)
def test_plain_data_of_every_kind_comes_back_as_it_was(data: dict[str, Any], value: object) -> None:
    moved = (KeyChange(("a", 0, "b"), None, value), KeyChange(("c",), value, data))
    _, entry = line_for(1, "", "", "", moved, data, "", "", None, 0, "")
    assert repr((entry.details, entry.moved)) == repr((data, moved))
