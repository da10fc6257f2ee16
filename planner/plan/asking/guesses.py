"""A project with guesses and assumed ranges in it where nothing was measured: for a first wheel, and for nothing else.

No flag is ever read off it, and nothing of it is written down.
"""

import copy
from typing import Any

from planner.plan.answers.open_project import work_out
from planner.plan.asking.questions import ENDS, INBOARD, LARGEST, MIDDLE
from planner.plan.truck.keys import BadValue, UnknownKey, find_key, value_as_data
from planner.plan.truck.project import OpenProject
from planner.project.reading import understand
from planner.project.suspects import SUSPECTS
from planner.quantities.kinds import DISTANCE, LENGTH
from planner.quantities.show import write
from planner.quantities.text import same_name
from planner.worksheet.outcome import Known

CANDIDATE = "first"
GOALS = ("tire_for_clearance", "smallest_rim_code", "offset_for_poke", "window_width")

# What stands until it is measured. Common practice: what trucks of this kind mostly have.
ASSUMED_WHEEL = {"well_depth": "1 in ± 1/4 in", "barrel_thickness": "1/4 in ± 1/16 in"}
ASSUMED_AXLE = {("face_to_face",): "66 in ± 4 in", ("travel", "droop"): "3 in ± 1 in"}
_WIDTH_SHARE = (0.315, 0.065)  # of the diameter of a tire that is only "the largest": 9.00-20 to 37x12.50
_USUAL_CODE = 17.0  # until the brake is measured
_POINT_GUESSED = "± 1 in"


def fitment_in_mind(opened: OpenProject) -> str:
    """The candidate that questions are about: the chosen one, the first one, or one that is yet to begin."""
    return opened.project.plan.chosen or next(iter(opened.candidates), CANDIDATE)


def with_guesses(opened: OpenProject, fitment: str) -> tuple[OpenProject, frozenset[str]]:
    """The project with guesses and assumed ranges, and the keys at which they stand; itself where it needs none."""
    data = copy.deepcopy(opened.opened.data)
    guesses = {key: text for key, text in opened.project.asking.guesses.items() if text}
    marked = set[str]()
    data.setdefault("fitments", {}).setdefault(fitment, {})
    for key, text in guesses.items():
        if _put_guess(opened, data, key, text):
            marked.add(key)
    for name, text in ASSUMED_WHEEL.items():
        if _assume(data, ("fitments", fitment, "wheel", name), text):
            marked.add(f"fitments.{fitment}.wheel.{name}")
    for axle in ("rear", "front"):
        for names, text in ASSUMED_AXLE.items() if not opened.steers(axle, fitment) else ():
            if _assume(data, ("axles", axle, *names), text):
                marked.add(".".join(("axles", axle, *names)))
    if not marked and not guesses and fitment in opened.project.fitments:
        return opened, frozenset()
    # The wish is told apart from what stands in the way: it ends no window here.
    data["acceptances"] = data.get("acceptances", []) + [
        {"flag": "fit.poke_not_as_wanted", "at": f"{fitment}, {axle}", "because": "a first look"} for axle in ENDS
    ]
    guessed = _opened(opened, data)
    tire, width = f"fitments.{fitment}.tire.designation", f"fitments.{fitment}.wheel.rim_width"
    if guesses.get(tire) == LARGEST:
        marked |= _put_largest(guessed, data, fitment)
        guessed = _opened(opened, data)
    if guesses.get(width) == MIDDLE and _put_middle(guessed, data, fitment):
        marked.add(width)
        guessed = _opened(opened, data)
    return guessed, frozenset(marked)


def _opened(opened: OpenProject, data: dict[str, Any]) -> OpenProject:
    return work_out(understand(opened.opened.source._replace(data=copy.deepcopy(data))), opened.today)


