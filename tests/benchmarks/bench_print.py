"""How long printing takes: the whole command against the typesetter alone, and the step cards as tasks grow.

    (cd tests && python -m benchmarks.bench_print [PROJECT] [--rounds 7])

Runs in turn, processor seconds of whole processes; the growth is within this one.
"""

import json
import shutil
import tempfile
from datetime import date
from itertools import pairwise
from pathlib import Path
from statistics import median
from time import perf_counter

from benchmarks.ratio import ROOT, Asked, Ratio, in_turn, run

from planner.plan.answers.open_project import open_project
from planner.sheets.kind import Asked as Choices
from planner.sheets.kind import kind_named
from planner.sheets.paper import pdf, plain, template
from planner.sheets.printing import made

ALONE = """
import sys, typst
made = typst.compile(sys.argv[1], root=sys.argv[2], ignore_system_fonts=True, timestamp=0, format="pdf",
                     font_paths=[sys.argv[2] + "/fonts"], pdf_standards=["a-2a", "ua-1"],
                     sys_inputs={"sheet": open(sys.argv[3], encoding="utf-8").read()})
open(sys.argv[4], "wb").write(made)
"""
READ_TOO = """
import gc; gc.disable()
from pathlib import Path
from planner.project.reading import read_project
import sys; read_project(Path(sys.argv[5]))
"""
TASKS = (60, 250, 500, 1000, 2000)


def measured(asked: Asked) -> list[Ratio]:
    with tempfile.TemporaryDirectory() as folder:
        return [
            *whole_against_alone(asked, Path(folder), "checklist", 2),
            *whole_against_alone(asked, Path(folder), "wall", 4),
            wall_against_alone(asked, Path(folder)),
            *growth(Path(folder), TASKS[: 2 if asked.short else None]),
        ]


def whole_against_alone(asked: Asked, folder: Path, kind: str, wanted: float) -> list[Ratio]:
    truck, data, out = folder / "truck.toml", folder / "sheet.json", folder / "out.pdf"
    shutil.copy(asked.project, truck)
    kept = truck.read_bytes()
    sheet = made(open_project(truck), kind_named(kind), Choices(), date.today(), 1)
    data.write_text(json.dumps(plain(sheet, "a4"), ensure_ascii=False), encoding="utf-8")
    handed = [str(template(sheet)), str(template(sheet).parent), str(data), str(out)]
    commands = {
        f"the typesetter alone, {kind}": [asked.python, "-c", ALONE, *handed],
        f"the same, and the file read, {kind}": [asked.python, "-c", READ_TOO + ALONE, *handed, str(truck)],
        f"check, {kind}": [asked.python, "-m", "planner", "check", str(truck)],
        f"print {kind}": [asked.python, "-m", "planner", "print", str(truck), kind, "-o", str(out)],
    }
    _, *others, whole = in_turn(commands, asked.times(7), lambda: truck.write_bytes(kept))
    return [*others, whole._replace(wanted=wanted)]


def wall_against_alone(asked: Asked, folder: Path) -> Ratio:
    """The wall sheet of a project that is open, as on the screens, against setting it alone; anew each time."""
    truck = folder / "truck.toml"
    shutil.copy(asked.project, truck)
    took: list[tuple[float, float]] = []
    for one in range(asked.times(5)):
        opened = open_project(truck)
        began = perf_counter()
        sheet = made(opened, kind_named("wall"), Choices(distance=f"{4 + one / 100} ft"), date.today(), 1)
        built = perf_counter()
        pdf(sheet)
        took.append((perf_counter() - began, perf_counter() - built))
    whole, alone = (median(times) for times in zip(*took, strict=True))
    return Ratio("the wall sheet of an open project", whole / alone, "setting it alone", whole, wanted=4)


def growth(folder: Path, sizes: tuple[int, ...]) -> list[Ratio]:
    """What a task of a longer and longer list takes, against one of the list before."""
    truck = folder / "many.toml"
    took: dict[int, float] = {}
    for many in sizes:
        tasks = "".join(
            f'[[tasks]]\nid = "own.t{n}"\ntitle = "Task number {n} of many"\nphase = "fit"\nnote = "as {n} said"\n'
            for n in range(many)
        )
        truck.write_text("format = 1\n" + tasks, encoding="utf-8")
        began = perf_counter()
        pdf(made(open_project(truck), kind_named("checklist"), Choices(phase="fit"), date.today(), 1))
        took[many] = perf_counter() - began
    return [
        Ratio(f"a task of {more}", took[more] / more / (took[less] / less), f"a task of {less}", took[more] / more)
        for less, more in pairwise(sizes)
    ]


if __name__ == "__main__":
    run(measured, __doc__, ROOT / "projects" / "just-begun.toml")
