"""A change tried before it is made: what it moves, raises, clears and puts in question; and then making it.

The text is amended, understood and worked out as if it were the file, and held against the project as it is. What comes
out is one `Effects`, for the screens and the sheets as much as for the command.
"""

from collections.abc import Sequence
from datetime import date
from typing import Any, NamedTuple

from planner.plan.answers.flagging import each_flag, gathered
from planner.plan.answers.open_project import work_out
from planner.plan.change.affected_parts import AffectedPart, affected_parts
from planner.plan.change.cure import refuse_half_cure, still_faulty
from planner.plan.change.figure_changes import FigureChange, figure_changes
from planner.plan.change.flag_changes import FlagChange, SideFlags, differing, flag_changes
from planner.plan.change.mock_up_recordings import bases_of_new, without_bases
from planner.plan.change.new_by_name import by_name
from planner.plan.change.refused_over_stops import refuse_over_stops
from planner.plan.change.typed_tolerances import Narrowed, narrowed, typed_over
from planner.plan.change.widening import Widening, widening
from planner.plan.change.with_readings import as_readings, beside_readings
from planner.plan.revisit.plan_flags import plan_flags
from planner.plan.revisit.stale_records import StaleRecord, newly_stale, stale_records
from planner.plan.truck.entry_names import name_of
from planner.plan.truck.keys import BadValue, FoundKey, UnknownKey, Wants, find_key, value_as_data
from planner.plan.truck.project import OpenProject
from planner.plan.truck.recording import RefusedChange
from planner.plan.work.buying import beside_states
from planner.plan.work.money import Money, money
from planner.plan.work.task_list import work_or_why
from planner.project.changes import DELETE, changed, held_at
from planner.project.diary import Committed, commit
from planner.project.diary_entries import KeyChange, key_changes
from planner.project.faults import Fault, Faulty, as_key, plain
from planner.project.lines import Key
from planner.project.migrating import OLD_KEPT, amend_or_rewrite
from planner.project.reading import Opened, understand
from planner.project.source import ProjectText, parse
from planner.project.versions import version_of


class Setting(NamedTuple):
    """One key as a person types it, and the value that it is to have; an empty value takes the entry away."""

    key: str
    value: str


class TakenSettings(NamedTuple):
    """Settings as changes to the file's data, the tables that they begin, and what is said of their tolerances."""

    changes: dict[Key, object]
    begun: tuple[str, ...]
    typed: tuple[str, ...]


class Effects(NamedTuple):
    """All that a change touches.

    `cost` and `finish` are before and after, `finish` None where there are no dates; `schedule_error` says why the
    work, which could be put in order before, no longer can.
    """

    figures: tuple[FigureChange, ...]
    flags: tuple[FlagChange, ...]
    again: tuple[StaleRecord, ...]
    parts: tuple[AffectedPart, ...]
    sheets: tuple[StaleRecord, ...]
    cost: tuple[Money, Money]
    finish: tuple[date | None, date | None]
    schedule_error: str = ""

    @property
    def up(self) -> tuple[FlagChange, ...]:
        return tuple(flag for flag in self.flags if flag.how == "up")

    @property
    def cleared(self) -> tuple[FlagChange, ...]:
        return tuple(flag for flag in self.flags if flag.how == "cleared")

    @property
    def changed(self) -> tuple[FlagChange, ...]:
        """Flags whose answer or margin is another, and that neither came up nor were cleared."""
        return tuple(flag for flag in self.flags if flag.how in ("answer", "margin"))


