"""How long `planner change` and `planner compare` take against `planner check`, run by run in turn.

    (cd tests && python -m benchmarks.bench_change [--python PYTHON])

A change works a project out twice, so it may cost twice a check. PYTHON should be one with the planner installed
(`pip install .`), so that its modules are compiled. The project is one that has a fitment `tall`.
"""

from benchmarks.ratio import Asked, Ratio, in_turn, run

SETTING = "fitments.tall.wheel.backspace=4 1/2 in ± 1/16 in"


def measured(asked: Asked) -> list[Ratio]:
    planner, project = [asked.python, "-m", "planner"], str(asked.project)
    commands = {
        "check": [*planner, "check", project],
        "change": [*planner, "change", project, SETTING],
        "compare": [*planner, "compare", project],
    }
    _, change, compare = in_turn(commands, asked.times(15))
    return [change._replace(wanted=2), compare]


if __name__ == "__main__":
    run(measured, __doc__)
