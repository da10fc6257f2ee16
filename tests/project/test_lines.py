"""Where each key of a text stands: known texts, and texts made at random by two writers."""

import random
import time
import tomllib
from typing import Any

import pytest
import tomli_w
import tomlkit
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.project.lines import Key, key_lines, line_of, tokens

NAMES = st.text("abcXYZ019_- .'#=[]{}é½", max_size=6)
SCALARS = st.one_of(
    st.integers(-1000, 1000),
    st.booleans(),
    st.floats(allow_nan=False, allow_infinity=False),
    st.text("ab \"'\\#[]{}=,.\n½", max_size=12),
    st.dates(),
    st.datetimes(),
)
VALUES = st.recursive(
    SCALARS,
    lambda inner: st.one_of(st.lists(inner, max_size=4), st.dictionaries(NAMES, inner, max_size=4)),
    max_leaves=12,
)
DATA = st.dictionaries(NAMES, VALUES, max_size=5)


def every_key(data: Any, key: Key = ()) -> list[Key]:
    inner = data.items() if isinstance(data, dict) else enumerate(data) if isinstance(data, list) else ()
    return ([key] if key else []) + [found for name, value in inner for found in every_key(value, (*key, name))]


def check(text: str) -> None:
    data = tomllib.loads(text)
    lines = key_lines(text)
    assert sorted(lines, key=repr) == sorted(every_key(data), key=repr)
    rows = text.split("\n")
    for key, line in lines.items():
        row = rows[line - 1]
        if isinstance(key[-1], str):
            basic = tomli_w.dumps({key[-1]: 0}).removesuffix(" = 0\n")
            assert key[-1] in row or basic in row or tomlkit.key(key[-1]).as_string() in row


@given(DATA)
def test_every_key_of_a_text_made_by_tomli_w_has_a_line_that_names_it(data: dict[str, Any]) -> None:
    check(tomli_w.dumps(data))
    check(tomli_w.dumps(data, multiline_strings=True))


@given(DATA, st.randoms(use_true_random=False))
def test_every_key_of_a_text_with_comments_blank_lines_and_inline_tables_has_a_line(
    data: dict[str, Any], chance: random.Random
) -> None:
    document = tomlkit.document()
    for name, value in data.items():
        while chance.random() < 0.5:
            document.add(chance.choice([tomlkit.comment("a = 1 [b] \"'{"), tomlkit.nl()]))
        inline = isinstance(value, dict) and chance.random() < 0.5
        item = tomlkit.item(value, _parent=tomlkit.inline_table() if inline else None)
        if isinstance(item, tomlkit.items.Array):
            item.multiline(chance.random() < 0.5)
        document[name] = item
    text = document.as_string()
    try:
        read = tomllib.loads(text)
    except tomllib.TOMLDecodeError:  # what tomlkit wrote is no TOML; not ours to judge
        return
    assert key_lines(text).keys() == set(every_key(read))
    check(text)


def test_each_kind_of_entry_stands_at_its_line() -> None:
    text = '''\
\ufeff# truck = 1
name = "a # b [c]"
axles.front.studs = 10  # dotted
"odd name".'x y' = 1_000
text = """
fake = 1
\\"""[fake]"""""
raw = \'\'\'
fake = 2\'\'\'\'
list = [ # fake = 3
  1, "]",
  { a = 1, b.c = [ 2,
    3 ] },
]
when = 1979-05-27 07:32:00.5Z

[vehicle] # here
[[parts]]
price = 1
[parts.maker]
name = 'x'
[[parts]]
[[parts.notes]]
[[parts.notes]]
said = "é\\u0041"
[vehicle.base]
"A\\u0042" = {}
'''
    lines = key_lines(text)
    expected: dict[Key, int] = {
        ("name",): 2,
        ("axles",): 3,
        ("axles", "front", "studs"): 3,
        ("odd name", "x y"): 4,
        ("text",): 5,
        ("raw",): 8,
        ("list",): 10,
        ("list", 0): 11,
        ("list", 1): 11,
        ("list", 2): 12,
        ("list", 2, "b", "c", 0): 12,
        ("list", 2, "b", "c", 1): 13,
        ("when",): 15,
        ("vehicle",): 17,
        ("parts",): 18,
        ("parts", 0): 18,
        ("parts", 0, "price"): 19,
        ("parts", 0, "maker", "name"): 21,
        ("parts", 1): 22,
        ("parts", 1, "notes"): 23,
        ("parts", 1, "notes", 1): 24,
        ("parts", 1, "notes", 1, "said"): 25,
        ("vehicle", "base"): 26,
        ("vehicle", "base", "AB"): 27,
    }
    assert {key: lines.get(key) for key in expected} == expected
    assert set(lines) == set(every_key(tomllib.loads(text.removeprefix("\ufeff"))))


def test_a_table_named_on_the_way_moves_to_its_own_heading_when_that_comes_later() -> None:
    assert key_lines("[a.b]\n\n[a]\nx = 1\n")[("a",)] == 3


def test_elements_of_a_list_of_tables_stand_where_they_are_though_another_table_is_between() -> None:
    lines = key_lines("[[a]]\nx = 1\n[b]\nx = 2\n[[a]]\nx = 3\n[a.c]\n[[b.d]]\n[[a.e]]\n")
    assert [lines[key] for key in (("a", 0, "x"), ("b", "x"), ("a", 1), ("a", 1, "x"))] == [2, 4, 5, 6]
    assert [lines[key] for key in (("a", 1, "c"), ("b", "d", 0), ("a", 1, "e", 0))] == [7, 8, 9]


def test_keys_above_what_does_not_parse_have_their_lines() -> None:
    assert key_lines("a = 1\n[b]\nc = [\n  2,\n]\nd = 24 in\n")[("b", "c", 0)] == 4


def test_line_ends_of_windows_count_once() -> None:
    assert key_lines('a = """\r\nx"""\r\nb = 1\r\n') == {("a",): 1, ("b",): 3}


def test_a_key_without_a_line_falls_back_to_what_is_around_it() -> None:
    lines = key_lines("[axles]\n[axles.front]\n")
    assert line_of(lines, ("axles", "front", "rating")) == 2
    assert line_of(lines, ("axles", "rear", "rating")) == 1
    assert line_of(lines, ("engine", "torque")) is None
    assert line_of(lines, ()) is None


@given(st.text("ab=.[]{}\"'\\#,\n 1", max_size=60))
@settings(max_examples=500)
def test_no_text_however_broken_is_an_error_or_loses_a_character(text: str) -> None:
    key_lines(text)
    assert "".join(token.text for token in tokens(text)) == text


@pytest.mark.parametrize(
    "piece", ['"""\\', '"\\"', "'''", "[", "a.", "{", "a=[", "\n", "=", ",", "[[a.b]]\n", '"', "#"]
)
def test_the_time_is_linear_in_the_length(piece: str) -> None:
    started = time.process_time()
    for token in tokens(piece * (200_000 // len(piece))):
        assert token
    key_lines(piece * (20_000 // len(piece)))
    assert time.process_time() - started < 5