class TriedChange(NamedTuple):
    """A change that was not made yet: what it sets, the project before and after it, and what it touches.

    `begun` are tables that it makes; `comments_lost` says that the text would have to be written anew; `only_format`
    that the file is brought to the newest format, as was asked, and nothing else is changed. `typed` says which
    tolerance a typed value has, `narrowed` which became less and `cleared_so` what is clear by that alone; `widening`
    is what the first save of an older file brings.
    """

    moved: tuple[KeyChange, ...]
    before: OpenProject
    after: OpenProject
    effects: Effects
    begun: tuple[str, ...] = ()
    comments_lost: bool = False
    only_format: bool = False
    typed: tuple[str, ...] = ()
    narrowed: tuple[Narrowed, ...] = ()
    cleared_so: tuple[FlagChange, ...] = ()
    widening: Widening | None = None


def try_settings(opened: OpenProject, settings: Sequence[Setting], because: str = "") -> TriedChange:
    """What comes of setting these keys; raises `RefusedChange` or, with every fault in the changed text, `Faulty`.

    Refused is a key that there is not, a value that is none, and what ties the tasks in a circle. `because` is the
    reason of a limit that is set and has none in the file.
    """
    taken = settings_as_changes(opened, settings, because)
    trial = try_with_readings(opened, taken.changes)
    return trial._replace(begun=taken.begun, typed=taken.typed)


def try_with_readings(opened: OpenProject, changes: dict[Key, object]) -> TriedChange:
    """What comes of changes to the file's data and of what goes beside changed readings and parts."""
    changes = as_readings(opened, changes)
    changes = changes | beside_readings(opened, changes, amended(opened.opened.source, changes)[0])
    trial = try_changes(opened, changes)
    beside = beside_states(opened, trial.after, changes)
    return try_changes(opened, changes | beside) if beside else trial


def settings_as_changes(project: OpenProject, settings: Sequence[Setting], because: str = "") -> TakenSettings:
    """The changes to the file's data that these settings are; raises `RefusedChange`."""
    opened = project.opened
    changes: dict[Key, object] = {}
    begun: dict[str, None] = {}
    typed: list[str] = []
    new: dict[Key, dict[str, object]] = {}
    for setting in settings:
        named = by_name(opened.data, setting.key)
        try:
            found = find_key(opened, named.key)
            key, _, standing = found
            value = value_as_data(setting.value, *_wanted(opened, found, settings))
        except UnknownKey as unknown:
            raise RefusedChange(str(unknown)) from None
        except BadValue as misgiven:
            raise RefusedChange(f"{plain(setting.key)}: {misgiven}") from None
        if any(key[: len(other)] == other[: len(key)] for other in changes):
            raise RefusedChange(f"{as_key(key)}: given twice")
        if value is DELETE and standing is None:
            raise RefusedChange(f"{as_key(key)}: isn't in the file; there's nothing to delete")
        data, says = (value, ()) if value is DELETE else typed_over(found, value, project.style)
        typed += [f"{setting.key if named.begins else name_of(key, opened.data) or as_key(key)}: {one}" for one in says]
        if named.begins:
            table = next((one for one in new.values() if named.begins.items() <= one.items()), None)
            at = (*key[:-2], len(opened.data.get(str(key[0]), ())) + sum(one[0] == key[0] for one in new))
            table = new.setdefault(at, dict(named.begins)) if table is None else table
            if str(key[-1]) in table:
                raise RefusedChange(f"{plain(setting.key)}: given twice")
            table[str(key[-1])] = data
            continue
        changes[key] = data
        if len(key) > 2 and key[0] == "fitments" and held_at(opened.data, key[:2]) is None:  # a table of a new name
            begun[as_key(key[:2])] = None
        opened = _with_element(opened, key)
    changes |= new
    for key in [one for one in changes if len(one) == 3 and one[0] == "limits" and one[2] == "value"]:
        reason = (*key[:2], "because")
        if because and reason not in changes and not held_at(opened.data, reason):
            changes[reason] = because
    return TakenSettings(changes, tuple(begun), tuple(typed))


