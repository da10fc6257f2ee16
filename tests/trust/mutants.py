"""The list of mutants, small wrong changes to the code that its tests must notice; run by hand, in tests/:

    python -m trust.mutants draw --seed 1979 --many 220
    python -m trust.mutants show --alive own
    python -m trust.mutants measure /tmp/covering.json
    python -m trust.mutants run own --covering /tmp/covering.json

`draw` reads the source alone, never a test. `measure` runs the tests once and notes which of them reach each mutant.
`run` makes one mutant at a time in a copy of the tree and writes into the list what the tests made of it: those of its
own room (`own`), those that a bare run has (`bare`), or those that only the whole run has (`slow`). Snapshots and
quoted output are no check of a number: what only they notice is alive, and with `--quoted` is called `snapshot only`.

A mutant whose place is lost is looked for by hand: its function's name and its expression are mended in the list.
"""

import argparse
import ast
import csv
import random
import signal
import sys
from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from pathlib import Path
from typing import NamedTuple

from trust import mutant_runs, mutating

REACHED = "_reached"  # what mutant_probes.py has every module call
ROOT = Path(__file__).parents[2]
LIST = Path(__file__).with_suffix(".csv")
ROOMS = ("trade", "flags", "plan", "project", "worksheet")
RUNS = ("own", "bare", "slow")
TELLING = 20  # characters by which an expression is known without its function's name


class Mutant(NamedTuple):
    """One line of the list; `own`, `bare` and `slow` say what those tests made of it, `argued` why none could."""

    id: str
    room: str
    function: str
    kind: str
    before: str
    which: int
    after: str
    own: str = ""
    bare: str = ""
    slow: str = ""
    argued: str = ""

    @property
    def where(self) -> tuple[str, str, int]:
        return self.function, self.before, self.which


def listed(path: Path = LIST) -> list[Mutant]:
    with path.open(encoding="utf-8", newline="") as table:
        return [Mutant._make(row)._replace(which=int(row[5])) for row in list(csv.reader(table))[1:]]


def put(mutants: Iterable[Mutant], path: Path = LIST) -> None:
    with path.open("w", encoding="utf-8", newline="") as table:
        writer = csv.writer(table, lineterminator="\n")
        writer.writerow(Mutant._fields)
        writer.writerows(mutants)


def modules(room: str, root: Path = ROOT) -> dict[Path, str]:
    """The source files of a room, by their paths below the root."""
    paths = sorted((root / "planner" / room).rglob("*.py"))
    return {path.relative_to(root): path.read_text(encoding="utf-8") for path in paths}


def _lines_of_code(source: str) -> int:
    """Lines that hold anything but comments and docstrings."""
    docs = [
        one for one in ast.walk(ast.parse(source)) if isinstance(one, ast.Expr) and isinstance(one.value, ast.Constant)
    ]
    told = {line for one in docs for line in range(one.lineno, (one.end_lineno or one.lineno) + 1)}
    written = enumerate(source.splitlines(), 1)
    return sum(bool(text.strip()) and text.strip()[0] != "#" and number not in told for number, text in written)


def drawn(sources: dict[str, Sequence[str]], seed: int, many: int) -> list[Mutant]:
    """As many of each room as its share of the lines of code, and in each room about as many of each kind."""
    length = {room: sum(map(_lines_of_code, texts)) for room, texts in sources.items()}
    shares = {room: many * length[room] / sum(length.values()) for room in sources}
    counts = {room: int(share) for room, share in shares.items()}
    for room in sorted(sources, key=lambda one: counts[one] - shares[one])[: many - sum(counts.values())]:
        counts[room] += 1
    made: list[Mutant] = []
    for room, texts in sources.items():
        for change in sorted(_drawn(texts, counts[room], random.Random(f"{seed} {room}"))):
            made.append(Mutant(f"M{len(made) + 1:03}", room, change.function, change.kind, *change[2:]))
    return made


def _drawn(sources: Sequence[str], count: int, chance: random.Random) -> Iterable[mutating.Change]:
    by_module = [mutating.changes(source) for source in sources]
    homes = Counter(place for made in by_module for place in {(one.function, one.before) for one in made})
    changes = sorted({one for made in by_module for one in made if homes[one.function, one.before] == 1})
    kinds = sorted({one.kind for one in changes})
    taken: dict[tuple[str, str], mutating.Change] = {}
    while len(taken) < count:
        change = chance.choice([one for one in changes if one.kind == kinds[len(taken) % len(kinds)]])
        taken.setdefault((change.function, change.before), change)
    return taken.values()


def place(mutant: Mutant, sources: dict[Path, str]) -> tuple[Path, str] | None:
    """The module in which a mutant's place is, and its text with the change made; None where it is lost."""
    made = {path: mutating.mutated(text, *mutant.where, mutant.after) for path, text in sources.items()}
    found = [(path, text) for path, text in made.items() if text is not None]
    return found[0] if len(found) == 1 else None


def followed(mutants: Sequence[Mutant], sources: dict[str, dict[Path, str]]) -> list[Mutant]:
    """The list with a function's new name, where a long expression is no more in the old one and once in another."""
    made = []
    for one in mutants:
        if len(one.before) >= TELLING and place(one, sources[one.room]) is None:
            homes = [name for text in sources[one.room].values() for name in mutating.functions_with(text, one.before)]
            one = one._replace(function=homes[0], which=1) if len(homes) == 1 else one
        made.append(one)
    return made


def lost(mutants: Sequence[Mutant]) -> list[Mutant]:
    """Those whose place is not in the code any more, or in two modules."""
    sources = {room: modules(room) for room in ROOMS}
    return [one for one in followed(mutants, sources) if place(one, sources[one.room]) is None]


