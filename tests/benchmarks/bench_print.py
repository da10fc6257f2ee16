"""How long printing takes: the whole command against the typesetter alone, and a wall checklist as tasks grow.

    python tests/benchmarks/bench_print.py [PROJECT] [--rounds 7]

Runs in turn, processor seconds of whole processes: prints ratios, tests nothing.
"""

import argparse
import json
import shutil
import statistics
import sys
import tempfile
import time
from datetime import date
from pathlib import Path

from bench_start import processor_seconds

HERE = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(HERE))
ALONE = """
import sys, typst
made = typst.compile(sys.argv[1], root=sys.argv[2], ignore_system_fonts=True, timestamp=0, format="pdf",
                     sys_inputs={"sheet": open(sys.argv[3], encoding="utf-8").read()}, pdf_standards=["a-2a", "ua-1"])
open(sys.argv[4], "wb").write(made)
"""
READ_TOO = """
import gc; gc.disable()
from pathlib import Path
from planner.project.reading import read_project
import sys; read_project(Path(sys.argv[5]))
"""


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("project", nargs="?", default=str(HERE / "projects" / "just-begun.toml"))
    parser.add_argument("--rounds", type=int, default=7)
    asked = parser.parse_args()
    with tempfile.TemporaryDirectory() as name:
        whole_against_alone(Path(asked.project), Path(name), asked.rounds)
        growth(Path(name))


def whole_against_alone(project: Path, folder: Path, rounds: int) -> None:
    from planner.plan.answers.open_project import open_project
    from planner.sheets.kind import Asked, kind_named
    from planner.sheets.paper import TEMPLATE, plain
    from planner.sheets.printing import made

    truck, data, out = folder / "truck.toml", folder / "sheet.json", folder / "out.pdf"
    shutil.copy(project, truck)
    kept = truck.read_bytes()
    sheet = made(open_project(truck), kind_named("checklist"), Asked(), date.today(), 1)
    data.write_text(json.dumps(plain(sheet, "a4"), ensure_ascii=False), encoding="utf-8")
    python = sys.executable
    handed = [str(TEMPLATE), str(TEMPLATE.parent), str(data), str(out)]
    commands = {
        "typesetter alone": [python, "-c", ALONE, *handed],
        "the same, and the file read": [python, "-c", READ_TOO + ALONE, *handed, str(truck)],
        "check": [python, "-m", "planner", "check", str(truck)],
        "print": [python, "-m", "planner", "print", str(truck), "checklist", "-o", str(out)],
    }
    times: dict[str, list[float]] = {one: [] for one in commands}
    for _ in range(rounds):
        for one, command in commands.items():
            truck.write_bytes(kept)
            times[one].append(processor_seconds(command))
    base = statistics.median(times["typesetter alone"])
    for one, taken in times.items():
        middle = statistics.median(taken)
        print(f"{one:27} median {middle:.3f} s  least {min(taken):.3f} s  ({middle / base:.2f} x the typesetter alone)")


def growth(folder: Path) -> None:
    """The seconds for a list with more and more tasks of the person's own, in this process."""
    from planner.plan.answers.open_project import open_project
    from planner.sheets.kind import Asked, kind_named
    from planner.sheets.paper import pdf
    from planner.sheets.printing import made

    truck = folder / "many.toml"
    for many in (60, 250, 500, 1000, 2000):
        tasks = "".join(
            f'[[tasks]]\nid = "own.t{n}"\ntitle = "Task number {n} of many"\nphase = "fit"\nnote = "as {n} said"\n'
            for n in range(many)
        )
        truck.write_text("format = 1\n" + tasks, encoding="utf-8")
        began = time.perf_counter()
        opened = open_project(truck)
        read = time.perf_counter()
        sheet = made(opened, kind_named("checklist"), Asked(phase="fit"), date.today(), 1)
        listed = time.perf_counter()
        pdf(sheet)
        end = time.perf_counter()
        print(
            f"{many:5} tasks: read {read - began:.2f} s, listed {listed - read:.2f} s, set {end - listed:.2f} s, "
            f"{1000 * (end - began) / many:.2f} ms a task"
        )


if __name__ == "__main__":
    main()
