"""How long the next question takes after an answer, in processor time, against 100 ms.

    (cd tests && python -m benchmarks.bench_ask [--rounds N])

The 95th percentile over a first evening, which is the wheel at both axles, and over a whole truck, where each question
is answered by its own example. Toward its end an answer moves all that the truck has: both windows are worked out anew.
On the screens the next question is in sight before that, marked as being worked out: how long that takes stands last.
"""

import gc
import tempfile
from pathlib import Path
from time import process_time

from benchmarks.ratio import Asked, Ratio, run

from planner.plan.answers.open_project import open_project
from planner.plan.asking.answering import example_of, such_as
from planner.plan.asking.interview import Interview, ahead, begin, hear

WANTED = 0.1  # s
FIRST_EVENING, WHOLE_TRUCK = 26, 150  # questions at most
EMPTY = 'format = 2\n[vehicle]\nname = "an old truck"\nunits = "inch"\n'


def answer(interview: Interview) -> str:
    """An answer to the present question, as its own words give it."""
    entries = [one.choices[0] if one.choices else example_of(interview.state.opened, one) for one in interview.fields]
    asked = interview.asked
    assert asked is not None
    return ", ".join(entries) or such_as(interview.state.opened, asked.question, 0).partition("such as ")[2]


def measured(asked: Asked) -> list[Ratio]:
    gc.disable()  # as the command has it
    took: list[float] = []
    firsts: list[float] = []
    in_sight: list[float] = []
    for _ in range(asked.times(3)):
        own: list[float] = []
        with tempfile.TemporaryDirectory() as folder:
            path = Path(folder) / "truck.toml"
            path.write_text(EMPTY, encoding="utf-8")
            interview = begin(open_project(path))
            while interview.asked is not None and len(own) < (5 if asked.short else WHOLE_TRUCK):
                said = answer(interview)
                began = process_time()
                ahead(interview, said)
                in_sight.append(process_time() - began)
                began = process_time()
                interview = hear(interview, said).then
                assert interview.asked is None or interview.asked.question.id
                own.append(process_time() - began)
        took += own
        firsts += own[:FIRST_EVENING]
    return [
        Ratio(name, _worst(several) / WANTED, "100 ms", _worst(several), None if several is took else 1.0)
        for name, several in (
            ("a first evening", firsts),
            ("a whole truck", took),
            ("a whole truck, on the screens until it shows", in_sight),
        )
    ]


def _worst(took: list[float]) -> float:
    """The 95th percentile."""
    return sorted(took)[int(0.95 * (len(took) - 1))]


if __name__ == "__main__":
    run(measured, __doc__)
