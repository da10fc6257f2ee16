"""One entry of a project's diary: what it says, the line it stands on, and how its text is packed into it.

A line begins with the SHA-256 of all that follows in it, and what follows names the sum of the line before: a flipped
byte spoils its own line and no other, and a line taken out, put in or moved shows. The sums guard against accidents,
not against a person who forges.
"""

import binascii
import datetime
import json
import tomllib
import zlib
from collections.abc import Iterator, Mapping
from hashlib import sha256
from typing import Any, NamedTuple

from planner.project.changes import same
from planner.project.lines import Key
from planner.project.source import DEEPEST, LARGEST_FILE

DIARY_FORMAT = 2  # of a line; in the first there was no number
LONGEST_LINE = 1024 * 1024  # bytes; the largest project, packed whole, is a third of it
LARGEST_MOVED = 128 * 1024  # characters of JSON; of a change beyond it what fits is listed, the texts hold the rest
WHOLE_EVERY = 50  # entries; what is damaged costs at most so many texts, and a text takes so many steps to make

_HEAD = b'{"sum":"'
_SUM_END = len(_HEAD) + 64
_BODY = _SUM_END + 2
_PIECE = 16 * 1024  # what is packed against 32 KB of the text before, the most that the packing can look back on
_AROUND = 8 * 1024


class NewerEntry(ValueError):
    """An entry that a newer program wrote: nothing of it may be guessed."""


class KeyChange(NamedTuple):
    """A key that moved, with its values as plain TOML data; None where it was not there, or is no longer."""

    key: Key
    was: Any
    now: Any


class Packed(NamedTuple):
    """How to make the text after an entry: `blob` is all of it, or what stands between bytes kept from the old one.

    `keep` counts those at the start and at the end; None where the text is whole.
    """

    blob: str
    keep: tuple[int, int] | None


class DiaryEntry(NamedTuple):
    """One entry: when (UTC), what kind, why, what moved, and the digests of the project's bytes before and after it.

    `left_out` counts keys that moved and are not in `moved`, since it grew too long; `packed` is None where the text
    stayed as it was; `since` counts the entries since one whose text is whole.
    """

    number: int
    at: str
    kind: str
    because: str
    moved: tuple[KeyChange, ...]
    left_out: int
    details: dict[str, Any]
    before: str
    after: str
    packed: Packed | None
    since: int
    previous: str
    sum: str


def line_for(
    number: int,
    at: str,
    kind: str,
    because: str,
    moved: tuple[KeyChange, ...],
    details: Mapping[str, object],
    before: str,
    after: str,
    packed: Packed | None,
    since: int,
    previous: str,
) -> tuple[bytes, DiaryEntry]:
    """The line of an entry, its end included, and the entry as it will be read; `ValueError` if it would not be."""
    listed, length = [], 0
    for one in moved:
        listed.append([list(one.key), _as_json(one.was), _as_json(one.now)])
        length += len(json.dumps(listed[-1]))
        if length > LARGEST_MOVED:
            listed.pop()
            break
    body: dict[str, Any] = {"previous": previous, "format": DIARY_FORMAT, "number": number, "at": at, "kind": kind}
    body |= {"because": because}
    body |= {"moved": listed, "left_out": len(moved) - len(listed), "details": _as_json(details)}
    body |= {"before": before, "after": after, "text": packed, "since": since}
    rest = json.dumps(body, separators=(",", ":"), allow_nan=False).encode("ascii")[1:]
    row = _HEAD + sha256(rest).hexdigest().encode("ascii") + b'",' + rest
    if len(row) >= LONGEST_LINE:
        raise ValueError("the entry is too long")
    return row + b"\n", entry_in(row)


def entry_in(row: bytes) -> DiaryEntry:
    """The entry in a line; `ValueError` says why there is none, `NewerEntry` that a newer program wrote it."""
    row = row.rstrip(b"\r\n")
    if not row.startswith(_HEAD) or row[_SUM_END:_BODY] != b'",' or len(row) > LONGEST_LINE:
        raise ValueError("it isn't a diary entry")
    if sha256(row[_BODY:]).hexdigest().encode("ascii") != row[len(_HEAD) : _SUM_END]:
        raise ValueError("its checksum does not match")
    try:
        body = json.loads(row.decode("ascii"))
        if _count(body.get("format", 1)) > DIARY_FORMAT:
            raise NewerEntry(f"a newer program wrote it (format {body['format']})")
        return _built(body)
    except NewerEntry:
        raise
    except (ValueError, TypeError, KeyError, AttributeError, RecursionError):
        raise ValueError("the planner doesn't write them like that") from None


def _built(body: dict[str, Any]) -> DiaryEntry:
    """The entry in a line's data, which anyone may have written; raises anything but a wrong entry."""
    moved = [KeyChange(_key(key), _from_json(was), _from_json(now)) for key, was, now in body["moved"]]
    details = _from_json(body["details"])
    number, left_out = _count(body["number"]), _count(body["left_out"])
    texts = [body[name] for name in ("at", "kind", "because", "before", "after", "previous", "sum")]
    if set(map(type, texts)) != {str} or not isinstance(details, dict):
        raise TypeError
    at, kind, because, before, after, previous, own = texts
    packed = None
    if body["text"] is not None:
        blob, keep = body["text"]
        if not isinstance(blob, str):
            raise TypeError
        packed = Packed(blob, None if keep is None else (_count(keep[0]), _count(keep[1])))
    since = _count(body["since"])
    return DiaryEntry(
        number, at, kind, because, tuple(moved), left_out, details, before, after, packed, since, previous, own
    )


