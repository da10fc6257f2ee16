"""Reading a file: what is accepted, and that everything else is refused in one plain line, at once."""

import hashlib
import os
import socket
import time
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.project.faults import Fault, Faulty, as_key, as_line
from planner.project.source import LARGEST_FILE, load, parse


def refused(path: Path) -> str:
    started = time.process_time()
    with pytest.raises(Faulty) as caught:
        load(path)
    assert time.process_time() - started < 5
    assert caught.value.path == path
    told = str(caught.value)
    assert told.count("\n") + 1 == len(caught.value.faults)
    assert all(line.isprintable() for line in told.split("\n"))
    return told.replace(str(path), "truck.toml")


@pytest.fixture
def truck(tmp_path: Path) -> Path:
    return tmp_path / "truck.toml"


def test_a_file_comes_back_with_its_text_data_lines_and_digest(truck: Path) -> None:
    raw = b'# mine\nname = "x"\n\n[axles.front]\nrating = "4,500 lb"\n'
    truck.write_bytes(raw)
    source = load(truck)
    assert source.path == truck
    assert source.text == raw.decode()
    assert source.data == {"name": "x", "axles": {"front": {"rating": "4,500 lb"}}}
    assert source.lines[("axles", "front", "rating")] == 5
    assert source.digest == hashlib.sha256(raw).hexdigest()


def test_a_byte_order_mark_and_windows_line_ends_are_accepted_and_kept(truck: Path) -> None:
    truck.write_bytes(b"\xef\xbb\xbfa = 1\r\nb = '''\r\nx'''\r\n")
    source = load(truck)
    assert source.data == {"a": 1, "b": "x"}
    assert source.text == "\ufeffa = 1\r\nb = '''\r\nx'''\r\n"
    assert source.lines == {("a",): 1, ("b",): 2}


def test_a_link_is_followed_to_the_file_itself(truck: Path, tmp_path: Path) -> None:
    truck.write_text("a = 1\n")
    link = tmp_path / "link.toml"
    link.symlink_to(truck)
    assert load(link).path == truck


def test_what_is_no_readable_file_is_refused_at_once(truck: Path, tmp_path: Path) -> None:
    assert "there is no such file" in refused(truck)
    assert "this is a folder" in refused(tmp_path)
    os.mkfifo(truck)
    assert "a pipe, a socket or a device" in refused(truck)
    assert "a pipe, a socket or a device" in refused(Path("/dev/zero"))
    (tmp_path / "loop").symlink_to(tmp_path / "loop")
    assert "go around in a circle" in refused(tmp_path / "loop")
    assert "won't work as a file name" in refused(tmp_path / "a\0b")
    assert "too long" in refused(tmp_path / ("x" * 300))
    assert "not a folder" in refused(Path("/dev/null/truck.toml"))


def test_a_socket_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)  # a socket's path may not be long
    with socket.socket(socket.AF_UNIX) as plug:
        plug.bind("plug")
        assert "a pipe, a socket or a device" in refused(Path("plug"))


