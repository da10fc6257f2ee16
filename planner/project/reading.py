"""Reading a project: the file, the models over it, and everything wrong with it in one pass."""

from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path
from typing import Any, NamedTuple, get_origin

from pydantic import ValidationError

from planner.project.alike_names import alike_faults, with_names_found
from planner.project.checks import checks
from planner.project.facts import inner_model
from planner.project.faults import Fault, Faulty, NothingToRead, as_key
from planner.project.lines import Key, line_of
from planner.project.model_faults import model_fault
from planner.project.models.entry import Table, entries
from planner.project.models.project import Project
from planner.project.not_known import meant, set_aside, touching
from planner.project.reading_checks import contradictions, resting_on
from planner.project.source import ProjectText, load
from planner.project.usual_tolerances import ASSUMED_SINCE, with_usual_tolerances
from planner.project.versions import brought_up_to_date, keys_as_written, version_of
from planner.project.which_counts import CountedEntry, count_readings, with_readings

MOST_PASSES = 8  # what is set aside can leave a table without what it needs, and that one its list; no deeper


class Opened(NamedTuple):
    """A project as read: the models, the text behind them, and what is kept though the program does not know it.

    `faults` is everything wrong in it. What they name is set aside, and the keys of that are `not_known`: an entry that
    is not in the models may be there and be one of these. `data` is that of the text, in the newest format; `was` has,
    by its key there, the key of an entry that an older file has elsewhere. Entries that were read are in the models as
    their readings make them: `counted` has these.
    """

    project: Project
    source: ProjectText
    notices: tuple[Fault, ...]
    data: dict[str, Any]
    faults: tuple[Fault, ...] = ()
    not_known: frozenset[Key] = frozenset()
    was: Mapping[Key, Key] = {}
    counted: Mapping[Key, CountedEntry] = {}

    @property
    def assumes(self) -> bool:
        """Whether a measured value without a ± has an assumed one: what an older file has was read as exact."""
        return (version_of(self.source.data) or 0) >= ASSUMED_SINCE

    def with_faults(self, faults: Iterable[Fault]) -> "Opened":
        """The same with more faults, of entries that are in the models: whoever reads them goes by `not_known`."""
        more = list(faults)
        gone = {key for fault in more for key in (fault.key, *fault.against)}
        found = _sorted([*self.faults, *more], self.source, self.was)
        return self._replace(faults=found, not_known=self.not_known | gone)


def read_project(path: Path) -> Opened:
    """The project at `path`, with its faults; raises `Faulty` where there is nothing to read."""
    return understand(load(path))


def raise_faults(opened: Opened) -> None:
    """Raises `Faulty` with every fault, each with its line and key, where there is one: nothing is written over it."""
    if opened.faults:
        raise Faulty(opened.source.path, opened.faults)


def understand(source: ProjectText) -> Opened:
    """The project in a text that was read, with its faults; raises `Faulty` where its format is not known.

    `NothingToRead` where it names none, such as a file that was emptied.
    """
    data = brought_up_to_date(source.data)
    if isinstance(data, Fault):
        raise (Faulty if "format" in source.data else NothingToRead)(source.path, (_placed(data, source, {}),))
    was = keys_as_written(source.data) if data is not source.data else {}
    newest = data
    data = with_names_found(data)
    strange = list(_strangers(Project, data, ()))
    faults = [fault for fault in strange if fault.accepted] + list(alike_faults(source))
    notices = [fault for fault in strange if not fault.accepted]
    project, found, gone, counted = _read(source, data, faults, was)
    notices = [notice._replace(key=as_written(notice.key, was)) for notice in notices]
    together = _sorted([*faults, *found], source, was)
    return Opened(project, source, _sorted(notices, source, {}), newest, together, frozenset(gone), was, counted)