def _draw(arguments: argparse.Namespace) -> None:
    if LIST.exists():
        sys.exit(f"{LIST} is there already: it is drawn once, before the tests are read.")
    put(drawn({room: list(modules(room).values()) for room in ROOMS}, arguments.seed, arguments.many))


def _show(arguments: argparse.Namespace) -> None:
    mutants, gone = listed(), {one.id for one in lost(listed())}
    for one in mutants:
        result = getattr(one, arguments.alive) if arguments.alive else "alive"
        if result.startswith(("alive", "snapshot")) and arguments.room in (None, one.room):
            told = [f"  {run}: {getattr(one, run)}" for run in RUNS if getattr(one, run)]
            head = f"{one.id} {one.room}, {one.function}: {one.kind}{' (LOST)' if one.id in gone else ''}"
            print(head, f"  - {one.before}", f"  + {one.after}", *told, sep="\n")
    for run in RUNS:
        print(f"{run}: {_counted([one for one in mutants if getattr(one, run)], lambda one: getattr(one, run))}")  # noqa: B023
    print(f"lost: {len(gone)} of {len(mutants)}")


def _counted(mutants: Sequence[Mutant], result: Callable[[Mutant], str]) -> str:
    """How many of those run were noticed, room by room and together."""
    noticed = [one for one in mutants if result(one).startswith(("killed", "timeout"))]
    rooms = [f"{room} {_share(noticed, mutants, room)}" for room in ROOMS]
    return f"{len(noticed)} of {len(mutants)} noticed; {', '.join(rooms)}"


def _share(noticed: Sequence[Mutant], mutants: Sequence[Mutant], room: str) -> str:
    return "/".join(str(sum(one.room == room for one in those)) for those in (noticed, mutants))


def probed(mutants: Sequence[Mutant], sources: dict[str, dict[Path, str]]) -> dict[Path, str]:
    """The modules of the mutants with a call at each place that tells its id; what runs at import is left alone."""
    texts: dict[Path, str] = {}
    for one in sorted(mutants, key=lambda one: -len(one.before)):  # the outer one first, where one holds another
        found = place(one, sources[one.room])
        if found and mutating.lines(sources[one.room][found[0]], *one.where):
            before = texts.get(found[0], sources[one.room][found[0]])
            after = mutating.probed(before, *one.where, f"{REACHED}({one.id!r})")
            if after is None:
                print(f"{one.id}: not measured")
            texts[found[0]] = after or before
    return texts


def _measure(arguments: argparse.Namespace) -> None:
    sources = {room: modules(room) for room in ROOMS}
    mutant_runs.measure(ROOT, probed(followed(listed(), sources), sources), arguments.into, arguments.tests)


def _run(arguments: argparse.Namespace) -> None:
    sources = {room: modules(room) for room in ROOMS}
    mutants = {one.id: one for one in followed(listed(), sources)}
    wanted = [one for one in mutants.values() if not arguments.ids or one.id in arguments.ids]
    wanted = [one for one in wanted if arguments.room in (None, one.room)]
    if arguments.alive:
        wanted = [one for one in wanted if getattr(one, arguments.alive).startswith(("alive", "snapshot"))]
    if arguments.todo:
        wanted = [one for one in wanted if not getattr(one, arguments.run)]
    trials = []
    for one in wanted:
        found = place(one, sources[one.room])
        if found is None:
            print(f"{one.id}: lost", flush=True)
        else:
            name = one.function.replace("(", "").split(",")[0].rsplit(".", 1)[-1]
            trials.append(mutant_runs.Trial(one.id, one.room, name, *found))
    choice = mutant_runs.Choice(arguments.run, arguments.all, arguments.quoted)
    for id_, result in mutant_runs.results(ROOT, trials, arguments.covering, choice, arguments.jobs, arguments.seconds):
        print(f"{id_}: {result}", flush=True)
        fields = mutants[id_]._asdict() | {arguments.run: result}
        mutants[id_] = Mutant(**fields)
        put(mutants.values())


def main() -> None:
    asked = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    ways = asked.add_subparsers(required=True)
    draw = ways.add_parser("draw")
    draw.add_argument("--seed", type=int, default=1979)
    draw.add_argument("--many", type=int, default=220)
    draw.set_defaults(does=_draw)
    show = ways.add_parser("show", help="the list, and how many were noticed")
    show.add_argument("--alive", choices=RUNS, help="only those that this run did not notice")
    show.add_argument("--room", choices=ROOMS)
    show.set_defaults(does=_show)
    measure = ways.add_parser("measure", help="which tests reach each mutant")
    measure.add_argument("into", type=Path)
    measure.add_argument("tests", nargs="*", help="files and folders, for a try; else all")
    measure.set_defaults(does=_measure)
    run = ways.add_parser("run", help="make the mutants and run tests")
    run.add_argument("run", choices=RUNS)
    run.add_argument("--covering", type=Path, required=True, help="what `measure` wrote")
    run.add_argument("--ids", nargs="*", default=[])
    run.add_argument("--room", choices=ROOMS)
    run.add_argument("--alive", choices=RUNS, help="only those that this run did not notice")
    run.add_argument("--todo", action="store_true", help="only those that have no result of this run yet")
    run.add_argument("--all", action="store_true", help="where no test that reaches it notices, the rest as well")
    run.add_argument("--quoted", action="store_true", help="where nothing notices, snapshots and quoted output as well")
    run.add_argument("--jobs", type=int, default=1)
    run.add_argument("--seconds", type=int, default=60, help="the most that one test may take")
    run.set_defaults(does=_run)
    arguments = asked.parse_args()
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(143))  # so that what was started is ended too
    arguments.does(arguments)


if __name__ == "__main__":
    main()
