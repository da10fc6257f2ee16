"""Valid project files turned hostile: a seed and a number give the same bytes each time."""

import random
import re
from collections.abc import Callable
from pathlib import Path
from typing import NamedTuple

PROJECTS = Path(__file__).parents[2] / "projects"
BASES = {path.stem: path.read_bytes() for path in sorted(PROJECTS.glob("*.toml"))}
# The large one takes its time.
_SHARES = {"just-begun": 6, "forestry-4x4": 3, "quarry-flatbed": 2, "county-road-4x4": 1}

Chance = random.Random

# As TOML writes them: of the wrong type, out of range, nothing that anybody can calculate with, or up to no good.
NUMBERS = (
    """nan inf -inf +nan 1e400 -1e400 0 -0.0 -1 1 3 1e308 -1e308 5e-324 1e-320 0.1 1e15 1e16 9223372036854775807
9223372036854775808 -9223372036854775808 0xdeadbeef 0o777 0b1 1_000 true false 1979-05-27 0001-01-01 9999-12-31
1979-05-27T07:32:00Z 07:32:00 [] [[]] {} [1,2,3] {a=1} [{}] [nan]""".split()  # noqa: SIM905
    + [
        "1" + "0" * 400,
        "9" * 5000,
        "0x" + "f" * 5000,
        "[" * 30 + "]" * 30,
        "[" * 100 + "]" * 100,
        "{a=" * 30 + "1" + "}" * 30,
    ]
)
QUANTITIES = """12 parsecs|12 kg|1/0 in|1e400 in|nan in|inf in|-inf in|9**9**9 m|1 in ± 1e9 in|0 in|-5 in|1e308 in
1e-300 in|5 in ± nan in|5 in ± 5 in|5 in ± 500 %|٣ in|５ in|½½ in|1e6 km|1e-9 in|90 deg|89.9999 deg|-90 deg
45 deg|180 deg|0 deg|1e9 lb|0 lb|-1 kg|0 %|100 %|-100 %|1e6 %|0 rpm|1e9 rpm|0 mph|1e9 mph|1e300 kg|0|1|-1|1e308|0.000001
9|99999999|0 weeks|1e9 weeks|99999999 weeks|-3 h|0 h|1e9 h|3 weeks|0:1|1:0|4.10:1|0 psi|1e12 psi|-5 psi|1e300 psi
|front|rear|found|both|yes|no|radial|cone|multi|9999|0000|5399|5325|00A5|LT235/85R16|7.50-16 C|37x12.50R17LT
0/0R0|999/99R99|1x1R1|6.50-16|11R22.5|LT0/0R0|235/85R16 120/116Q|P235/75R15|335/80R20 147K|0x0-0|1/1R999""".replace(
    "\n", "|"
).split("|")
TEXTS = [
    "",
    " ",
    "\x1b[31mred\x1b[0m",
    "\x1b]0;title\x07",
    "\x9b31m",
    "\u202eright to left",
    "\u2066x\u2069",
    "zero\u200bwidth",
    "\0",
    "two\nlines",
    "tab\tstop",
    "\r",
    "\x7f",
    "=cmd|' /C calc'!A0",
    "+1+1",
    "@SUM(A1)",
    "-2+3",
    "[red]x[/red]",
    "[@click=app.quit]x[/]",
    '#let x = 1; #read("/etc/passwd")',
    "<script>alert(1)</script>",
    "{0.__class__}",
    "%s%n",
    "$(reboot)",
    "`reboot`",
    "'; drop table",
    "../../../../etc/passwd",
    "ﷺ" * 50,
    "a" * 10_000,
    "é\u0301" * 200,
    "\U0001f600",
    "\ufeff",
    "\ue000",
    "\u2028",
    "long " * 1000,
    "\U000e0041",
]
_ESCAPES = {'"': '\\"', "\\": "\\\\"}
_RAW = [b"\0", b"\x1b[2J", b"\xff", b"\xe9", b"\xc3\x28", b"\xed\xa0\x80", b"\xef\xbb\xbf", "\u202e".encode(), b"\r"]
_RAW += [
    b"\x07",
    b"\x7f",
    b"\xc2\x85",
    "\u2028".encode(),
    b'"',
    b"'",
    b"[",
    b"]",
    b"=",
    b"#",
    b"\\",
    b'"""',
    b"{",
    b".",
]

