"""How long `planner check` takes against importing what it needs, run by run in turn.

    (cd tests && python -m benchmarks.bench_start [PROJECT] [--python PYTHON])

PYTHON should be one with the planner installed (`pip install .`), so that its modules are compiled. `read` is the least
that any command can cost: the file parsed, its models built and held over it, and nothing worked out.
"""

from benchmarks.ratio import Asked, Ratio, in_turn, run

BASE = "import pydantic, pint, tomllib"
READ = """
import gc, sys; gc.disable()
from pathlib import Path
from planner.project.reading import read_project
read_project(Path(sys.argv[1]))
"""


def measured(asked: Asked) -> list[Ratio]:
    project = str(asked.project)
    commands = {
        BASE: [asked.python, "-c", BASE],
        "read": [asked.python, "-c", READ, project],
        "check": [asked.python, "-m", "planner", "check", project],
    }
    _, read, check = in_turn(commands, asked.times(20))
    return [read, check._replace(wanted=1.5)]


if __name__ == "__main__":
    run(measured, __doc__)
