"""Every command that reads, over thousands of hostile files; run by hand:

    (cd tests && python -m trust.fuzz_files --seed 1 --cases 20000)

Each traceback, hang, changed file, unnamed place or unsafe output is told with the number that makes it again
(`--only NUMBER`) and kept in a folder. The run ends with 1 where anything was found.
"""

import argparse
import os
import sys
import tempfile
import time
from collections import Counter
from pathlib import Path

from trust.hostile_files import Hostile, hostile
from trust.judging import Verdict, judged

READING = (
    ["check", "{}"],
    ["check", "{}", "--json"],
    ["check", "{}", "--full", "--figures", "--clear", "--waiting"],
    ["why", "{}", "tire.overall_diameter"],
    ["why", "{}", "stance.static_stability", "--json"],
    ["change", "{}", "vehicle.wheelbase=120 in"],
    ["compare", "{}"],
    ["task", "{}", "--json"],
    ["task", "{}"],
    ["task", "{}", "--all"],
    ["diary", "{}"],
)


def commands(number: int) -> list[list[str]]:
    """What a case is put through: a check, and every sixth time another command besides."""
    others = READING[3:]
    return [READING[number % 3], *([others[number // 6 % len(others)]] if number % 6 == 0 else [])]


def tried(folder: Path, number: int, case: Hostile) -> list[tuple[list[str], Verdict]]:
    path = folder / "truck.toml"
    path.write_bytes(case.raw)
    return [
        (told, judged(path, [word.format(path) if word == "{}" else word for word in told]))
        for told in commands(number)
    ]


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--cases", type=int, default=20_000)
    parser.add_argument("--first", type=int, default=0, help="the number to begin with")
    parser.add_argument("--only", type=int, help="one case alone, told in full")
    parser.add_argument("--keep", type=Path, default=Path(tempfile.gettempdir()) / "hostile", help="where bad ones go")
    asked = parser.parse_args()
    os.environ["PLANNER_TRACEBACK"] = "1"  # a fault of our own is to come out
    numbers = [asked.only] if asked.only is not None else range(asked.first, asked.first + asked.cases)
    codes: Counter[int | None] = Counter()
    kinds: Counter[str] = Counter()
    slowest, bad, began = 0.0, 0, time.monotonic()
    with tempfile.TemporaryDirectory() as folder:
        for number in numbers:
            case = hostile(asked.seed, number)
            kinds.update(case.told)
            for told, verdict in tried(Path(folder), number, case):
                codes[verdict.code] += 1
                slowest = max(slowest, verdict.seconds)
                if asked.only is not None:
                    print(case.base, case.told, verdict.code, f"{verdict.seconds:.2f} s", verdict.err[:2000], sep="\n")
                if verdict.wrong:
                    bad += 1
                    asked.keep.mkdir(exist_ok=True)
                    (asked.keep / f"{asked.seed}-{number}.toml").write_bytes(case.raw)
                    print(f"case {number}, {case.base}, {', '.join(case.told)}: planner {' '.join(told)}")
                    print("\n".join(f"  {one}" for one in verdict.wrong), flush=True)
            if number % 1000 == 999:
                print(f"... {number + 1} cases, {bad} bad, {time.monotonic() - began:.0f} s", flush=True)
    print(f"{len(numbers)} cases of seed {asked.seed}: {bad} bad; exit codes {dict(codes)}; slowest {slowest:.2f} s")
    print(f"what was done to them: {dict(kinds)}")
    return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main())