def test_a_pipe_that_comes_in_the_place_of_the_file_is_refused(truck: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    truck.write_text("a = 1\n")
    seen = os.stat(truck)
    truck.unlink()
    os.mkfifo(truck)
    monkeypatch.setattr(os, "stat", lambda path: seen)
    assert "a pipe, a socket or a device" in refused(truck)


def test_a_file_that_may_not_be_read_is_refused(truck: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    truck.write_text("a = 1\n")

    def no(*rest: object) -> int:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(os, "open", no)
    assert refused(truck) == "truck.toml: cannot be read: you don't have permission"


@pytest.mark.parametrize(
    ("raw", "told"),
    [
        (b"#" * (LARGEST_FILE + 1), "truck.toml: the file is too large; accepted: 256 KB at most"),
        (b"a = 1\nb = '\0'\n", "truck.toml:2: a NUL byte: this isn't text; accepted: text saved as UTF-8"),
        (b"\xff\xfea\0", "truck.toml: the file is saved as UTF-16; accepted: text saved as UTF-8"),
        (b"a = 1\nb = '\xbd in'\n", "truck.toml:2: a character that isn't UTF-8; read 'b = '\ufffd in''"),
        (b"a = '\xed\xa0\x80'\n", "truck.toml:1: a character that isn't UTF-8"),
        (b'a = "\\ud800"\n', "truck.toml:1: a \\u with a number that no character has, at column 12"),
        (b"a" + b".a" * 20_000 + b" = 1\n", "truck.toml:1: the name has too many parts"),
        (b"x = 1\na = " + b"[" * 50_000, "truck.toml:2: lists and tables are nested too deep"),
        (b"a = " + b"{b = " * 5_000, "truck.toml:1: lists and tables are nested too deep"),
        (b"a." * 30 + b"a = " + b"[" * 30 + b"]" * 30, "truck.toml:1: lists and tables are nested too deep"),
        (b"a = 1\na = 2\n", "truck.toml:2: a: this is set twice, first on line 1; read 'a = 2'"),
        (b"[a]\n\n[a]\n", "truck.toml:3: a: this is set twice, first on line 1"),
        (b"[[a]]\n\n[a]\n", "truck.toml:3: a[0]: this is set twice, first on line 1"),
        (b"a = " + b"[" * 41 + b"]" * 41, "truck.toml:1: lists and tables are nested too deep"),
        (b"# " + b"." * 99 + b"\na = 1.5.1" + b".a" * 39, "truck.toml:2: the name has too many parts"),
        (b"a = { b = 1, b = 2 }", "truck.toml:1: a.b: this is set twice"),
        (b"a = 1\nb = " + b"9" * 5000, "truck.toml:2: the number is too long; read '9999"),
        (b"a = 0x" + b"f" * 100_000, "truck.toml:1: a: the number is too large; read '0xffff"),
        (
            b"[a]\nb = [1, 9223372036854775808]",
            "truck.toml:2: a.b[1]: the number is too large; read '92233720368547758",
        ),
        (b"a = -9223372036854775809", "truck.toml:1: a: the number is too large; read '-9223372036854775809'"),
        (b"a = 1e999", "truck.toml:1: a: not a number the planner can calculate with; read 'inf'"),
        (
            b"a = 1\n\nwidth = 24 in\n",
            "truck.toml:3: there's something left over after the value, at column 12; read 'width",
        ),
        (b"a = about", "truck.toml:1: this isn't a value, at column 5; read 'a = about'; accepted: text in quotes"),
        (b'a = "x\nb = 1\n', "truck.toml:1: the text isn't closed, at column 7; read 'a = \"x'"),
        (b"a = 1\nb = 'x", "truck.toml:2: the file ends before this is complete; read 'b = 'x'"),
        (b"a = [\n1,\n", "truck.toml:2: the file ends before this is complete"),
        (b"[a\nb = 1\n", "truck.toml:1: the heading isn't closed, at column 3"),
        (b"a = '\x1b[31m'", "truck.toml:1: a character that can't be there, at column 6; read 'a = '\\x1b[31m''"),
    ],
)
def test_a_text_that_cannot_be_used_is_refused_with_its_place(truck: Path, raw: bytes, told: str) -> None:
    truck.write_bytes(raw)
    assert refused(truck).startswith(told)


def test_every_number_that_cannot_be_used_is_told_in_one_pass(truck: Path) -> None:
    truck.write_text("a = nan\n[b]\nc = [1, -inf]\n")
    assert [line.split(":")[1:3] for line in refused(truck).split("\n")] == [["1", " a"], ["3", " b.c[1]"]]


def test_what_is_as_deep_and_as_large_as_may_be_is_read(truck: Path) -> None:
    name = ".".join("a" * 40)
    truck.write_text(f"{name} = 0\n[b]\nlists = {'[' * 38}{']' * 38}\nleast = {-(2**63)}\nmost = {2**63 - 1}\n")
    assert load(truck).data["b"]["least"] == -9223372036854775808  # the ends of 64 bits, as TOML 1.0 has them


def test_dots_and_brackets_in_text_and_comments_are_no_nesting(truck: Path) -> None:
    truck.write_text(f'# {"." * 300}\na = "{"." * 300}"\nb = """\n{"[" * 300}"""\n# {"[" * 300}\n')
    assert load(truck).data["a"] == "." * 300


@given(st.binary(max_size=200) | st.text("ab=.[]{}\"'\\#,\n 1-:T", max_size=80).map(str.encode))
@settings(max_examples=500)
def test_any_bytes_are_read_or_refused_and_nothing_else(raw: bytes) -> None:
    try:
        source = parse(Path("truck.toml"), raw)
    except Faulty as faulty:
        assert str(faulty).isprintable() or len(faulty.faults) > 1
    else:
        assert source.text.encode() == raw


def test_a_fault_reads_as_one_plain_line() -> None:
    fault = Fault("", ("axles", "front", "rating"), 12, "12 parsecs", "a weight such as 4,500 lb")
    line = "truck.toml:12: axles.front.rating: read '12 parsecs'; accepted: a weight such as 4,500 lb"
    assert as_line(Path("truck.toml"), fault) == line
    assert as_line(Path("truck.toml"), Fault("the file is empty")) == "truck.toml: the file is empty"


def test_nothing_in_a_fault_can_drive_the_terminal() -> None:
    fault = Fault("m\x1b[1m", ("a\x1b]0;x\a", 'b"c\\', "\u202e"), 1, "r\n\x1b[2J" * 50, "\x9b")
    line = as_line(Path("t\x1b[0m\n.toml"), fault)
    assert line.isprintable()
    assert len(line) < 600


def test_a_key_is_shown_as_toml_would_write_it() -> None:
    assert as_key(("parts", 2, "odd name", "", 'q"\\', "price")) == 'parts[2]."odd name".""."q\\"\\\\".price'
