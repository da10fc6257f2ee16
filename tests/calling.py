"""Calling a command as a person or a script does."""

from planner.commands.table import main


def call(capsys, *arguments: object) -> tuple[int, str, str]:
    """The exit code, and what was printed on standard output and on standard error."""
    try:
        code = main([str(one) for one in arguments])
    except SystemExit as left:
        code = int(left.code or 0)
    printed = capsys.readouterr()
    return code, printed.out, printed.err


def one_line(text: str) -> bool:
    return text.count("\n") == 1 and text.endswith("\n")