_ENTRY = re.compile(r'^(\s*)([A-Za-z0-9_."-]+)(\s*=\s*)([^#\n]*?)(\s*(?:#.*)?)$')
_NUMBER = re.compile(r"\d+(?:\.\d+)?")


class Hostile(NamedTuple):
    """A file, and what was done to make it so."""

    raw: bytes
    told: tuple[str, ...]
    base: str


def hostile(seed: int, number: int) -> Hostile:
    """The case of that number in the run of that seed."""
    chance = random.Random(seed * 1_000_003 + number)
    base = chance.choices(list(_SHARES), list(_SHARES.values()))[0]
    raw, told = BASES[base], []
    for _ in range(chance.choice((1, 1, 1, 1, 2, 2, 3, 6))):
        change = chance.choices(_CHANGES, _WEIGHTS)[0]
        raw = change(chance, raw)[:400_000]
        told.append(change.__name__.strip("_"))
    return Hostile(raw, tuple(told), base)


def as_toml(text: str) -> str:
    """The text as TOML writes it, escapes and all."""
    return '"' + "".join(_ESCAPES.get(mark, mark if mark.isprintable() else _escaped(mark)) for mark in text) + '"'


def _escaped(mark: str) -> str:
    return f"\\u{ord(mark):04x}" if ord(mark) < 0x10000 else f"\\U{ord(mark):08x}"


def odd_value(chance: Chance) -> str:
    """A value that has no business there, most likely."""
    return chance.choice(
        (
            lambda: chance.choice(NUMBERS),
            lambda: as_toml(chance.choice(QUANTITIES)),
            lambda: as_toml(chance.choice(TEXTS)),
            lambda: f"[{', '.join(as_toml(chance.choice(QUANTITIES)) for _ in range(chance.randrange(5)))}]",
        )
    )()


def _rows(raw: bytes) -> list[str]:
    return raw.decode("utf-8", errors="surrogateescape").split("\n")


def _bytes(rows: list[str]) -> bytes:
    return "\n".join(rows).encode("utf-8", errors="surrogateescape")


def _with_a_value(chance: Chance, raw: bytes, value: Callable[[str], str]) -> bytes:
    rows = _rows(raw)
    places = [at for at, row in enumerate(rows) if _ENTRY.match(row)]
    if places:
        at = chance.choice(places)
        found = _ENTRY.match(rows[at])
        assert found is not None
        rows[at] = f"{found[1]}{found[2]}{found[3]}{value(found[4])}{found[5]}"
    return _bytes(rows)


def _odd_values(chance: Chance, raw: bytes) -> bytes:
    return _with_a_value(chance, raw, lambda old: odd_value(chance))


def _other_numbers(chance: Chance, raw: bytes) -> bytes:
    """The same unit and the same form, and another number: what only the sums can stumble over."""
    odd = ("0", "1", "-1", "1e9", "1e-9", "0.001", "999999", "12", "7", "100", "1e300", "-40")

    def other(old: str) -> str:
        return _NUMBER.sub(lambda found: chance.choice(odd) if chance.random() < 0.7 else found[0], old, count=1)

    for _ in range(chance.choice((1, 3, 12))):
        raw = _with_a_value(chance, raw, other)
    return raw


def _values_of_others(chance: Chance, raw: bytes) -> bytes:
    values = [found[4] for row in _rows(raw) if (found := _ENTRY.match(row))] or ["1"]
    return _with_a_value(chance, raw, lambda old: chance.choice(values))


def _bytes_put_in(chance: Chance, raw: bytes) -> bytes:
    at = chance.randrange(len(raw) + 1)
    return raw[:at] + chance.choice(_RAW) * chance.choice((1, 1, 1, 3, 50)) + raw[at + chance.choice((0, 0, 1, 9)) :]


def _cut_off(chance: Chance, raw: bytes) -> bytes:
    return raw[: chance.randrange(len(raw) + 1)]


