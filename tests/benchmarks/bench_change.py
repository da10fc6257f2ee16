"""How long `planner change` and `planner compare` take against `planner check`, run by run in turn: prints ratios.

    python tests/benchmarks/bench_change.py [PROJECT] [KEY=VALUE] [--python PYTHON]

A change works a project out twice, so it may cost twice a check. PYTHON should be one with the planner installed
(`pip install .`), so that its modules are compiled.
"""

import argparse
import os
import resource
import statistics
import subprocess
import sys
from pathlib import Path

HERE = Path(__file__).resolve().parents[2]
SETTING = "fitments.tall.wheel.backspace=4 1/2 in ± 1/16 in"


def processor_seconds(command: list[str]) -> float:
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    path = {**os.environ, "PYTHONPATH": os.pathsep.join([str(HERE), os.environ.get("PYTHONPATH", "")])}
    done = subprocess.run(command, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, check=False, env=path)
    if done.returncode not in (0, 1):
        raise SystemExit(done.stderr.decode())
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("project", nargs="?", default=str(HERE / "projects" / "county-road-4x4.toml"))
    parser.add_argument("setting", nargs="?", default=SETTING)
    parser.add_argument("--python", default=sys.executable)
    parser.add_argument("--rounds", type=int, default=15)
    asked = parser.parse_args()
    planner = [asked.python, "-m", "planner"]
    commands = {
        "check": [*planner, "check", asked.project],
        "change": [*planner, "change", asked.project, asked.setting],
        "compare": [*planner, "compare", asked.project],
    }
    times: dict[str, list[float]] = {name: [] for name in commands}
    for _ in range(asked.rounds):
        for name, command in commands.items():
            times[name].append(processor_seconds(command))
    check = min(times["check"]), statistics.median(times["check"])
    for name, taken in times.items():
        least, middle = min(taken), statistics.median(taken)
        ratios = f"({least / check[0]:.2f} x)  median {middle:.3f} s ({middle / check[1]:.2f} x)"
        print(f"{name:8} least {least:.3f} s {ratios}")


if __name__ == "__main__":
    main()
