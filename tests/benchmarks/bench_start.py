"""How long `planner check` takes against importing what it needs, run by run in turn: prints ratios, tests nothing.

    python tests/benchmarks/bench_start.py [PROJECT] [--python PYTHON]

PYTHON should be one with the planner installed (`pip install .`), so that its modules are compiled. `read` is the least
that any command can cost: the file parsed, its models built and held over it, and nothing worked out.
"""

import argparse
import resource
import statistics
import subprocess
import sys
from pathlib import Path

HERE = Path(__file__).resolve().parents[2]
BASE = "import pydantic, pint, tomllib"
READ = """
import gc, sys; gc.disable()
from pathlib import Path
from planner.project.reading import read_project
read_project(Path(sys.argv[1]))
"""


def processor_seconds(command: list[str]) -> float:
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    done = subprocess.run(command, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, check=False, cwd="/")
    if done.returncode not in (0, 1) or b"No module named" in done.stderr:
        raise SystemExit(done.stderr.decode())
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("project", nargs="?", default=str(HERE / "projects" / "county-road-4x4.toml"))
    parser.add_argument("--python", default=sys.executable)
    parser.add_argument("--rounds", type=int, default=20)
    asked = parser.parse_args()
    commands = {
        "base": [asked.python, "-c", BASE],
        "read": [asked.python, "-c", READ, asked.project],
        "check": [asked.python, "-m", "planner", "check", asked.project],
    }
    times: dict[str, list[float]] = {name: [] for name in commands}
    for _ in range(asked.rounds):
        for name, command in commands.items():
            times[name].append(processor_seconds(command))
    base = min(times["base"]), statistics.median(times["base"])
    for name, taken in times.items():
        least, middle = min(taken), statistics.median(taken)
        print(
            f"{name:6} least {least:.3f} s ({least / base[0]:.2f} x)  median {middle:.3f} s ({middle / base[1]:.2f} x)"
        )


if __name__ == "__main__":
    main()
