"""How fast the screens are: first paint, a key to the screen, an accepted edit to refreshed flags. Processor time.

    python tests/benchmarks/bench_screens.py

Wanted: first paint within 1.5 x of a bare Textual program with a header, a footer and a table; a key in 16 ms at the
95th percentile; an accepted edit, without a sweep, in three frames of 16 ms.
"""

import asyncio
import gc
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from statistics import median, quantiles

from textual import events
from textual.app import App, ComposeResult
from textual.geometry import Region
from textual.strip import Strip
from textual.widgets import Footer, Input, OptionList

ROOT = Path(__file__).parents[2]
sys.path[:0] = [str(ROOT), str(ROOT / "tests")]

from screens_visit import copied, visit  # noqa: E402

from planner.screens.places import facts_place  # noqa: E402
from planner.screens.widgets.row_list import RowList  # noqa: E402

FRAME = 16.0  # ms

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


def first_paint(path: Path, runs: int = 7) -> None:
    """Rounds of all three after each other, so that what else the machine does falls on all alike."""
    took: dict[str, list[float]] = {"bare": [], "ours": [], "full": []}
    for _ in range(runs):
        for name, script in (("bare", BARE), ("ours", OURS), ("full", FULL)):
            done = subprocess.run(
                [sys.executable, "-c", script, str(path)], capture_output=True, text=True, check=True, cwd=ROOT
            )
            took[name].append(float(done.stdout.split()[-1]))
    bare, ours, full = (median(took[name]) for name in ("bare", "ours", "full"))
    print(f"first paint: bare {bare:.3f} s, ours {ours:.3f} s: {ours / bare:.2f} x (wanted 1.5)")
    print(f"the whole project in sight after {full:.3f} s: {full / bare:.2f} x")


class Watched(RowList):
    """Counts how often the rows were drawn."""

    drawn = 0

    def render_lines(self, crop: Region) -> list[Strip]:
        Watched.drawn += 1
        return super().render_lines(crop)


async def cost_of_key(app: App[None], key: str, rest: float = 0.06) -> float:
    """Processor time in ms from a key as the terminal gives it until everything that it leads to is painted."""
    began = time.process_time()
    app.post_message(events.Key(key, key if len(key) == 1 else None))
    await asyncio.sleep(rest)
    return (time.process_time() - began) * 1000


def tell(what: str, took: list[float], wanted: str = "") -> None:
    print(f"{what}: half within {median(took):.1f} ms, 95 in 100 within {quantiles(took, n=20)[-1]:.1f} ms{wanted}")


class Bare(App[None]):
    """A list of fifty rows and a field, with nothing behind them."""

    def compose(self) -> ComposeResult:
        yield OptionList(*map(str, range(50)), id="rows")
        yield Input(id="value")
        yield Footer()


async def bare_keys() -> None:
    app = Bare()
    async with app.run_test(size=(80, 24)) as pilot:
        for what, keys in (("rows", ["down", "up"] * 30), ("value", list("12345678" * 6))):
            app.query_one(f"#{what}").focus()
            await pilot.pause(0.2)
            tell(f"bare, {what}", [await cost_of_key(app, key) for key in keys])


async def keys_and_edits(path: Path) -> None:
    wanted = f" (wanted {FRAME:.0f})"
    async with visit(path) as here:
        await here.go("vehicle")
        gc.freeze()  # as the program does when it has read the project
        tell("moving in the list", [await cost_of_key(here.app, key) for key in ["down", "up"] * 30], wanted)
        here.point_at("wheelbase")
        await here.press("enter")
        took = []
        for _ in range(8):
            here.app.screen.query_one("#value").value = ""
            await here.settle()
            took += [await cost_of_key(here.app, key) for key in "118.25"]
        tell("typing in a field", took, wanted)
        await here.press("escape")
        refreshed, painted = [], []
        for at in range(12):
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
        tell("an accepted edit to flags worked out and in the list", refreshed, f" (wanted {3 * FRAME:.0f})")
        tell("the same to the screen", painted)


if __name__ == "__main__":
    facts_place.RowList = Watched  # type: ignore[misc]
    with tempfile.TemporaryDirectory() as folder:
        project = copied(Path(folder))
        first_paint(project)
        asyncio.run(bare_keys())
        asyncio.run(keys_and_edits(project))
