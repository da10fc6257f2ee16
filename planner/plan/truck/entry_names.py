"""Names that people use in place of keys: `rear brake radius`, `front spring pack's position`."""

from collections.abc import Mapping
from typing import Any

from planner.project.changes import rows_at
from planner.project.lines import Key
from planner.quantities.text import clean, normal_name

ENDS = ("front", "rear")
_TABLES = {"studs": "stud", "nuts": "nut", "transfer": "transfer case"}
_PLAIN = {  # where the words of the key are not what people say
    ("axle", "tires"): "number of {end} tires",
    ("axle", "face_to_face"): "width between the {end} hub faces",
    ("axle", "camber"): "camber",
    ("axle", "toe"): "toe",
    ("axle", "ride_height"): "ride height",
    ("axle", "suspension"): "suspension",
    ("axle", "differential"): "differential",
    ("axle", "hub_ratio"): "hub reduction",
    ("axle", "lift"): "lift",
    ("axle", "driveshaft_angle"): "driveshaft joint angle",
    ("steering", "drag_link_angle"): "drag link angle",
    ("studs", "count"): "number of {end} studs",
    ("studs", "circle"): "bolt circle",
    ("studs", "points"): "stud centers",
    ("kingpin", "track"): "kingpin spacing",
    ("steering", "stop_angle"): "stop angle",
    ("steering", "stop_angle_out"): "stop angle of the outer wheel",
    ("steering", "stop_arm"): "stop arm",
    ("travel", "bump"): "bump travel",
    ("travel", "droop"): "droop travel",
    ("travel", "stops_apart"): "bump stop spacing",
    ("travel", "droop_apart"): "droop limit spacing",
    ("travel", "most_cross_travel"): "most cross travel",
    ("travel", "side_shift"): "side shift",
    ("travel", "bump_gives"): "bump stop give",
    ("fender", "axle_to_fender"): "axle center to fender",
    ("fender", "face_to_edge"): "hub face to fender edge",
    ("fender", "clearance"): "room wanted in the {end} fender",
    ("fender", "wanted_poke"): "wanted poke",
    ("fender", "greatest_poke"): "greatest poke",
    ("fender", "ahead"): "fender opening ahead",
    ("fender", "up_ahead"): "fender opening up ahead",
    ("fender", "top"): "fender opening at the top",
    ("fender", "up_behind"): "fender opening up behind",
    ("fender", "behind"): "fender opening behind",
    ("wheel", "stud_circle"): "wheel bolt circle",
    ("tire", "designation"): "tire size",
    ("wheel", "rim_diameter"): "rim diameter",
    ("wheel", "rim_width"): "rim width",
    ("vehicle", "name"): "truck's name",
    ("vehicle", "description"): "truck's description",
    ("vehicle", "year"): "truck's year",
    ("plan", "chosen"): "chosen set",
    ("plan", "budget"): "budget",
    ("plan", "hours_a_week"): "hours a week",
}
OF_OBSTACLES = {"at": "position", "to": "other end", "wants": "room wanted", "moves_with": "mounting"}
_AXES = ("forward", "outboard", "up")
_LISTED = {"obstacles": ("name",), "parts": ("title", "id")}
_ALIKE = {"bolt": "stud", "bolts": "studs", "tyre": "tire", "tyres": "tires"}
_LONG = 24  # letters of a title; one that is longer goes by its id, where it has one
_FILLERS = frozenset(("the", "of", "a", "an", "s", "set", "at", "in", "to", "for", "and"))


def name_of(key: Key, data: Mapping[str, Any]) -> str:
    """What people call the entry at a key of this file; empty where the key itself is as good."""
    head, rest = key[0], key[1:]
    if str(key[-1]).startswith("<"):  # any of a table's own names
        return ""
    if head == "axles" and len(rest) in (2, 3) and rest[0] in ENDS:
        words = _inner(rest[1:] if len(rest) == 3 else ("axle", *rest[1:]))
        return words.format(end=rest[0]) if "{end}" in words else f"{rest[0]} {words}"
    if head == "fitments" and len(rest) > 1:
        owner = "found" if rest[0] == "found" else f"{clean(str(rest[0]))} set's"
        inner = rest[2:] if rest[1] in ENDS else rest[1:]
        end = f"{rest[1]} " if rest[1] in ENDS else ""
        return f"{owner} {end}{_inner(inner)}" if 0 < len(inner) < 3 else ""
    if head in _LISTED and len(rest) > 1 and isinstance(rest[0], int):
        return _listed(str(head), rest, data)
    if head == "drivetrain" and rest[:1] == ("gearbox",):
        return f"{rest[1]} gear ratio" if len(rest) == 2 else ""
    if head in ("vehicle", "use", "drivetrain", "plan") and len(rest) == 1:
        return _PLAIN.get((str(head), str(rest[0])), "" if head == "plan" else _words(rest[0]))
    if head in ("vehicle", "drivetrain") and len(rest) == 2:
        return _inner(rest[1:] if rest[0] == "ends" else rest)
    of = {"legal": "legal", "wishes": "wished"}.get(str(head), "") if len(rest) == 1 else ""
    return f"{of} {_words(rest[0])}" if of else ""


def lasting_name(key: Key) -> str:
    """What people call the entry at a key, in whatever state of the file; empty for one in a list, which may shift."""
    return "" if any(isinstance(part, int) for part in key) else name_of(key, {})


def _inner(parts: Key) -> str:
    """The words of an entry of a table, with the table before it."""
    table, field = (parts[0], parts[-1]) if len(parts) == 2 else ("", parts[0])
    plain = _PLAIN.get((str(table), str(field)))
    return plain or " ".join(filter(None, (_TABLES.get(str(table), _words(table)), _words(field))))


def _words(name: str | int) -> str:
    return clean(str(name)).replace("_", " ")


def _listed(head: str, rest: Key, data: Mapping[str, Any]) -> str:
    """An entry of an obstacle or a part by what that is called; empty where two are called so."""
    owners = [_owner(one, _LISTED[head]) for one in rows_at(data, (head,))]
    owner = owners[rest[0]] if isinstance(rest[0], int) and rest[0] < len(owners) else ""
    if (
        not owner
        or list(map(normal_name, owners)).count(normal_name(owner)) > 1
        or len(rest) > 3
        or len(rest) == 3
        and rest[1] not in ("at", "to")
    ):
        return ""
    label = OF_OBSTACLES.get(str(rest[1])) if head == "obstacles" else None
    label = label or _words(rest[1])
    label = f"{_AXES[int(rest[2])]} {label}" if len(rest) == 3 and int(rest[2]) < len(_AXES) else label
    return f"{label} of the {owner}" if "," in owner else f"{owner}'{'' if owner.endswith('s') else 's'} {label}"


def _owner(table: Mapping[str, Any], names: tuple[str, ...]) -> str:
    called = [clean(table[one].strip()) for one in names if isinstance(table.get(one), str) and normal_name(table[one])]
    name = next((one for one in called if len(one) <= _LONG or len(names) == 1), called[-1] if called else "")
    axle = table.get("axle")
    return f"{axle} {name}" if name and axle in ENDS and not name.startswith(f"{axle} ") else name


def said(words: str) -> tuple[str, ...]:
    """The words of a name by which it is known, in whatever order they come."""
    plain = "".join(mark if mark.isalnum() or mark in ".½-" else " " for mark in words.casefold())
    return tuple(sorted(_ALIKE.get(word, word) for word in plain.split() if word not in _FILLERS))
