"""Tables as CSV: no cell of ours starts a formula, ours are told from changed ones, and what comes is read."""

import csv
import io
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from planner.project.csv_tables import MOST_ROWS, as_it_was, csv_bytes, harmless, read_csv, whose
from planner.project.faults import Faulty, as_line

PATH = Path("r.csv")
HEADS = {"entry": "entry", "name": "entry", "value": "value", "by": "by"}
STARTS = tuple("=+-@\t\r\n＝＋－＠")
CELLS = st.one_of(
    st.text(max_size=30), st.floats(allow_nan=False, allow_infinity=False), st.integers(), st.booleans(), st.none(),
    st.text(alphabet="=+-@'; \t\r\n,\"a1|!", max_size=12), st.lists(st.text(max_size=8), max_size=3),
)  # fmt: skip


def told(raw: bytes) -> str:
    try:
        rows = read_csv(PATH, raw, HEADS, (("value",), ("entry",)))
    except Faulty as refused:
        return str(refused)
    return "\n".join(as_line(PATH, row.fault) for row in rows if row.fault)


def read(raw: bytes) -> list[dict[str, str]]:
    return [dict(row.cells) for row in read_csv(PATH, raw, HEADS, (("value",), ("entry",)))]


def starts_formula(cell: str) -> bool:
    """Whether a spreadsheet would work a cell out: by its first mark, spaces left out, unless it is a number."""
    try:
        float(cell)
    except ValueError:
        return cell.lstrip().startswith(STARTS) or cell.startswith(STARTS)
    return cell.startswith("+")


@given(st.lists(st.lists(CELLS, min_size=2, max_size=2), max_size=4))
@example([["=1+1", "@SUM(A1)"], ["a;=cmd|'/c calc'!A0;b", " =1"]])
@example(
    [["", ';"=1+1']]
)  # doubled as CSV has it, and parted there: a quoted cell of nothing, and the formula behind it
def test_no_cell_starts_a_formula_also_where_semicolons_part_the_cells(rows):
    raw = csv_bytes(("name", "one", "two"), [["x", *row] for row in rows])  # as all of ours, a row begins with a name
    text = raw.decode("utf-8-sig")
    for apart in ",;\t":
        for row in csv.reader(io.StringIO(text, newline=""), delimiter=apart):
            assert not any(map(starts_formula, row)), row


@given(st.text(max_size=30) | st.text(alphabet="=+-@'; 0.a", max_size=12))
def test_what_was_made_harmless_is_had_back(text):
    assert as_it_was(harmless(text)) == text


def test_a_negative_number_stays_one_and_has_nine_figures():
    row = (-0.1 - 0.2, -3, Decimal("-91.50"), -0.0, True, None, "-0.5")
    assert csv_bytes(list("abcdefg"), [row]).decode("utf-8-sig").splitlines()[1] == "-0.3,-3,-91.50,0,yes,,-0.5,"


@given(st.lists(st.lists(st.text(max_size=12), min_size=1, max_size=1), max_size=3), st.data())
def test_a_table_is_known_as_ours_until_a_byte_of_it_changes(rows, data):
    raw = csv_bytes(("one",), rows)
    assert whose(raw) == "ours" and csv_bytes(("one",), rows) == raw
    at = data.draw(st.integers(0, len(raw) - 1))
    other = bytes([raw[at] ^ 1])
    assert whose(raw[:at] + other + raw[at + 1 :]) != "ours"
    assert whose(b"one,two\n1,2\n") == "another"


@pytest.mark.parametrize("apart", [",", ";", "\t"])
@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16"])
@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_a_table_is_read_as_spreadsheets_save_it(apart, encoding, end):
    text = end.join((apart.join(("Name", "Value", "by")), apart.join(("wheelbase", "118 in ± ¼ in", "")), ""))
    assert read(text.encode(encoding)) == [{"entry": "wheelbase", "value": "118 in ± ¼ in", "by": ""}]


def test_a_decimal_comma_stands_between_semicolons_and_a_first_line_may_say_what_parts_the_cells():
    assert read(b"sep=;\nentry;value\nwheelbase;118,5 in\n")[0]["value"] == "118,5 in"


def test_a_quote_and_a_comma_in_quotes_are_text():
    assert read(b'entry,value\nlip,"2 in, -7 in, 5 1/2"""\n')[0]["value"] == '2 in, -7 in, 5 1/2"'


def test_rows_without_anything_and_columns_without_a_head_are_passed_over():
    assert read(b"entry,value,,planner:0123\n,,,\n\nwheelbase,3 in,,\n") == [{"entry": "wheelbase", "value": "3 in"}]


@pytest.mark.parametrize(
    ("raw", "words"),
    [
        (b"", "r.csv: the file is empty"),
        (b"\xef\xbb\xbf\r\n \n", "r.csv: the file is empty"),
        (
            b"entry,vlaue\n",
            "r.csv:1: there's no such column; read 'vlaue'; accepted: these columns: entry, name, value",
        ),
        (b"entry,by\n", "r.csv:1: there's no column 'value'"),
        (b"value,by\n", "r.csv:1: there's no column 'entry'"),
        (b"entry,name,value\n", "r.csv:1: two columns are 'entry'"),
        ("entry,value\nx,5 in ± 1\n".encode("latin-1"), "r.csv:2: a letter that isn't UTF-8: the file is Latin-1"),
        ("entry,value\n".encode("utf-16-le"), "UTF-16 without the mark"),
        ("entry,value\n".encode("utf-16")[:-1], "cut off"),
        (b"entry,value\nx,\0\n", "r.csv:2: a NUL"),
        (b'entry,value\nx,"5 in\ny,6 in\n', "r.csv:2: the quotes around a cell don't close"),
        (b"entry,value\nx,2 in, 3 in\n", "r.csv:2: 3 cells under 2 headings"),
        (b"entry,value\nx,\x1b[2J\n", r"r.csv:2: a cell has marks that aren't text; read '\x1b[2J'"),
        (b"entry,value\nx," + b"9" * 5000 + b"\n", "r.csv:2: a cell is too long"),
        (b"entry,value\n" + b"x,1\n" * (MOST_ROWS + 1), f"{MOST_ROWS + 1} rows"),
    ],
    ids=lambda one: repr(one)[:30],
)
def test_what_cannot_be_read_is_told_with_its_line_and_what_would_do(raw, words):
    assert words in told(raw) and "\x1b" not in told(raw)


def test_every_bad_row_is_told():
    assert [line.split(":")[1] for line in told(b"entry,value\nx,1,2\ny,1\nz,\x1b\n").splitlines()] == ["2", "4"]
