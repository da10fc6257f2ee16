"""A first wheel out of few answers: the largest tire, the rim code, and a backspace with its window.

It is worked out on a project of its own, in which guesses and assumed ranges stand where nothing was measured.
"""

import re
from collections.abc import Iterator
from functools import partial
from typing import NamedTuple

from planner.plan.answers.impossible import entries_behind
from planner.plan.asking.guesses import ASSUMED_AXLE, GOALS, fitment_in_mind, with_guesses
from planner.plan.asking.plain_questions import people_name
from planner.plan.fit.fit_windows import RIM
from planner.plan.fit.swept_wheel import keys_behind
from planner.plan.truck.pairs import in_pairs
from planner.plan.truck.project import OpenProject
from planner.plan.truck.wording import shown
from planner.quantities.kinds import LENGTH, POSITION
from planner.quantities.show import show, show_plain
from planner.quantities.show_range import show_range
from planner.quantities.text import clean
from planner.worksheet.outcome import Failed, Known, Spot, Waiting

OF_FIRST_WHEEL = frozenset({*GOALS, "rim_width_band", "overall_width", "section_width"})
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


def first_wheels(opened: OpenProject) -> tuple[FirstWheel, ...]:
    """The wheel at each axle, an axle that does not steer before one that does: there is less to ask of it."""
    fitment = fitment_in_mind(opened)
    guessed, marked = with_guesses(opened, fitment)
    axles = sorted(("rear", "front"), key=lambda axle: guessed.steers(axle, fitment))
    return tuple(_wheel(guessed, marked, fitment, axle) for axle in axles)


def _wheel(guessed: OpenProject, marked: frozenset[str], fitment: str, axle: str) -> FirstWheel:
    needs: dict[str, None] = {}
    for node in GOALS:
        if node == GOALS[2] and in_pairs(guessed, fitment, axle):
            continue  # a wish of a wheel that stands alone
        spot = guessed.spot(node, fitment=fitment, axle=axle)
        outcome = guessed.sheet.outcome(spot)
        if isinstance(outcome, Failed) or (isinstance(outcome, Waiting) and not outcome.barred):
            needs.update(dict.fromkeys(keys_behind(guessed, (spot,))))
            if node == GOALS[-1] and isinstance(outcome, Waiting) and not outcome.barred:
                needs.setdefault("obstacles")  # a name on the list to measure is no place yet
        elif node == GOALS[-1]:  # it may be known on one side only
            needs.update(dict.fromkeys(guessed.swept.needs.get(spot, ())))
    answers = tuple(f"fitments.{fitment}.wheel.{name}" for name in ("backspace", "offset", "rim_diameter"))
    left = tuple(key for key in needs if key not in answers)  # these are what is answered
    return FirstWheel(axle, fitment, tuple(_lines(guessed, marked, fitment, axle)), left)


def _lines(guessed: OpenProject, marked: frozenset[str], fitment: str, axle: str) -> Iterator[WheelLine]:
    at = partial(guessed.spot, fitment=fitment, axle=axle)

    def is_guess(node: str) -> bool:
        return any(guessed.key_of(one) in marked for one in entries_behind(guessed.sheet, at(node), guessed.keys))

    style = guessed.style
    tall, code, poke = (guessed.sheet.outcome(at(node)) for node in GOALS[:3])
    if isinstance(tall, Known):
        low, high = show_range(tall.low, tall.high, (LENGTH, LENGTH), style, beside=False)
        told = f"about {show(tall.value, LENGTH, style, 0.0, beside=False)}, {low} to {high}"
        yield WheelLine(f"largest tire, {axle}", told, is_guess(GOALS[0]), _sharper(guessed, marked, at(GOALS[0])))
    elif isinstance(tall, Failed):
        yield WheelLine(f"largest tire, {axle}", f"impossible: {clean(tall.why)}", is_guess(GOALS[0]))
    if isinstance(code, Known):
        guess = is_guess(GOALS[1])
        told = f"{code.value:g}{f' ({code.low:g} to {code.high:g})' if code.low < code.high else ''}"
        yield WheelLine(f"smallest rim, {axle}", told, guess, _WELL if guess else "")
    band, wide = (guessed.sheet.value(at(node)) for node in ("rim_width_band", "overall_width"))
    if band is not None and (isinstance(tall, Known) or isinstance(poke, Known)):
        low, high = show_range(band.low, band.high, (LENGTH, LENGTH), style, beside=False)
        yield WheelLine(f"rim width for the {axle} tire", f"{low} to {high}", is_guess("rim_width_band"))
    if in_pairs(guessed, fitment, axle):
        yield from _window(guessed, marked, fitment, axle, 0.0)
    elif isinstance(poke, Known) and wide is not None:
        if guessed.sheet.value(at("tires")) is None:
            yield WheelLine(f"tires at the {axle}", "2; duals take a different wheel", True, f"count the {axle} tires")
        ends = show_range(poke.low + wide / 2, poke.high + wide / 2, (POSITION, POSITION), style, beside=False)
        chosen = (f"fitments.{fitment}.tire.section_width", f"fitments.{fitment}.wheel.rim_width")
        guess = is_guess(GOALS[2]) or any(key in marked for key in chosen)
        told = f"{show(poke.value + wide / 2, POSITION, style, 0.0, beside=False)}, {ends[0]} to {ends[1]}"
        sharper = _sharper(guessed, marked, at(GOALS[2]))
        yield WheelLine(f"backspace for the poke you want, {axle}", told, guess, sharper)
        yield from _window(guessed, marked, fitment, axle, poke.value + wide / 2)


def _window(guessed: OpenProject, marked: frozenset[str], fitment: str, axle: str, wish: float) -> Iterator[WheelLine]:
    """What obstacles and limits leave; its outboard end is the wish where nothing else ends it."""
    at, style = partial(guessed.spot, fitment=fitment, axle=axle), guessed.style
    low, high = (guessed.sheet.value(at(node)) for node in ("window_low", "window_high"))
    guess = any(key.startswith((f"axles.{axle}.", f"obstacles.{axle}.", f"fitments.{fitment}.")) for key in marked)
    sources = guessed.swept.tolerance_sources.get(at("window_width"), ())
    assumed = [key for key in ASSUMED_AXLE if ".".join(("axles", axle, *key)) in marked]
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
