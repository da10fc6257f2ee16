"""Saving the list in sight as a text file beside the project, never over a file that is there."""

import os
from pathlib import Path

from planner.project.faults import why
from planner.project.saving import put_file
from planner.quantities.text import clean


def save_list(project: Path, place: str, text: str) -> str:
    """Writes it under the first free name, and says where it is or why it is nowhere."""
    stem = project.name.removesuffix(".toml")
    for number in range(1, 1000):
        path = project.with_name(f"{stem}-{place}{f'-{number}' if number > 1 else ''}.txt")
        try:
            put_file(path, text.encode("utf-8"), os.stat(project))
        except FileExistsError:
            continue
        except OSError as error:
            return f"{clean(str(path))}: not saved: {why(error)}"
        return f"saved as {clean(path.name)}, next to the project"
    return "not saved: there are already a thousand lists like it; throw some away"
