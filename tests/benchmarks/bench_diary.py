"""How long a diary takes to open, as it grows.

    (cd tests && python -m benchmarks.bench_diary [--rounds 5])

The entries change the first example project, one fact at a time and back again. What is compared with is reading the
same file as JSON Lines with the standard library and nothing else. Beside it stands what adding an entry takes, and
making a text: the worst of the oldest, the middle and the latest.
"""

import json
import shutil
import tempfile
from collections.abc import Callable, Iterator
from itertools import pairwise
from pathlib import Path
from time import perf_counter, process_time

from benchmarks.ratio import Asked, Ratio, run

from planner.project.amending import amend
from planner.project.diary import commit
from planner.project.diary_entries import WHOLE_EVERY, KeyChange, line_for, pack
from planner.project.diary_reading import diary_path, read_diary, text_at
from planner.project.source import digest_of, load

SIZES = (1_000, 10_000, 100_000)
SHORT = (100, 300)
KEY = ("axles", "front", "load")


def write_diary(project: Path, size: int) -> None:
    """A diary of that many entries, the last of which left the project as it stands."""
    text = project.read_text(encoding="utf-8")
    texts = [text] + [amend(text, {KEY: f"{3000 + number} lb"}) for number in range(1, WHOLE_EVERY)] + [text]
    raws = [one.encode() for one in texts]
    digests = [digest_of(raw) for raw in raws]
    packs = [pack(None, raws[1])] + [pack(old, new) for old, new in pairwise(raws[1:])]
    previous = ""
    with open(diary_path(project), "wb") as file:
        for number in range(1, size + 1):
            at = (number - size - 1) % WHOLE_EVERY
            moved = (KeyChange(KEY, f"{3000 + at} lb", f"{3000 + at + 1} lb"),)
            because = f"weighed again, pass {number}"
            given = (moved, {}, digests[at], digests[at + 1], packs[at], at)
            row, entry = line_for(number, "2026-03-14T09:26:53Z", "change", because, *given, previous)
            file.write(row)
            previous = entry.sum


def least(rounds: int, act: Callable[[], object], clock: Callable[[], float] = process_time) -> float:
    taken = []
    for _ in range(rounds):
        start = clock()
        act()
        taken.append(clock() - start)
    return min(taken)


def as_json(path: Path) -> list[object]:
    with open(path, "rb") as file:
        return [json.loads(row) for row in file]


def measured(asked: Asked) -> list[Ratio]:
    with tempfile.TemporaryDirectory() as folder:
        project = Path(folder) / "truck.toml"
        shutil.copy(asked.project, project)
        return [*_measured(project, SHORT if asked.short else SIZES, asked.times(5))]


def _measured(project: Path, sizes: tuple[int, ...], rounds: int) -> Iterator[Ratio]:
    first = 0.0
    for size in sizes:
        write_diary(project, size)
        place = diary_path(project)
        diary = read_diary(project)
        assert len(diary.entries) == size and not diary.troubles
        assert text_at(diary, size) == project.read_text(encoding="utf-8")
        plain = least(rounds, lambda place=place: as_json(place))
        ours = least(rounds, lambda: read_diary(project))
        first = first or ours / size
        texts = [least(rounds, lambda at=at, diary=diary: text_at(diary, at)) for at in (1, size // 2, size)]
        source = load(project)
        adding = least(rounds, lambda source=source: commit(source, source.text, kind="note"), perf_counter)
        yield Ratio(f"{size} entries opened", ours / plain, "plain JSON", ours)
        yield Ratio(f"one of {size} entries opened", ours / size / first, f"one of {sizes[0]}", ours / size)
        yield Ratio(f"one added to {size}", adding / ours, "opening", adding)
        yield Ratio(f"a text of {size}", max(texts) / ours, "opening", max(texts))


if __name__ == "__main__":
    run(measured, __doc__)
