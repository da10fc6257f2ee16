"""What a kind of sheet is, what can be chosen for it, and the kinds that there are."""

from collections.abc import Callable
from datetime import date
from functools import cache, cached_property
from importlib import import_module
from pathlib import Path
from typing import NamedTuple

from planner.plan.answers.flagging import Flag, flags
from planner.plan.truck.project import OpenProject
from planner.plan.work.task_list import Work, work
from planner.sheets.blocks import Block, ReadFrom
from planner.sheets.photo_files import PhotoFolder
from planner.worksheet.outcome import Spot

NOT_FOR_ORDER, STOP_RAISED = "NOT FOR ORDER", "STOP RAISED"
PAGES = "pages"  # what the diary's entry of a print calls the pages on which its tasks stand


class CannotPrint(Exception):
    """A sheet that cannot be made of this project; the message is one plain line that says what would help.

    `as_text` where it could be had as text, which each face has its own way to ask for.
    """

    def __init__(self, says: str, as_text: bool = False) -> None:
        super().__init__(says)
        self.as_text = as_text


class NothingMoved(CannotPrint):
    """A slip that would say nothing; it takes no number."""


class Asked(NamedTuple):
    """What a person asks of a sheet: one phase of the tasks, only the open ones, everything, since sheet number N, the
    distance that it is read from.

    `next_only` is for what to measure next, on one page.
    """

    phase: str = ""
    open_only: bool = False
    everything: bool = False
    since: int | None = None
    distance: str = ""
    next_only: bool = False


class Subject:
    """What a sheet is made from: the project, its flags and its tasks, each worked out once, when it is needed."""

    def __init__(self, opened: OpenProject, asked: Asked, on: date) -> None:
        self.opened, self.asked, self.on = opened, asked, on

    @cached_property
    def flags(self) -> list[Flag]:
        return flags(self.opened)

    @cached_property
    def all_flags(self) -> list[Flag]:
        """All in words, with those of the plan itself: what has changed since, what is late, what it costs."""
        from planner.plan.revisit.plan_flags import all_flags  # only the build record tells of them

        return all_flags(self.opened, flags(self.opened, worded=True))

    @cached_property
    def photos(self) -> PhotoFolder:
        return PhotoFolder(self.opened.opened.source.path)

    @cached_property
    def work(self) -> Work:
        return work(self.opened, self.flags)


class Content(NamedTuple):
    """A sheet's blocks, the values that are printed in them, and what stands across its head where there are `reasons`.

    `slip` is for a sheet that is to be as small as its blocks allow; `read_from` for one that hangs on the wall. `keys`
    are the entries printed that no formula reads, and `signs` who signs at the foot of each page.
    """

    blocks: tuple[Block, ...]
    spots: tuple[Spot, ...] = ()
    reasons: tuple[str, ...] = ()
    banner: str = STOP_RAISED
    slip: bool = False
    read_from: ReadFrom | None = None
    keys: tuple[str, ...] = ()
    signs: tuple[str, ...] = ()


class SheetKind(NamedTuple):
    """One kind of sheet: its name at the command and in the file, its title on paper, what it is for."""

    name: str
    title: str
    what: str
    build: Callable[[Subject], Content]


@cache
def names() -> tuple[str, ...]:
    """The names of all kinds of sheet: each is a module of `planner.sheets.kinds`."""
    return tuple(sorted(path.stem for path in Path(__file__).with_name("kinds").glob("[!_]*.py")))


def kind_named(name: str) -> SheetKind:
    """The kind of that name; only its own module is opened."""
    found: SheetKind = import_module(f"planner.sheets.kinds.{name}").KIND
    return found


def kinds() -> dict[str, SheetKind]:
    """Every kind of sheet by its name."""
    return {name: kind_named(name) for name in names()}


def stops(found: list[Flag], named: bool = True) -> tuple[str, ...]:
    """Every raised stop in a line each, for the head of whatever is printed; with the rule's name, if `named`."""
    raised = [flag for flag in found if flag.counts and flag.rule.severity == "stop"]
    return tuple(f"{flag.notice} ({flag.rule.name})" if named else flag.notice for flag in raised)
