"""`planner takes FILE SIZE`: what it would take to run a tire size or a candidate, stop by stop."""

from argparse import Namespace
from collections.abc import Iterable, Iterator

from planner.commands import faults_first
from planner.commands.flag_page import short
from planner.commands.page import as_json, ink, paragraph
from planner.commands.recorded import carried_out, written_down
from planner.commands.table import FINE, RAISED, project_parser
from planner.plan.answers.flagging import Flag
from planner.plan.answers.open_project import open_project
from planner.plan.takes.considering import considered, started
from planner.plan.takes.least_changes import MOST_AT_ONCE, OF_THE_TIRE, LeastChange, WhatItTakes, what_it_takes
from planner.plan.takes.sized_candidate import AskedFor, asked_for
from planner.plan.takes.takes_words import as_data, cautions, change_words, cost_words, summary, title, together_words
from planner.plan.truck.project import OpenProject
from planner.plan.truck.recording import Recording, RefusedChange
from planner.quantities.text import clean

EXAMPLE = """examples:
  planner takes projects/county-road-4x4.toml 40x13.50R17LT
  planner takes truck.toml tall --json
  planner takes truck.toml tall --consider 3 --because "cheapest of them"
  planner takes truck.toml 38x13.50R17LT --as 38s

A size is tried on the wheels, and with the changes, of the candidate you planned.
--consider writes down a change to the truck as one you're considering; compare
shows what else it changes. What changes the tire, wheel or gears is a candidate of
its own: --as starts it.

exit code: 0 nothing stands in the way, 1 something does or can't be judged yet, 2 the
file or the command is wrong"""


_COUNTED = {2: "two", 3: "three"}
_LISTED = 8  # of what can't be judged yet, and of what it waits for


def run(arguments: list[str]) -> int:
    parser = project_parser("planner takes", __doc__, EXAMPLE)
    parser.add_argument("size", metavar="SIZE", help="a tire size, or one of your candidates")
    parser.add_argument("--consider", type=int, metavar="N", help="note change N as one you consider")
    parser.add_argument("--as", dest="named", metavar="NAME", help="start a candidate with the size, or with change N")
    parser.add_argument("--because", default="", metavar="WHY", help="why you consider it")
    parser.add_argument("--json", action="store_true", help="print one JSON object, values in SI")
    asked = parser.parse_args(arguments)
    return carried_out("planner takes", lambda: _answer(asked))


def _answer(asked: Namespace) -> int:
    opened = open_project(asked.file)
    if asked.consider is not None or asked.named is not None:
        return written_down(opened, lambda now: _recording(now, asked), asked.json)
    faults_first.tell_faults(opened)
    meant = asked_for(opened, asked.size)
    found = what_it_takes(meant.opened, meant.fitment)
    if asked.json:
        print(as_json(faults_first.with_faults(opened, as_data(found, meant))))
    else:
        print("\n".join([*faults_first.head(opened), *_page(found, meant)]))
    return faults_first.exit_code(opened, RAISED if found.stops or found.beyond or found.not_known else FINE)


def _recording(opened: OpenProject, asked: Namespace) -> Recording:
    meant = asked_for(opened, asked.size)
    change = None
    if asked.consider is not None:
        changes = numbered(what_it_takes(meant.opened, meant.fitment))
        if not 1 <= asked.consider <= len(changes):
            raise RefusedChange(f"there is no change {asked.consider}; planner takes FILE {asked.size} numbers them")
        change = changes[asked.consider - 1]
    if asked.named is not None:
        return started(opened, meant, change, asked.named)._replace(because=asked.because)
    assert change is not None
    return considered(opened, meant, change, asked.because)


def numbered(found: WhatItTakes) -> list[LeastChange]:
    """Every single change, as the page numbers them."""
    return [one for stop in found.stops for one in stop.changes]


def _page(found: WhatItTakes, asked: AskedFor) -> list[str]:
    opened = found.opened
    lines = [ink(clean(opened.project.vehicle.name or "A truck without a name"), "strong")]
    lines += paragraph(title(asked), 2)
    lines += ["", *paragraph(f"{summary(found) or 'nothing stands in the way'}"), *_all_at_once(found)]
    number = 0
    for stop in found.stops:
        lines += ["", *_stop_line(opened, stop.flag)]
        for one in stop.changes:
            number += 1
            lines += paragraph(change_words(opened, one), 2, f"{number:>2}. ")
            cost = cost_words(opened, one)
            lines += [ink(line, "faint") for line in paragraph(cost, 6)] if cost else []
    lines += list(_rest(found))
    if found.stops:
        lines += ["", *paragraph("Each is the least that does it by itself, with every reading off the wrong way; the "
        "rest of the truck as planned.")]  # fmt: skip
    return [*lines, *(line for caution in cautions(found) for line in paragraph(caution, 0, "CAUTION  ")),
            "Local codes and licensed practice come first."]  # fmt: skip


def _stop_line(opened: OpenProject, flag: Flag) -> list[str]:
    close = flag.verdict.answer == "too close to call"
    mark = f"{'STOP?' if close else 'STOP':<9}"
    margin = short(opened, flag)
    lines = paragraph(clean(f"{flag.notice}: {margin}" if margin else flag.notice), 0, mark)
    return [ink(mark, "stop") + lines[0][len(mark) :], *lines[1:]]


def _all_at_once(found: WhatItTakes) -> Iterator[str]:
    if len(found.stops) < 2:
        return
    tire = found.together and any(one.lever.name in OF_THE_TIRE for way in found.together for one in way)
    if tire or not found.together:
        other = "; another tire would do:" if tire else ""
        yield from (
            "",
            *paragraph(f"With this tire no {_COUNTED[MOST_AT_ONCE]} of these changes clear all of them{other}"),
        )
    else:
        yield from ("", ink("To clear all of them", "strong"))
    for way in found.together:
        yield from paragraph(together_words(found.opened, way), 2, "- ")


def _rest(found: WhatItTakes) -> Iterator[str]:
    opened = found.opened
    if found.beyond:
        yield from ("", ink("None of these changes clears", "strong"))
        for flag in found.beyond:
            yield from _stop_line(opened, flag)
            yield from paragraph(_instead(flag), 9)
    if found.not_known:
        yield from ("", ink("Can't be judged yet", "strong"))
        wants = dict.fromkeys(want for flag in found.not_known for want in flag.wants)
        yield from paragraph(f"{_first(dict.fromkeys(flag.rule.notices for flag in found.not_known), '; ')}.", 2)
        yield from paragraph(f"Enter: {_first(wants, ', ')}.", 2)


def _instead(flag: Flag) -> str:
    """What would do instead: a better reading of what is too close to call, else what its rule says."""
    return f"measure {'; '.join(flag.settles)}" if flag.settles else flag.cure


def _first(told: Iterable[str], between: str) -> str:
    """The first few of a list, and how many more there are."""
    every = list(map(clean, told))
    more = [f"and {len(every) - _LISTED} more"] if len(every) > _LISTED else []
    return between.join([*every[:_LISTED], *more])
