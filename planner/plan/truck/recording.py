"""What a person does, as changes to the file that are still to be made, and what cannot be recorded so."""

from collections.abc import Mapping
from typing import Literal, NamedTuple

from planner.project.lines import Key

Takes = Literal["", "signature", "reason", "all the same", "which counts", "list"]


class RefusedChange(ValueError):
    """What cannot be recorded so; the message is one line that says what would do.

    `takes` is what it takes, where each face has a way of its own to give it: the command line has options, and adds
    them to the line; the screens ask.
    """

    def __init__(self, says: str, takes: Takes = "") -> None:
        super().__init__(says)
        self.takes = takes


class Recording(NamedTuple):
    """What is to be written: the changes to the file, and what the diary and the person are told."""

    changes: dict[Key, object]
    kind: str
    says: str
    because: str = ""
    details: Mapping[str, object] = {}
