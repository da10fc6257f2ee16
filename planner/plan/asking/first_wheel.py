"""A first wheel out of few answers: the largest tire, the rim code, and a backspace with its window.

It is worked out on a project of its own, in which guesses and assumed ranges stand where nothing was measured. No flag
is ever read off that project, and nothing of it is written down.
"""

import copy
import re
from collections.abc import Iterator
from typing import Any, NamedTuple

from planner.plan.answers.impossible import entries_behind
from planner.plan.answers.open_project import work_out
from planner.plan.asking.plain_questions import people_name
from planner.plan.asking.questions import ENDS, INBOARD, LARGEST, MIDDLE
from planner.plan.change.changing import today
from planner.plan.fit.fit_windows import RIM
from planner.plan.truck.keys import BadValue, UnknownKey, find_key, value_as_data
from planner.plan.truck.project import OpenProject
from planner.plan.truck.wording import shown
from planner.project.reading import understand
from planner.project.suspects import SUSPECTS
from planner.quantities.kinds import DISTANCE, LENGTH, POSITION
from planner.quantities.show import show, show_plain, write
from planner.quantities.show_range import show_range
from planner.quantities.text import clean, same_name
from planner.worksheet.outcome import Failed, Known, Spot, Waiting

CANDIDATE = "first"
GOALS = ("tire_for_clearance", "smallest_rim_code", "offset_for_poke", "window_width")
OF_FIRST_WHEEL = frozenset({*GOALS, "rim_width_band", "overall_width", "section_width"})

# What stands until it is measured. Common practice: what trucks of this kind mostly have.
_ASSUMED_WHEEL = {"well_depth": "1 in ± 1/4 in", "barrel_thickness": "1/4 in ± 1/16 in"}
_ASSUMED_AXLE = {("face_to_face",): "66 in ± 4 in", ("travel", "droop"): "3 in ± 1 in"}
_WIDTH_SHARE = (0.315, 0.065)  # of the diameter of a tire that is only "the largest": 9.00-20 to 37x12.50
_USUAL_CODE = 17.0  # until the brake is measured
_POINT_GUESSED = "± 1 in"
_WELL = "the wheel maker's drop center and barrel thickness"
_KEY = re.compile(r" \([a-z_]+\.[a-z_.]+\)")  # of an entry, behind its name


class WheelLine(NamedTuple):
    """One thing that is known of the first wheel, and what it takes to know it better; a guess where any of it is."""

    name: str
    value: str
    guess: bool
    sharper: str = ""

    @property
    def says(self) -> str:
        return f"{self.name}: {self.value}{' (guess)' if self.guess else ''}"


class FirstWheel(NamedTuple):
    """What few answers say of the wheel at one axle, and the entries that it still waits for, in the order of use."""

    axle: str
    fitment: str
    lines: tuple[WheelLine, ...]
    needs: tuple[str, ...]


def fitment_in_mind(opened: OpenProject) -> str:
    """The candidate that questions are about: the chosen one, the first one, or one that is yet to begin."""
    return opened.project.plan.chosen or next(iter(opened.candidates), CANDIDATE)


def first_wheels(opened: OpenProject) -> tuple[FirstWheel, ...]:
    """The wheel at each axle, an axle that does not steer before one that does: there is less to ask of it."""
    fitment = fitment_in_mind(opened)
    guessed, marked = with_guesses(opened, fitment)
    axles = sorted(("rear", "front"), key=lambda axle: guessed.steers(axle, fitment))
    return tuple(_wheel(guessed, marked, fitment, axle) for axle in axles)


def _wheel(guessed: OpenProject, marked: frozenset[str], fitment: str, axle: str) -> FirstWheel:
    needs: dict[str, None] = {}
    for node in GOALS:
        spot = guessed.spot(node, fitment=fitment, axle=axle)
        outcome = guessed.sheet.outcome(spot)
        if isinstance(outcome, Waiting) and not outcome.barred:
            found = (*outcome.needs, *outcome.either)
            needs.update(dict.fromkeys(key for need in found for key in guessed.keys_needed(need)))
        elif node == GOALS[-1]:  # it may be known on one side only
            needs.update(dict.fromkeys(_unmeasured_side(guessed, fitment, axle)))
    answers = tuple(f"fitments.{fitment}.wheel.{name}" for name in ("backspace", "offset", "rim_diameter"))
    left = tuple(key for key in needs if key not in answers)  # these are what is answered
    return FirstWheel(axle, fitment, tuple(_lines(guessed, marked, fitment, axle)), left)


def _unmeasured_side(guessed: OpenProject, fitment: str, axle: str) -> tuple[str, ...]:
    return guessed.swept.needs.get(guessed.spot("window_width", fitment=fitment, axle=axle), ())


# the project with guesses in it


def with_guesses(opened: OpenProject, fitment: str) -> tuple[OpenProject, frozenset[str]]:
    """The project with guesses and assumed ranges, and the keys at which they stand; itself where it needs none."""
    data = copy.deepcopy(opened.opened.data)
    guesses = {key: text for key, text in opened.project.asking.guesses.items() if text}
    marked = set[str]()
    data.setdefault("fitments", {}).setdefault(fitment, {})
    for key, text in guesses.items():
        if _put_guess(opened, data, key, text):
            marked.add(key)
    for name, text in _ASSUMED_WHEEL.items():
        if _assume(data, ("fitments", fitment, "wheel", name), text):
            marked.add(f"fitments.{fitment}.wheel.{name}")
    for axle in ("rear", "front"):
        for names, text in _ASSUMED_AXLE.items() if not opened.steers(axle, fitment) else ():
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
    return work_out(understand(opened.opened.source._replace(data=copy.deepcopy(data))), today(opened))


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