def _put_guess(opened: OpenProject, data: dict[str, Any], key: str, text: str) -> bool:
    """Puts a guess where nothing was entered; a guess that cannot be read, as after an edit by hand, is passed over."""
    if text in (LARGEST, MIDDLE):
        return False
    if key.endswith(INBOARD):
        table = obstacle_entry(text, key.split(".")[1], _POINT_GUESSED)
        if table is not None:
            data.setdefault("obstacles", []).append(table)
        return table is not None
    try:
        found = find_key(opened.opened, key)
        value = value_as_data(text, found.wants, None)
    except (UnknownKey, BadValue):
        return False
    return found.value is None and _assume(data, found.key, value)


def obstacle_entry(text: str, axle: str, margin: str) -> dict[str, object] | None:
    """An obstacle from `name: ahead, inboard, up`; None where it is none. What it moves with goes by its name."""
    name, colon, places = text.rpartition(":")
    three = [one.strip() for one in places.split(",")]
    if not colon or len(three) != 3 or not name.strip() or not all(three):
        return None
    inboard = three[1][1:].strip() if three[1].startswith("-") else three[1]
    at = [three[0], f"-{inboard}", three[2]]
    like = next((one for one in SUSPECTS if same_name(one.name, name) or one.name in name.lower()), None)
    moves, kind = (like.moves_with, like.kind) if like is not None else ("body", None)
    table: dict[str, object] = {"name": name.strip(), "axle": axle, "side": "both", "moves_with": moves}
    if kind is not None:
        table["kind"] = kind
    return {**table, "at": [one if "±" in one or not margin else f"{one} {margin}" for one in at]}


def _assume(data: dict[str, Any], key: tuple[Any, ...], value: object) -> bool:
    """Puts a value where none stands; of a wheel also not where one end has its own."""
    *tables, last = key
    if key[0] == "fitments" and any(last in data["fitments"][key[1]].get(end, {}).get(key[2], {}) for end in ENDS):
        return False
    for name in tables:
        data = data.setdefault(name, {})
        if not isinstance(data, dict):
            return False
    if last in data:
        return False
    data[last] = value
    return True


def _put_largest(guessed: OpenProject, data: dict[str, Any], fitment: str) -> set[str]:
    """A tire of the largest diameter that keeps its room wherever that is known, as wide as such tires are."""
    ends = [guessed.sheet.outcome(guessed.spot(GOALS[0], fitment=fitment, axle=axle)) for axle in ENDS]
    tall = min((one.low for one in ends if isinstance(one, Known)), default=None)
    codes = [guessed.sheet.value(guessed.spot(GOALS[1], fitment=fitment, axle=axle)) for axle in ENDS]
    code = max((one for one in codes if one is not None), default=None)
    if tall is None:
        return set()
    share, half = _WIDTH_SHARE
    entries = {
        ("tire", "overall_diameter"): write(tall, LENGTH, "mm"),
        ("tire", "section_width"): f"{write(share * tall, LENGTH, 'mm')} ± {write(half * tall, DISTANCE, 'mm')}",
        ("wheel", "rim_diameter"): f"{code or _USUAL_CODE:g}",
    }
    put = {names for names, text in entries.items() if _assume(data, ("fitments", fitment, *names), text)}
    return {".".join(("fitments", fitment, *names)) for names in put} | {f"fitments.{fitment}.tire.designation"}


def _put_middle(guessed: OpenProject, data: dict[str, Any], fitment: str) -> bool:
    band, wide, least, most = (
        guessed.sheet.value(guessed.spot(node, fitment=fitment, axle="rear"))
        for node in ("rim_width_band", "section_width", "narrowest_rim_ratio", "widest_rim_ratio")
    )
    if band is None and wide is None:
        return False
    ends = (band.low, band.high) if band is not None else (wide * least, wide * most)
    half_inches = round(sum(ends) / 0.0254)
    return _assume(data, ("fitments", fitment, "wheel", "rim_width"), f"{half_inches / 2:g} in")