def _read(
    source: ProjectText, data: Any, slips: list[Fault], was: Mapping[Key, Key]
) -> tuple[Project, list[Fault], set[Key], dict[Key, CountedEntry]]:
    """The models over the data, all that is wrong with it beside slips in names, the keys that are not known, and what
    was read.

    What is found after something was set aside, and lies where that was, is no fault of the person's.
    """

    def line(key: Key) -> int | None:
        return line_of(source.lines, as_written(key, was))

    faults: list[Fault] = []
    gone: set[Key] = set()
    aside: list[tuple[Key, str]] = [(key, "") for fault in slips for key in (fault.key, *fault.against)]
    for _ in range(MOST_PASSES):
        if aside:
            data, more = set_aside(data, aside)
            gone |= more
        aside = []
        try:
            project = Project.model_validate(data)
        except ValidationError as wrong:
            found = [(model_fault(error, _units(source)), error["type"]) for error in wrong.errors(include_url=False)]
        else:
            assumes = (version_of(source.data) or 0) >= ASSUMED_SINCE  # in an older file a value without a ± is exact
            counted = count_readings(project, assumes)
            by_readings = with_readings(project, counted)
            if assumes:
                by_readings = with_usual_tolerances(by_readings)
            lost = gone | set(resting_on(project, gone))
            told = (*contradictions(project, counted, line), *checks(by_readings))
            found = [(one, "") for one in told if not any(touching(lost, key) for key in (one.key, *one.against))]
            if not found:
                return by_readings, faults, lost, counted
        faults += [fault for fault, _ in found if not touching(gone, fault.key)]
        aside = [(key, kind) for fault, kind in found for key in (fault.key, *fault.against)]
    raise Faulty(source.path, _sorted([*slips, *faults], source, was))


def _units(source: ProjectText) -> str:
    """The units that the person thinks in, as far as the file can tell."""
    vehicle = source.data.get("vehicle")
    return "metric" if isinstance(vehicle, dict) and vehicle.get("units") == "metric" else "inch"


def _sorted(faults: list[Fault], source: ProjectText, was: Mapping[Key, Key]) -> tuple[Fault, ...]:
    placed = [_placed(fault, source, was) for fault in faults]
    return tuple(sorted(placed, key=lambda fault: (fault.line or 0, [str(part) for part in fault.key])))


def _placed(fault: Fault, source: ProjectText, was: Mapping[Key, Key]) -> Fault:
    return fault._replace(line=line_of(source.lines, as_written(fault.key, was)))


def as_written(key: Key, was: Mapping[Key, Key]) -> Key:
    """The key under which a file of an older format has an entry that moved, or something in one."""
    moved = next((depth for depth in range(len(key), 0, -1) if key[:depth] in was), None) if was else None
    return key if moved is None else (*was[key[:moved]], *key[moved:])


def _strangers(model: type[Table], data: Any, key: Key) -> Iterator[Fault]:
    """Every key that the models do not know."""
    if not isinstance(data, dict):
        return
    for name, value in data.items():
        info = entries(model).get(name)
        if info is None:
            yield _stranger(model, name, value, (*key, name))
            continue
        inner = inner_model(info.annotation)
        if inner is None:
            continue
        if get_origin(info.annotation) is dict and isinstance(value, dict):
            for member, one in value.items():
                yield from _strangers(inner, one, (*key, name, member))
        elif get_origin(info.annotation) is list and isinstance(value, list):
            for index, one in enumerate(value):
                yield from _strangers(inner, one, (*key, name, index))
        else:
            yield from _strangers(inner, value, (*key, name))


def _stranger(model: type[Table], name: str, value: Any, key: Key) -> Fault:
    """A key close to one that is known is a slip of the pen; any other is the person's own, and kept.

    With a slip the entry that was meant is in question too: nothing may stand there that was only not entered.
    """
    from planner.project.versions import GONE, near_name  # only a slip of the pen needs it

    gone = GONE.get(model, {})
    if name in gone:
        place = (*key[:-2], gone[name], name)
        return Fault("this entry moved in format 2", key, None, name, as_key(place), (place,))
    near = near_name(name, [*entries(model), *gone])
    if near:
        accepted = f"{near}, if that is what you meant"
        there = (*key[:-2], gone[near], near) if near in gone else None
        against = (there,) if there is not None else tuple(meant(model, near, value, key[:-1]))
        return Fault("there is no such entry", key, None, name, accepted, against)
    return Fault("the planner doesn't know this entry; it keeps it and doesn't use it", key)
