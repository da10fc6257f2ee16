"""Photos put to a task, a part, a wheel or a decision: names of files beside the project, each with what it shows."""

import os
from collections.abc import Sequence
from pathlib import Path

from planner.plan.change.task_recordings import find_task
from planner.plan.truck.project import OpenProject
from planner.plan.truck.recording import Recording, RefusedChange
from planner.plan.work.item import Item
from planner.plan.work.task_list import Work
from planner.project.checks import MOST
from planner.project.lines import Key
from planner.project.photo_names import ACCEPTED, photo_named, steps_to
from planner.quantities.text import clean, cut

ABOUT = "a picture beside the project, and behind a colon what it shows: hub.jpg: the boss, cleaned"
MANY = MOST["tasks[].photos"]
_SAID = 80  # letters of a name


def why_no_photo(written: str) -> str:
    """Why this names no picture beside the project; empty where it does."""
    good = steps_to(photo_named(written).name)
    return "" if good else f"photo: read '{cut(clean(written), _SAID)}'; accepted: {ACCEPTED}"


def photograph_task(opened: OpenProject, listed: Work, id_: str, photos: Sequence[str]) -> Recording:
    """Photos put to a task; one that it has is given its new caption."""
    one = find_task(listed, id_)
    return with_photos(opened, one, Recording({}, "photo", f"{clean(one.id)}: photo", "", {"task": one.id}), photos)


def with_photos(opened: OpenProject, one: Item, recording: Recording, photos: Sequence[str]) -> Recording:
    """What is recorded of a task, and these photos with it; `RefusedChange` where one cannot be of a picture here."""
    if not photos:
        return recording
    held, says = _put(opened, one.record.photos if one.record else (), photos)
    key: Key = ("tasks", len(opened.project.tasks) if one.at is None else one.at)
    changes = dict(recording.changes)
    if one.at is None:
        row = changes.get(key)
        changes[key] = {"id": one.id, **(row if isinstance(row, dict) else {}), "photos": held}
    else:
        changes[(*key, "photos")] = held
    return recording._replace(changes=changes, says=f"{recording.says} {says}")


def photograph(opened: OpenProject, table: str, at: int, photo: str) -> Recording:
    """A photo put to a row of a list, such as the third of the parts."""
    held, says = _put(opened, getattr(opened.project, table)[at].photos, [photo])
    return Recording({(table, at, "photos"): held}, "photo", f"{opened.typed(f'{table}[{at}].photos')}: {says}")


def _put(opened: OpenProject, standing: Sequence[str], photos: Sequence[str]) -> tuple[list[str], str]:
    """All photos by then, and what is said of the new ones."""
    held = {photo_named(photo).name: photo for photo in standing}
    folder = Path(os.path.realpath(opened.opened.source.path)).parent
    missing = []
    for photo in photos:
        if trouble := why_no_photo(photo):
            raise RefusedChange(trouble)
        name, caption = photo_named(photo)
        held[name] = f"{name}: {caption}" if caption else name
        if not folder.joinpath(*steps_to(name)).is_file():
            missing.append(cut(clean(name), _SAID))
    if len(held) > MANY:
        raise RefusedChange(f"photo: the limit is {MANY}, and that would be {len(held)}")
    lost = f"; beside the project there is no {' and no '.join(missing)} yet" if missing else ""
    return [*held.values()], ", ".join(cut(clean(photo_named(photo).name), _SAID) for photo in photos) + lost
