"""Tests run on a copy of the tree: once with a note of what each one reaches, and once more for each mutant."""

import json
import os
import shutil
import signal
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor, as_completed
from contextlib import suppress
from importlib.util import find_spec
from itertools import count
from pathlib import Path
from queue import SimpleQueue
from typing import Any, NamedTuple

LEFT_OUT = shutil.ignore_patterns(".*", "__pycache__", "*.egg-info", "build", "dist")
EVERY = "slow or not slow"  # with no marks at all a whole run would leave out what it only begins
LONGEST_RUN = 3600  # seconds
_CLOCK = count(1_000_000_000)  # a time of its own for each text written, so that none is taken for the one compiled


class Trial(NamedTuple):
    """A mutant as it is tried: its module below the root, and the text of that module with the change made."""

    id: str
    room: str
    name: str
    path: Path
    text: str


class Choice(NamedTuple):
    """Which tests: `run` is own, bare or slow; `rest` adds those that do not reach the mutant, `quoted` snapshots."""

    run: str
    rest: bool
    quoted: bool


class OneTest(NamedTuple):
    id: str
    slow: bool
    quoted: bool

    @property
    def file(self) -> str:
        return self.id.split("::")[0]


class Covering(NamedTuple):
    """What was measured: all tests in their order, and for each mutant those that run its lines."""

    tests: list[OneTest]
    reach: dict[str, set[str]]


def measure(root: Path, probed: dict[Path, str], into: Path, tests: Sequence[str]) -> None:
    """Runs the tests once in a copy, its modules with these texts in memory, and writes what `Covering` holds.

    Files whose tests are short come first: of many that notice a mutant, one of those is found soonest.
    """
    with tempfile.TemporaryDirectory(prefix="mutants-") as folder:
        copy, found, texts = _copied(root, Path(folder)), Path(folder) / "found", Path(folder) / "probes.json"
        found.mkdir()
        texts.write_text(json.dumps({str(copy / path): text for path, text in probed.items()}), encoding="utf-8")
        notes = {"MUTANT_PROBES": str(texts), "MUTANT_FOUND": str(found), "PYTHONDONTWRITEBYTECODE": "1"}
        command = ["-m", "pytest", "-q", "-p", "no:cacheprovider", "-p", "trust.mutant_probes", "-m", EVERY, *tests]
        with _started(copy, command, notes, quiet=False) as process:
            process.wait()
        listed = json.loads(next(found.glob("tests-*")).read_text(encoding="utf-8"))
        reach: dict[str, set[str]] = {}
        seconds: dict[str, float] = {}
        for path in found.glob("seen-*"):
            seen, took = json.loads(path.read_text(encoding="utf-8"))
            seconds |= took
            for id_, ids in seen.items():
                reach.setdefault(id_, set()).update(ids)
    by_file: dict[str, list[float]] = {}
    for one in (OneTest(*one) for one in listed):
        by_file.setdefault(one.file, []).append(seconds.get(one.id, 0.0))
    listed.sort(key=lambda one: sum(by_file[one[0].split("::")[0]]) / len(by_file[one[0].split("::")[0]]))
    data = {"tests": listed, "reach": {id_: sorted(ids) for id_, ids in reach.items()}}
    into.write_text(json.dumps(data), encoding="utf-8")


def results(
    root: Path, trials: Sequence[Trial], covering: Path, choice: Choice, jobs: int, seconds: int
) -> Iterator[tuple[str, str]]:
    """What the tests made of each mutant, as it becomes known."""
    data = json.loads(covering.read_text(encoding="utf-8"))
    known = Covering([OneTest(*one) for one in data["tests"]], {id_: set(ids) for id_, ids in data["reach"].items()})
    with tempfile.TemporaryDirectory(prefix="mutants-") as folder, ThreadPoolExecutor(jobs) as pool:
        trees = [Tree(_copied(root, Path(folder) / str(number)), seconds) for number in range(jobs)]
        free: SimpleQueue[Tree] = SimpleQueue()
        for tree in trees:
            free.put(tree)

        def one(trial: Trial) -> str:
            tree = free.get()
            try:
                return tree.judged(trial, known, choice)
            finally:
                free.put(tree)

        waiting = {pool.submit(one, trial): trial.id for trial in trials}
        try:
            for done in as_completed(waiting):
                yield waiting[done], done.result()
        finally:
            pool.shutdown(wait=False, cancel_futures=True)
            for tree in trees:
                tree.stop()


