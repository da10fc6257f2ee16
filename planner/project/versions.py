"""The format's versions: an older file is brought up to date in memory; only a save writes it."""

from collections.abc import Callable, Mapping
from typing import Any

from planner.project.faults import Fault
from planner.project.models.project import FORMAT

Data = dict[str, Any]
Step = Callable[[Data], Data]

# One step a version: STEPS[1] would turn the data of a format 1 file into format 2. Format 1 is the first.
STEPS: Mapping[int, Step] = {}


def brought_up_to_date(data: Data, steps: Mapping[int, Step] = STEPS, newest: int = FORMAT) -> Data | Fault:
    """The data in the newest format, or what is wrong with its version; the given data is left alone."""
    version = data.get("format")
    if version is None:
        return Fault("the file does not say which format it has", ("format",), None, "", f"format = {newest}")
    if isinstance(version, bool) or not isinstance(version, int) or version < 1:
        return Fault("", ("format",), None, str(version), f"a whole number, {newest} for this program")
    if version > newest:
        return Fault(
            f"this file was made by a newer program (format {version}); it is left unharmed",
            ("format",),
            None,
            "",
            f"a file of format {newest} or older, or a newer planner",
        )
    for old in range(version, newest):
        data = {**steps[old](data), "format": old + 1}
    return data
