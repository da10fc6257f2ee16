"""How fast the screens are: first paint, a key to the screen, an accepted edit to refreshed flags. Processor time.

    (cd tests && python -m benchmarks.bench_screens)

Wanted: first paint within 1.5 x of a bare Textual program with a header, a footer and a table; a key in 16 ms at the
95th percentile; an accepted edit, without a sweep, in three frames of 16 ms; the next question in 100 ms.
"""

import asyncio
import gc
import subprocess
import tempfile
import time
from collections.abc import Sequence
from pathlib import Path
from statistics import median, quantiles
from unittest import mock

from benchmarks.bench_ask import EMPTY, answer
from benchmarks.ratio import ROOT, Asked, Ratio, run
from screens_visit import Visit, copied, paint, visit
from textual import events
from textual.app import App, ComposeResult
from textual.geometry import Region
from textual.strip import Strip
from textual.widgets import Footer, Input, OptionList

from planner.screens.places import facts_place
from planner.screens.places.table import NAMES
from planner.screens.widgets.row_list import RowList

FRAME = 16.0  # ms
NEXT_QUESTION = 100 / FRAME  # frames

BARE = """
import os, time
from textual.app import App
from textual.widgets import DataTable, Footer, Header
class Bare(App):
    def compose(self):
        yield Header(); yield DataTable(); yield Footer()
    def on_mount(self):
        table = self.query_one(DataTable)
        table.add_columns("one", "two"); table.add_rows((str(n), str(n)) for n in range(20))
        self.call_after_refresh(self.call_after_refresh, self.done)
    def done(self):
        print(time.process_time()); import sys; sys.stdout.flush(); os._exit(0)
Bare().run(headless=True)
"""
OURS = """
import os, sys, time
from collections.abc import Sequence
from pathlib import Path
from planner.screens.app.app import Planner
class Timed(Planner):
    def on_mount(self):
        self.call_after_refresh(self.call_after_refresh, self.done)
    def done(self):
        print(time.process_time()); sys.stdout.flush(); os._exit(0)
Timed(Path(sys.argv[1])).run(headless=True)
"""
FULL = OURS.replace(
    "        self.call_after_refresh(self.call_after_refresh, self.done)\n",
    "        self.set_interval(0.01, self.look)\n"
    "    def look(self):\n"
    "        if self.state is not None:\n            self.call_after_refresh(self.done)\n",
)


def first_paint(asked: Asked, path: Path) -> list[Ratio]:
    """Rounds of all three after each other, so that what else the machine does falls on all alike."""
    took: dict[str, list[float]] = {"bare": [], "ours": [], "full": []}
    for _ in range(asked.times(7)):
        for name, script in (("bare", BARE), ("ours", OURS), ("full", FULL)):
            done = subprocess.run(
                [asked.python, "-c", script, str(path)], capture_output=True, text=True, check=True, cwd=ROOT
            )
            took[name].append(float(done.stdout.split()[-1]))
    bare, ours, full = (median(took[name]) for name in ("bare", "ours", "full"))
    against = "a bare Textual program"
    return [
        Ratio("first paint", ours / bare, against, ours, wanted=1.5),
        Ratio("the whole project in sight", full / bare, against, full),
    ]


class Watched(RowList):
    """Counts how often the rows were drawn."""

    drawn = 0

    def render_lines(self, crop: Region) -> list[Strip]:
        Watched.drawn += 1
        return super().render_lines(crop)


async def cost_of_key(app: App[None], key: str, rest: float = 0.06) -> float:
    """Processor time in ms from a key as the terminal gives it until everything that it leads to is painted.

    That of the thread which paints: what a key has tried or saved in another is shown when it is known.
    """
    began = time.thread_time()
    app.post_message(events.Key(key, key if len(key) == 1 else None))
    await asyncio.sleep(rest)
    return (time.thread_time() - began) * 1000


def slowest(what: str, took: list[float], frames: float | None = None) -> Ratio:
    """That in which 95 of 100 are done, in frames of the screen."""
    within = quantiles(took, n=20)[-1] if len(took) > 1 else took[0]
    return Ratio(f"{what}, 95 in 100", within / FRAME, "a frame of 16 ms", within / 1000, wanted=frames)