class Tree:
    """A copy of the tree in which one mutant after the other is made and undone."""

    def __init__(self, copy: Path, seconds: int) -> None:
        self.copy, self.seconds = copy, seconds
        self.sound: dict[str, bool] = {}  # tests that pass here, or do not, where nothing is changed
        self.process: subprocess.Popen[Any] | None = None
        self.stopped = False

    def stop(self) -> None:
        """Ends what runs in it; nothing more is begun."""
        self.stopped = True
        if self.process is not None:
            _end(self.process)

    def judged(self, trial: Trial, known: Covering, choice: Choice) -> str:
        """`killed by` and the test, `timeout in` and the test, `alive`, or `snapshot only`."""
        numbers, quoted = batches(trial, known, choice, self.copy)
        for batch in numbers:
            if result := self._tried(trial, batch):
                return result
        if choice.quoted and (result := self._tried(trial, quoted)):
            return f"snapshot only, {result}"
        return "alive"

    def _tried(self, trial: Trial, tests: Sequence[OneTest]) -> str:
        """What first notices; a test that fails without the change, or passes when it is run again, does not count."""
        left = [one for one in tests if self.sound.get(one.id, True)]
        while left:
            how, which = self._changed(trial, left)
            again = [one for one in left if one.id == which]
            if not how or not again:  # nothing notices, or a whole file does, which cannot be read any more
                return f"{how} {_short(which)}" if how else ""
            if which not in self.sound:
                self.sound[which] = not self.run(again)[0]
            if self.sound[which] and (how == "timeout in" or self._changed(trial, again)[0]):
                return f"{how} {_short(which)}"
            left = [one for one in left if one.id != which]
        return ""

    def _changed(self, trial: Trial, tests: Sequence[OneTest]) -> tuple[str, str]:
        path = self.copy / trial.path
        kept = path.read_text(encoding="utf-8")
        try:
            _write(path, trial.text)
            return self.run(tests)
        finally:
            _write(path, kept)

    def run(self, tests: Sequence[OneTest]) -> tuple[str, str]:
        """How the first of these tests ended that did not pass, and its name; two empty texts where all do."""
        wanted, told = self.copy.parent / "wanted", self.copy.parent / "told"
        wanted.write_text("\n".join(one.id for one in tests), encoding="utf-8")
        told.write_text("", encoding="utf-8")
        files = list(dict.fromkeys(one.file for one in tests))
        notes = {"MUTANT_WANTED": str(wanted), "MUTANT_TOLD": str(told), "MUTANT_SECONDS": str(self.seconds)}
        if self.stopped:
            return "", ""
        with _started(self.copy, ["-m", "pytest", "-x", "--no-header", *_options(), *files], notes) as self.process:
            try:
                code = self.process.wait(LONGEST_RUN)
            except subprocess.TimeoutExpired:
                code = -1
            finally:
                _end(self.process)
        self.process = None
        if code in (0, 5):  # 5: none of them is there any more
            return "", ""
        last = told.read_text(encoding="utf-8").splitlines()[-1:] or ["failed at the start"]
        how, _, which = last[0].partition(" ")
        return ("timeout in" if how == "running" else "killed by"), which


def batches(trial: Trial, known: Covering, choice: Choice, root: Path) -> tuple[list[list[OneTest]], list[OneTest]]:
    """The tests to run, those that are likely to notice first; and snapshots and quoted output apart."""
    fits: dict[str, Callable[[OneTest], bool]] = {
        "own": lambda one: own(one, trial.room),
        "bare": lambda one: not one.slow,
        "slow": lambda one: one.slow,
    }
    tests = [one for one in known.tests if fits[choice.run](one)]
    numbers, quoted = [one for one in tests if not one.quoted], [one for one in tests if one.quoted]
    reach = known.reach.get(trial.id, set()) or _speaking(trial, known, root)
    near = [one for one in numbers if one.id in reach]
    first = [one for one in near if own(one, trial.room)]
    second = [one for one in near if not own(one, trial.room)]
    rest = [one for one in numbers if one.id not in reach] if choice.rest or choice.run == "own" else []
    return [first, second, rest], quoted if choice.rest else [one for one in quoted if one.id in reach]


def own(test: OneTest, room: str) -> bool:
    """Whether a test is one of a room's own: in its folder, in its docstrings, or a published row of a figure's."""
    folders = (f"tests/{room}/", f"planner/{room}/")
    return test.file.startswith(folders) or (room == "trade" and test.file == "tests/test_published.py")


def _speaking(trial: Trial, known: Covering, root: Path) -> set[str]:
    """Of what runs at import, where every test reaches it: the room's own tests, and the files that speak of it."""
    files = {one.file for one in known.tests}
    naming = {file for file in files if trial.name in (root / file).read_text(encoding="utf-8")}
    return {one.id for one in known.tests if one.file in naming or own(one, trial.room)}


def _copied(root: Path, folder: Path) -> Path:
    return Path(shutil.copytree(root, folder / "tree", symlinks=True, ignore=LEFT_OUT))


def _write(path: Path, text: str) -> None:
    path.write_text(text, encoding="utf-8")
    moment = next(_CLOCK)
    os.utime(path, (moment, moment))


def _options() -> list[str]:
    alone = ["-n0"] if find_spec("xdist") else []
    return ["-q", "-p", "no:cacheprovider", "-p", "trust.mutant_watch", "-m", EVERY, *alone]


def _started(copy: Path, words: Sequence[str], notes: dict[str, str], quiet: bool = True) -> "subprocess.Popen[Any]":
    paths = os.pathsep.join(str(one) for one in (copy, copy / "tests"))
    told = subprocess.DEVNULL if quiet else None
    return subprocess.Popen(
        [sys.executable, *words],
        cwd=copy,
        env=os.environ | notes | {"PYTHONPATH": paths, "MUTANT_ROOT": str(copy), "CI": "1"},  # CI: the same examples
        stdin=subprocess.DEVNULL,
        stdout=told,
        stderr=told,
        start_new_session=True,
    )


def _end(process: "subprocess.Popen[Any]") -> None:
    """Ends what a run has left over: only what it started itself."""
    with suppress(ProcessLookupError):
        os.killpg(process.pid, signal.SIGKILL)


def _short(test: str) -> str:
    return test.split("[")[0]
