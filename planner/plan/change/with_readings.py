"""What a changed reading brings with it, so that an entry and its readings go on saying the same."""

from collections.abc import Mapping
from typing import Any

from planner.plan.truck.project import OpenProject
from planner.project.changes import DELETE
from planner.project.faults import as_key
from planner.project.lines import Key
from planner.project.migrating import amend_or_rewrite
from planner.project.reading import understand
from planner.project.source import ProjectText, parse

LONGEST = 30  # of an entry that follows its readings; a mean of thirds has forty figures


def beside_readings(opened: OpenProject, changes: Mapping[Key, object], new: ProjectText) -> dict[Key, object]:
    """What is written beside changes to readings; `new` is the text with them.

    An entry that had no reading yet becomes one, as it stands, beside the first that differs: nobody's measurement is
    lost. One that had some follows them, or is left to them where they make a long number of it.
    """
    if not any(key[0] in ("readings", "which_counts") for key in changes):
        return {}
    then = understand(new)
    readings = then.data.get("readings", ())
    more: dict[Key, object] = {}
    # What an entry and its readings say otherwise is a fault of the entry against each of them.
    for key in [one.key for one in then.faults if any(other[0] == "readings" for other in one.against)]:
        if key[0] == "readings" or key in changes:
            continue
        if key not in opened.opened.counted and as_key(key) not in then.data.get("which_counts", {}):
            entry: Any = then.data
            for name in key:
                entry = entry[name]
            more["readings", len(readings) + len(more)] = {"of": as_key(key), "value": entry}
        else:
            without, _ = amend_or_rewrite(new.text, {key: DELETE})
            counted = understand(parse(new.path, without.encode("utf-8"))).counted.get(key)
            result = getattr(counted.value, "text", "") if counted is not None else ""
            more[key] = result if 0 < len(result) <= LONGEST else DELETE
    return more