# what it says


def _lines(guessed: OpenProject, marked: frozenset[str], fitment: str, axle: str) -> Iterator[WheelLine]:
    def at(node: str) -> Spot:
        return guessed.spot(node, fitment=fitment, axle=axle)

    def is_guess(node: str) -> bool:
        return any(guessed.key_of(one) in marked for one in entries_behind(guessed.sheet, at(node), guessed.keys))

    style = guessed.style
    tall, code, poke = (guessed.sheet.outcome(at(node)) for node in GOALS[:3])
    if isinstance(tall, Known):
        low, high = show_range(tall.low, tall.high, (LENGTH, LENGTH), style, beside=False)
        told = f"about {show(tall.value, LENGTH, style, 0.0, beside=False)}, {low} to {high}"
        yield WheelLine(f"largest tire, {axle}", told, is_guess(GOALS[0]), _sharper(guessed, marked, at(GOALS[0])))
    elif isinstance(tall, Failed):
        yield WheelLine(f"largest tire, {axle}", f"cannot be: {clean(tall.why)}", is_guess(GOALS[0]))
    if isinstance(code, Known):
        guess = is_guess(GOALS[1])
        told = f"{code.value:g}{f' ({code.low:g} to {code.high:g})' if code.low < code.high else ''}"
        yield WheelLine(f"smallest rim, {axle}", told, guess, _WELL if guess else "")
    band, wide = (guessed.sheet.value(at(node)) for node in ("rim_width_band", "overall_width"))
    if band is not None and (isinstance(tall, Known) or isinstance(poke, Known)):
        low, high = show_range(band.low, band.high, (LENGTH, LENGTH), style, beside=False)
        yield WheelLine(f"rim width for the {axle} tire", f"{low} to {high}", is_guess("rim_width_band"))
    if isinstance(poke, Known) and wide is not None:
        ends = show_range(poke.low + wide / 2, poke.high + wide / 2, (POSITION, POSITION), style, beside=False)
        chosen = (f"fitments.{fitment}.tire.section_width", f"fitments.{fitment}.wheel.rim_width")
        guess = is_guess(GOALS[2]) or any(key in marked for key in chosen)
        told = f"{show(poke.value + wide / 2, POSITION, style, 0.0, beside=False)}, {ends[0]} to {ends[1]}"
        sharper = _sharper(guessed, marked, at(GOALS[2]))
        yield WheelLine(f"backspace for the poke you want, {axle}", told, guess, sharper)
        yield from _window(guessed, marked, fitment, axle, poke.value + wide / 2)


def _window(guessed: OpenProject, marked: frozenset[str], fitment: str, axle: str, wish: float) -> Iterator[WheelLine]:
    """What obstacles and limits leave; its outboard end is the wish where nothing else ends it."""

    def at(node: str) -> Spot:
        return guessed.spot(node, fitment=fitment, axle=axle)

    style = guessed.style
    low, high = (guessed.sheet.value(at(node)) for node in ("window_low", "window_high"))
    guess = any(key.startswith((f"axles.{axle}.", f"obstacles.{axle}.", f"fitments.{fitment}.")) for key in marked)
    sources = guessed.swept.tolerance_sources.get(at("window_width"), ())
    assumed = [key for key in _ASSUMED_AXLE if ".".join(("axles", axle, *key)) in marked]
    sharper = _to_measure(".".join(("axles", axle, *assumed[-1])), marked) if assumed else ""
    sharper = _better(guessed, sources[0][0], marked) if sources else sharper
    name = f"backspace window, {axle}"
    if low is None or high is None:
        if at("window_width") in guessed.swept.results:
            words = clean(str(guessed.swept.results.get(at("window_words"), ""))) or shown(guessed, at("window_width"))
            yield WheelLine(name, f"none for sure: {words}", guess, sharper)
        return
    binds = [clean(guessed.swept.words(at(node))) for node in ("window_low", "window_high")]
    if binds[0] == RIM and wish > 0:
        low, binds[0] = wish, "the poke you want"
    if low >= high:
        most = show_plain(high, POSITION.greatest(), style)
        told = f"none: {binds[1]} leaves no more than {most}, and {binds[0]} needs {show_plain(low, POSITION, style)}"
        yield WheelLine(name, told, guess, sharper)
        return
    ends = show_range(low, high, (POSITION.smallest(), POSITION.greatest()), style, beside=False)
    yield WheelLine(name, f"{ends[0]} to {ends[1]} (less: {binds[0]}; more: {binds[1]})", guess, sharper)


def _sharper(guessed: OpenProject, marked: frozenset[str], spot: Spot) -> str:
    """The entry that brings most of a value's spread, in words; empty where none does."""
    outcome = guessed.sheet.outcome(spot)
    share = outcome.shares[0] if isinstance(outcome, Known) and outcome.shares else None
    if share is None or share.part <= 0:
        return ""
    return _better(guessed, guessed.key_of(share.spot), marked)


def _better(guessed: OpenProject, key: str, marked: frozenset[str]) -> str:
    assumed = guessed.sheet.catalog.assumed.get(key)
    if assumed is None:
        label = next((name for name, one in guessed.obstacles.items() if key.startswith(f"{one.key}.")), "")
        return f"measure the {clean(label)} better" if label else _to_measure(key, marked)
    return _KEY.sub("", assumed.better) or "the maker's own numbers"


def _to_measure(key: str, marked: frozenset[str]) -> str:
    return f"measure the {people_name(key)}{'' if key in marked else ' better'}"
