"""The search against trying everything: each candidate of a small space written out, read, and judged in full."""

import copy
import tomllib
from datetime import date
from itertools import product

import pytest
import tomli_w
from benchmarks.ratio import COUNTY

from planner.plan.answers.open_project import open_project, work_out
from planner.plan.answers.verdicts import verdicts
from planner.plan.proposing.search import FitSearch
from planner.plan.proposing.space import search_space
from planner.project.reading import understand
from planner.project.source import parse

DAY = date(2026, 11, 29)
INCH = 0.0254
KEPT = {
    "spring pack, rear half",
    "drag link, wheel hard left",
    "fender lip, top",
    "spring pack",
    "bed skirt, lip over the tire",
}
TIRES = [
    {"kind": "tire", "designation": "LT275/70R18", "price": 310},
    {
        "kind": "tire",
        "designation": "LT225/70R18",
        "overall_diameter": "30.4 in",
        "section_width": "8.9 in",
        "price": 250,
    },
    {"kind": "tire", "designation": "35x12.50R18LT", "price": 420},
]
RIMS = [
    {"kind": "wheel", "rim_diameter": "18", "rim_width": "7 in", "backspace_step": "1 in", "price": 210},
    {"kind": "wheel", "rim_diameter": "18", "rim_width": "8 in", "backspace_step": "1 in", "price": 260},
]
GEARS = [{"kind": "gear set", "ratio": "4.56", "axle": "both", "price": 400}]
WHATEVER = {("wheel.stud_circle_differs", ("rear", "", "", ""))}
PIECES = 5  # four on the axles, and the spare
FLANGES = 1.0  # in, both: half an inch each
FOUND = 4.75 - (6 + FLANGES) / 2  # in: how far the mounting face stood outboard of the old rim's middle


@pytest.fixture(scope="module")
def data():
    """The first example with few obstacles, wishes for a diameter and a cruise speed, and something offered."""
    found = tomllib.loads(COUNTY.read_text())
    for name in ("tasks", "parts", "readings", "acceptances", "decisions", "changes", "sheets"):
        found.pop(name, None)
    found["obstacles"] = [one for one in found["obstacles"] if one["name"] in KEPT]
    found["wishes"] = {"diameter": "32 in to 33 1/2 in"}
    for axle in found["axles"].values():
        del axle["gear_sets"]
    found["offered"] = [*TIRES, *RIMS, *GEARS]
    return found


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    return tmp_path_factory.mktemp("tried")


def searched(data, folder):
    path = folder / "truck.toml"
    path.write_text(tomli_w.dumps(data))
    opened = open_project(path, DAY)
    space = search_space(opened, tuple(one["designation"] for one in TIRES), offered_alone=True)
    # Nothing made to order, so that every combination can be tried.
    space = space._replace(tires=tuple(one._replace(rims=(1.0, 0.0)) for one in space.tires))
    search = FitSearch(opened, space)
    list(search.run())
    return search


def tried(data, folder, tire, rim, gears, backspace, swept=True):
    """A candidate written by hand, judged as the chosen one: its stops that do not hold for sure, and all margins."""
    own = copy.deepcopy(data)
    if not swept:
        del own["obstacles"]
    tall = own["fitments"]["tall"]
    wheel = {k: v for k, v in tall["wheel"].items() if k not in ("description", "backspace", "rim_width", "mass")}
    wheel |= {"rim_diameter": "18", "rim_width": rim["rim_width"], "backspace": f"{backspace} in ± 1/32 in"}
    size = {name: tire[name] for name in ("designation", "overall_diameter", "section_width") if name in tire}
    size["size_from"] = "maker" if "overall_diameter" in tire else "designation"
    known = {"overall_diameter": tire["overall_diameter"]} if "overall_diameter" in tire else {}
    spare = {"designation": tire["designation"], **known, "stud_circle": "7 5/8 in", "pieces": "one"}
    own["fitments"]["tried"] = {"tire": size, "wheel": wheel, "spare": spare}
    if gears:
        own["fitments"]["tried"]["axle_ratio"] = gears["ratio"]
    own["plan"]["chosen"] = "tried"
    return work_out(understand(parse(folder / "tried.toml", tomli_w.dumps(own).encode())), DAY)


def stops(opened):
    return {
        (one.rule.name, one.place[1:]): one
        for one in verdicts(opened)
        if one.rule.severity == "stop" and one.answer in ("raised", "too close to call")
    }


def least_room(opened):
    """The least length, at the worst, of any stop that says how much room there is."""
    found = [
        one.margin.low
        for one in verdicts(opened)
        if one.rule.severity == "stop"
        and one.margin is not None
        and one.rule.kind is not None
        and one.rule.kind.si == "m"
        and one.rule.name in {
            "fit.tire_too_near", "fit.tire_touches", "fit.poke_past_local_code", "fit.wider_than_legal",
            "brakes.barrel_near_brake",
        }
    ]  # fmt: skip
    return min(found)


def by_hand(data, folder):
    """Every combination at the step nearest to where the tire's middle was found of those at which it fits."""
    whatever = None
    fits = {}
    for (at, tire), (which, rim), gears in product(enumerate(TIRES), enumerate(RIMS), (None, GEARS[0])):
        wide = float(rim["rim_width"].split()[0]) + FLANGES
        near = FOUND + wide / 2
        for backspace in sorted(range(int(wide) + 1), key=lambda inches: abs(inches - near)):
            if gears is not None and (at, which) not in fits:
                break  # what does not fit with the old gears does not with others: they touch nothing
            for swept in (False, True):  # what stands without the obstacles stands with them, and costs no sweep
                opened = tried(data, folder, tire, rim, gears, backspace, swept)
                standing = stops(opened).keys()
                if standing - WHATEVER:
                    break
            whatever = standing if whatever is None else whatever & standing
            if not standing - WHATEVER:
                fits.setdefault((at, which), {})[gears is None] = backspace, opened
                break
    assert fits and whatever == WHATEVER  # the caliper did not get in there
    return fits


@pytest.mark.slow
def test_the_search_finds_what_trying_everything_finds(data, folder):
    search = searched(data, folder)
    found = {}
    for (at, which), several in by_hand(data, folder).items():
        for old, (backspace, opened) in several.items():
            tall = opened.sheet.value(opened.spot("overall_diameter", fitment="tried", axle="rear")) / INCH
            engine = opened.sheet.value(opened.spot("cruise_engine_speed", fitment="tried")) * 60 / 6.283185307179586
            axes = (
                max(32 - tall, tall - 33.5, 0.0),
                max(1700 - engine, engine - 2600, 0.0),
                -round(least_room(opened) / 5e-4),
                PIECES * (TIRES[at]["price"] + RIMS[which]["price"]) + (0 if old else 2 * GEARS[0]["price"]),
            )
            found[TIRES[at]["designation"], RIMS[which]["rim_width"], "" if old else "4.56", backspace] = axes
    front = {
        name
        for name, mine in found.items()
        if not any(
            other != mine and all(a <= b + 1e-9 for a, b in zip(other, mine, strict=True)) for other in found.values()
        )
    }
    answer = search.answer()
    listed = {
        (
            one.fitting.look.tire.size,
            one.fitting.look.rim.width,
            one.fitting.gear.gears.ratio,
            round(one.fitting.look.backspace / INCH, 6),
        )
        for one in answer.proposals
    }
    assert len(found) >= 2 and front == listed
    assert answer.tried == answer.of == 4 * len(TIRES) and answer.whole
    assert len(found) == len(answer.proposals) + answer.beaten + answer.more

    assert not any(one.full.against for one in answer.proposals)