def _with_element(opened: Opened, key: Key) -> Opened:
    """The file with the element of a list that a key begins, so that one behind it may be begun in the same change."""
    for depth in (at for at, name in enumerate(key[:-1]) if isinstance(name, int)):
        held = held_at(opened.data, key[:depth])
        if key[depth] == len(held if isinstance(held, list) else ()):
            return opened._replace(data=changed(opened.data, {key[: depth + 1]: {}}))
    return opened


def _wanted(opened: Opened, found: FoundKey, settings: Sequence[Setting]) -> tuple[Wants, Any]:
    """What is wanted at a key, and what stands there; of what was read, that of the entry that the reading is of."""
    key, wants, standing = found
    if len(key) != 3 or key[0] != "readings" or key[2] != "value":
        return wants, standing
    table = as_key(key[:2])
    of = next((one.value for one in settings if one.key == f"{table}.of"), held_at(opened.data, (*key[:2], "of")))
    try:
        entry = find_key(opened, str(of))
    except UnknownKey:  # told where the file is understood
        return wants, standing
    if entry.wants.model is not None:  # a mock-up reading is of an obstacle or a brake, and its value is a gap
        return wants, standing
    return entry.wants, entry.value if standing is None else standing


def what_stands(opened: Opened, settings: Sequence[Setting]) -> list[Any]:
    """What stands where these settings lead; the whole of what is in a list, since its number may be another's."""
    found: list[Any] = []
    for setting in settings:
        try:
            key, _, standing = find_key(opened, by_name(opened.data, setting.key).key)
        except UnknownKey:  # in what these settings make themselves, such as the second of two new quotes
            found.append(None)
            continue
        last = max((at for at, name in enumerate(key) if isinstance(name, int)), default=None)
        found.append(standing if last is None else held_at(opened.data, key[: last + 1]))
    return found


def try_changes(opened: OpenProject, changes: dict[Key, object]) -> TriedChange:
    """What comes of changes to the file's data, as for `amend`; raises as `try_settings`."""
    source = opened.opened.source
    new, lost = amended(source, changes)
    after = opened if new.text == source.text else work_out(understand(new), opened.today)
    bases = {} if after.opened.faults else bases_of_new(after, changes)
    if bases:
        new, lost_so = amended(new, bases)
        lost, after = lost or lost_so, work_out(understand(new), opened.today)
    refuse_half_cure(opened, after)
    trial = tried(opened, after)
    trial = trial._replace(comments_lost=lost, moved=tuple(without_bases(trial.moved)))
    if after is not opened:
        trial = _with_tolerances(trial, new)
    if ("format",) in changes and not trial.moved:
        trial = trial._replace(only_format=version_of(source.data) != version_of(new.data))
    if trial.effects.schedule_error:
        raise RefusedChange(trial.effects.schedule_error)
    return trial


def _with_tolerances(trial: TriedChange, new: ProjectText) -> TriedChange:
    """The trial with which tolerances became less, what is clear by that alone, and what a first save brings."""
    before, after = trial.before, trial.after
    found = tuple(narrowed(before.opened, after.opened, trial.moved, after.style))
    cleared: tuple[FlagChange, ...] = ()
    if found:
        text, _ = amended(new, {one.key: one.kept for one in found})  # with the value that each has now
        wide = work_out(understand(text), before.today)
        if not wide.opened.faults:  # else the new value with the old tolerance is nothing at all
            cleared = tuple(one for one in flag_changes(wide, after) if one.how == "cleared")
    return trial._replace(narrowed=found, cleared_so=cleared, widening=widening(before))


def amended(source: ProjectText, changes: dict[Key, object]) -> tuple[ProjectText, bool]:
    """The file's text with the changes in it, and whether its comments were lost; raises `Faulty`."""
    try:
        text, kept = amend_or_rewrite(source.text, changes)
        return parse(source.path, text.encode("utf-8")), kept is not None
    except UnicodeEncodeError:
        raise Faulty(source.path, (Fault("a text holds half a character (a lone surrogate)"),)) from None
    except ValueError as misfit:  # such as a table where there is an entry
        raise Faulty(source.path, (Fault(str(misfit)),)) from None