def _rows_lost(chance: Chance, raw: bytes) -> bytes:
    rows = _rows(raw)
    for _ in range(chance.choice((1, 1, 5, 40))):
        if rows:
            del rows[chance.randrange(len(rows))]
    return _bytes(rows)


def _rows_moved(chance: Chance, raw: bytes) -> bytes:
    rows = _rows(raw)
    at, to = chance.randrange(len(rows)), chance.randrange(len(rows))
    span = chance.choice((1, 1, 4, 20))
    piece = rows[at : at + span]
    if chance.random() < 0.5:
        del rows[at : at + span]
    rows[to:to] = piece
    return _bytes(rows)


def _names_changed(chance: Chance, raw: bytes) -> bytes:
    rows = _rows(raw)
    at = chance.randrange(len(rows))
    odd = ("x", "", "a.b", "front", "found", '"odd name"', as_toml(chance.choice(TEXTS)), "a" * 200, "weelbase", "0")
    rows[at] = re.sub(r"[A-Za-z_]+", lambda found: chance.choice(odd), rows[at], count=1)
    return _bytes(rows)


def _many(chance: Chance, raw: bytes) -> bytes:
    """Much of one thing, up to what the largest file holds."""
    count = chance.choice((30, 300, 3000, 20_000))
    one = chance.choice(
        (
            "k{n} = 1\n",
            "[fitments.f{n}]\n",
            '[fitments.f{n}.tire]\ndesignation = "7.50-16"\n',
            '[[obstacles]]\naxle = "front"\nmoves_with = "body"\nat = ["1 in", "-7 in", "6 in"]\n',
            '[[tasks]]\nid = "own.t{n}"\nafter = ["own.t{m}"]\ntakes = "1 h"\n',
            '[[parts]]\nid = "p{n}"\nprice = 1\n',
            '[[readings]]\nof = "vehicle.wheelbase"\n',
            '[[decisions]]\nquestion = "q{n}"\n[decisions.rested_on]\n"vehicle.wheelbase" = "1 in"\n',
            "[[sheets]]\nnumber = {n}\n",
            "[drivetrain.gearbox]\n" + "".join(f"g{{n}}{n} = {n}.5\n" for n in range(1, 9)),
            "[a{n}.b.c]\n",
            "# {n}\n",
            "\n",
        )
    )
    return raw + b"\n" + "".join(one.format(n=n, m=n + 1) for n in range(count)).encode()[:240_000]


def _deep(chance: Chance, raw: bytes) -> bytes:
    depth = chance.choice((5, 39, 41, 500, 50_000))
    one = chance.choice(
        (
            b"deep = " + b"[" * depth + b"]" * depth,
            b"deep = " + b"{a = " * depth + b"1" + b"}" * depth,
            b"d" + b".d" * depth + b" = 1",
            b"[d" + b".d" * depth + b"]",
            b"deep = " + b"[" * depth,
        )
    )
    rows = raw.split(b"\n")
    rows.insert(chance.randrange(len(rows)), one)
    return b"\n".join(rows)


def _other_encoding(chance: Chance, raw: bytes) -> bytes:
    text = raw.decode("utf-8", errors="replace")
    return chance.choice(
        (
            lambda: b"\xef\xbb\xbf" + raw,
            lambda: raw.replace(b"\n", b"\r\n"),
            lambda: raw.replace(b"\n", b"\r"),
            lambda: text.encode("latin-1", errors="replace"),
            lambda: text.encode("utf-16"),
            lambda: text.encode("cp1252", errors="replace"),
            lambda: b"\xef\xbb\xbf" * 2 + raw,
            lambda: raw + b"\x1a",
            lambda: b"",
            lambda: b"\0" * 100,
        )
    )()


_CHANGES = (
    _odd_values,
    _other_numbers,
    _values_of_others,
    _bytes_put_in,
    _cut_off,
    _rows_lost,
    _rows_moved,
    _names_changed,
    _many,
    _deep,
    _other_encoding,
)
_WEIGHTS = (24, 16, 12, 10, 4, 6, 8, 8, 4, 3, 5)
