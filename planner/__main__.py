"""The planner on the command line."""

import sys

from planner.commands.table import main


def start() -> int:
    """What the installed `planner` command runs; gives the exit code."""
    return main(sys.argv[1:])


if __name__ == "__main__":
    sys.exit(start())