def _count(value: Any) -> int:
    if type(value) is not int or not 0 <= value < 2**53:
        raise ValueError
    return value


def _key(value: Any) -> Key:
    if not isinstance(value, list) or not set(map(type, value)) <= {str, int}:
        raise TypeError
    return tuple(value)


def _as_json(value: Any) -> Any:
    """Plain TOML data as JSON: a date becomes {"toml": "2024-05-31"}, a table that looks so is wrapped again."""
    if isinstance(value, (datetime.date, datetime.time)):
        return {"toml": value.isoformat()}
    if isinstance(value, Mapping):
        table = {str(name): _as_json(inner) for name, inner in value.items()}
        return {"toml": table} if table.keys() == {"toml"} else table
    return [_as_json(inner) for inner in value] if isinstance(value, (list, tuple)) else value


def _from_json(value: Any, depth: int = 0) -> Any:
    if depth > 2 * DEEPEST + 2:
        raise ValueError
    if isinstance(value, list):
        return [_from_json(inner, depth + 1) for inner in value]
    if not isinstance(value, dict):
        return value
    if value.keys() == {"toml"}:
        if isinstance(value["toml"], str) and len(value["toml"]) <= 40:
            moment = tomllib.loads(f"moment = {value['toml']}")["moment"]
            if isinstance(moment, (datetime.date, datetime.time)):
                return moment
        value = value["toml"]
        if not isinstance(value, dict):
            raise TypeError
    return {name: _from_json(inner, depth + 1) for name, inner in value.items()}


def key_changes(key: Key, old: Any, new: Any) -> Iterator[KeyChange]:
    """The keys that moved between two states of plain TOML data; what is in a list where it was taken out or put in."""
    if same(old, new):
        return
    if isinstance(old, dict) and isinstance(new, dict):
        for name in [*old, *(name for name in new if name not in old)]:
            yield from key_changes((*key, name), old.get(name), new.get(name))
    elif isinstance(old, list) and isinstance(new, list):
        shorter = min(len(old), len(new))
        start = next((at for at in range(shorter) if not same(old[at], new[at])), shorter)
        end = next((at for at in range(shorter - start) if not same(old[-1 - at], new[-1 - at])), shorter - start)
        for at in range(start, shorter - end):
            yield from key_changes((*key, at), old[at], new[at])
        yield from (KeyChange((*key, at), old[at], None) for at in range(shorter - end, len(old) - end))
        yield from (KeyChange((*key, at), None, new[at]) for at in range(shorter - end, len(new) - end))
    else:
        yield KeyChange(key, old, new)


def pack(old: bytes | None, new: bytes) -> Packed:
    """How to make the new text of the old one; whole where none is given, and where whole is shorter.

    The time is linear in the length, whatever the texts.
    """
    whole = Packed(_deflated(new, b""), None)
    if old is None:
        return whole
    start = _alike(old, new)
    end = _alike(old[start:][::-1], new[start:][::-1])
    cut = old[start : len(old) - end]
    part = Packed(_deflated(new[start : len(new) - end], cut), (start, end))
    return part if len(part.blob) < len(whole.blob) else whole


def unpack(packed: Packed, old: bytes) -> bytes:
    """The text, made of the one before; `ValueError` if what is packed cannot be opened or is too large."""
    start, end = packed.keep or (0, 0)
    if start + end > len(old):
        raise ValueError("it keeps more than there was")
    middle = _inflated(packed.blob, old[start : len(old) - end] if packed.keep else b"")
    return old[:start] + middle + old[len(old) - end :]


def _alike(one: bytes, other: bytes) -> int:
    """How many bytes are the same at the start of both."""
    low, high = 0, min(len(one), len(other))
    while low < high:
        middle = (low + high + 1) // 2
        if one[low:middle] == other[low:middle]:
            low = middle
        else:
            high = middle - 1
    return low


def _deflated(text: bytes, near: bytes) -> str:
    """The text in pieces, each against what stood about there before: a line far from another costs no more than it."""
    blob = b""
    for at in range(0, len(text), _PIECE):
        packing = zlib.compressobj(9, wbits=-15, zdict=near[max(0, at - _AROUND) : at + _PIECE + _AROUND])
        blob += packing.compress(text[at : at + _PIECE]) + packing.flush()
    return binascii.b2a_base64(blob, newline=False).decode("ascii")


def _inflated(blob: str, near: bytes) -> bytes:
    rest, text = binascii.a2b_base64(blob, strict_mode=True), b""
    while rest:
        at = len(text)
        packing = zlib.decompressobj(wbits=-15, zdict=near[max(0, at - _AROUND) : at + _PIECE + _AROUND])
        try:
            piece = packing.decompress(rest, _PIECE + 1)
        except zlib.error:
            raise ValueError("it cannot be opened") from None
        if not packing.eof or not 0 < len(piece) <= _PIECE or at + len(piece) > LARGEST_FILE:
            raise ValueError("it is cut off, or too large")
        text, rest = text + piece, packing.unused_data
    return text