def tried(before: OpenProject, after: OpenProject) -> TriedChange:
    """One state of a project held against another, such as the one that a sheet was printed from."""
    moved = tuple(key_changes((), before.opened.data, after.opened.data))
    return TriedChange(moved, before, after, effects(before, after, moved))


def effects(before: OpenProject, after: OpenProject, moved: Sequence[KeyChange]) -> Effects:
    """All that is not as it was."""
    sides = (before, after)
    each = [each_flag(side) for side in sides]
    found = [gathered(side, own) for side, own in zip(sides, each, strict=True)]
    plans = [plan_flags(side, own) for side, own in zip(sides, found, strict=True)]
    raised = differing(SideFlags(before, each[0], plans[0]), SideFlags(after, each[1], plans[1]))
    lists = [work_or_why(side, own) for side, own in zip(sides, found, strict=True)]
    dates = [listed.dates.ahead.finish if listed else None for listed, _ in lists]
    again = newly_stale(stale_records(before), stale_records(after))
    records = tuple(one for one in again if one.record != "sheet")
    return Effects(
        figures=tuple(figure_changes(sides)),
        flags=tuple(raised),
        again=records,
        parts=tuple(affected_parts(before, after, moved, raised, records)),
        sheets=tuple(one for one in again if one.record == "sheet"),
        cost=(money(before), money(after)),
        finish=(dates[0], dates[1]),
        schedule_error="" if lists[0][1] else lists[1][1],
    )


def make(trial: TriedChange, because: str) -> Committed:
    """Makes the change that was tried: file and diary together, or neither; raises `NotSaved` or `RefusedChange`."""
    found = trial.effects
    details: dict[str, object] = {
        "raised": sorted({flag.rule.name for flag in found.up}),
        "cleared": sorted({flag.rule.name for flag in found.cleared}),
        "look_again": [one.key for one in (*found.again, *found.sheets)],
    }
    details |= {"narrowed": [one.says for one in trial.narrowed]} if trial.narrowed else {}
    details |= trial.widening.details if trial.widening else {}
    return _committed(trial, because, details)


class Mended(NamedTuple):
    """A mending that was not made yet: what it sets, the project before it, whose faults it takes away, and after it.

    The two are not held against each other: what only became known was no change of the truck.
    """

    moved: tuple[KeyChange, ...]
    before: OpenProject
    after: OpenProject
    begun: tuple[str, ...] = ()
    comments_lost: bool = False
    typed: tuple[str, ...] = ()


def try_mending(opened: OpenProject, settings: Sequence[Setting], because: str = "") -> Mended:
    """What comes of setting these keys in a file with faults.

    Raises `RefusedChange` as a change does, `StillFaulty` with what would be left.
    """
    source = opened.opened.source
    taken = settings_as_changes(opened, settings, because)
    new, lost = amended(source, taken.changes)
    try:
        after = work_out(understand(new), opened.today)
    except Faulty as faulty:  # its format is none any more
        raise still_faulty(source, faulty.faults) from None
    refuse_half_cure(opened, after)
    moved = tuple(key_changes((), opened.opened.data, after.opened.data))
    return Mended(moved, opened, after, taken.begun, lost, taken.typed)


def mend(trial: Mended, because: str) -> Committed:
    """Makes the mending that was tried: file and diary together, or neither; raises `NotSaved` or `RefusedChange`."""
    return _committed(trial, because, {"mended": [as_key(fault.key) for fault in trial.before.opened.faults]})


def _committed(trial: TriedChange | Mended, because: str, details: dict[str, object]) -> Committed:
    refuse_over_stops(trial.before, trial.after)
    source, kept = trial.before.opened.source, OLD_KEPT if trial.comments_lost else None
    return commit(source, trial.after.opened.source, kind="change", because=because, details=details, keep_old=kept)