class Bare(App[None]):
    """A list of fifty rows and a field, with nothing behind them."""

    def compose(self) -> ComposeResult:
        yield OptionList(*map(str, range(50)), id="rows")
        yield Input(id="value")
        yield Footer()


async def bare_keys(rounds: int) -> list[Ratio]:
    app, found = Bare(), []
    async with app.run_test(size=(80, 24)) as pilot:
        for what, keys in (("list", ["down", "up"] * rounds), ("field", list("12345678"[:rounds]))):
            app.query_one({"list": "#rows", "field": "#value"}[what]).focus()
            await pilot.pause(0.2)
            found.append(slowest(f"a key in a bare {what}", [await cost_of_key(app, key) for key in keys]))
    return found


async def keys_at(here: Visit, place: str, rounds: int) -> list[float]:
    """What keys in the list of a place cost, once it has settled and each row was stood on; none where it has none."""
    await here.go(place)
    if here.app.screen.row_list is None:
        return []
    await here.press("home")
    for key in ["down", "up"] * 2:
        await cost_of_key(here.app, key)
    return [await cost_of_key(here.app, key) for key in ["down"] * 4 * rounds]


async def keys_and_edits(path: Path, rounds: int, places: Sequence[str]) -> list[Ratio]:
    async with visit(path, frame=paint) as here:  # each frame is what is measured
        await here.go("vehicle")
        moving = [await cost_of_key(here.app, key) for key in ["down", "up"] * rounds]
        here.point_at("wheelbase")
        await here.press("enter")
        typing = []
        for _ in range(max(1, rounds // 4)):
            here.app.screen.query_one("#value").value = ""
            await here.settle()
            typing += [await cost_of_key(here.app, key) for key in "118.25"]
        await here.press("escape")
        refreshed, painted = [], []
        for at in range(max(1, rounds // 2)):
            here.point_at("wheelbase")
            await here.press("enter")
            here.app.focused.value = f"{117 + at % 3} in"
            await here.settle()
            before, drawn = here.app.state, 0
            began = time.process_time()
            here.app.post_message(events.Key("enter", None))
            while here.app.state is before or Watched.drawn == drawn:
                await asyncio.sleep(0.001)
                if here.app.state is before:
                    drawn = Watched.drawn
                elif len(refreshed) == at:
                    refreshed.append((time.process_time() - began) * 1000)
            painted.append((time.process_time() - began) * 1000)
            await here.settle()
        everywhere = [cost for place in places for cost in await keys_at(here, place, max(1, rounds // 5))]
    return [
        slowest("moving in the list, every place", everywhere, 1),
        slowest("moving in the list", moving, 1),
        slowest("typing in a field", typing, 1),
        slowest("an accepted edit to flags worked out and in the list", refreshed, 3),
        slowest("the same to the screen", painted),
    ]


async def next_questions(path: Path, rounds: int) -> list[Ratio]:
    """From Enter on an answer to the next question, in being asked of a truck of which nothing is known."""
    path.write_text(EMPTY, encoding="utf-8")
    took = []
    async with visit(path, frame=paint) as here:
        for _ in range(rounds):
            box = here.app.screen.query_one("#answer", Input)
            box.value = answer(here.app.screen._interview)
            took.append(await cost_of_key(here.app, "enter"))
            await here.settle()
            while len(here.app.screen_stack) > 2:
                await here.press("escape")
    return [slowest("the next question", took, NEXT_QUESTION)]


def measured(asked: Asked) -> list[Ratio]:
    rounds = asked.times(30)
    with tempfile.TemporaryDirectory() as folder, mock.patch.object(facts_place, "RowList", Watched):
        project = copied(Path(folder))
        return [
            *first_paint(asked, project),
            *asyncio.run(bare_keys(rounds)),
            *asyncio.run(keys_and_edits(project, rounds, NAMES[:3] if asked.short else NAMES)),
            *asyncio.run(next_questions(project.with_name("asked.toml"), rounds)),
        ]


if __name__ == "__main__":
    gc.disable()  # as after the program has read the project: to look through all of it is no part of a key
    run(measured, __doc__)
