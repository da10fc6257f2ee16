"""The planner on the command line."""

import gc
import sys

from planner.commands.table import main


def start() -> int:
    """What the installed `planner` command runs; gives the exit code."""
    gc.disable()  # a command lives for a moment: looking for garbage would cost it a tenth of that
    return main(sys.argv[1:])


if __name__ == "__main__":
    sys.exit(start())
