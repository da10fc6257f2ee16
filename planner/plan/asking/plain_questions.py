"""The question for an entry that is in no table of questions: in the words with which it is declared, and where."""

from planner.plan.asking.questions import ENDS, OFF, PLATE, SCALE, SIDEWALL, TABLE, WHEELS, Question, one_entry
from planner.plan.truck.entry_names import name_of
from planner.plan.truck.forms import note_at
from planner.project.faults import as_key
from planner.project.lines import Key
from planner.project.written_keys import split_key

# Where one stands for an entry that is in no question above: the longest beginning of its key counts.
_STAND_OF = {
    "fitments": TABLE,
    "fitments.found": OFF,
    "fitments.found.tire": SIDEWALL,
    "fitments.found.spare": SIDEWALL,
    "axles.*": OFF,
    "axles.*.fender": WHEELS,
    "axles.*.fender.greatest_poke": TABLE,
    "axles.*.travel": WHEELS,
    "axles.*.camber": WHEELS,
    "axles.*.toe": WHEELS,
    "axles.*.ride_height": WHEELS,
    "axles.*.driven": WHEELS,
    "axles.*.differential": PLATE,
    "axles.*.steered": WHEELS,
    "axles.*.rating": PLATE,
    "axles.*.bearing_rating": PLATE,
    "axles.*.gear_sets": TABLE,
    "axles.*.shaft_rating": TABLE,
    "axles.*.laden_load": SCALE,
    "axles.*.studs.torque": TABLE,
    "vehicle": WHEELS,
    "vehicle.gross_weight": PLATE,
    "vehicle.cg_height": SCALE,
    "vehicle.lift_test": SCALE,
    "drivetrain": PLATE,
    "obstacles": OFF,
}


def plain_question(key: str, measure: str = "") -> Question:
    """The question for an entry that is in no table: in the words with which it is declared."""
    names: Key = split_key(key) or (key,)
    of_change = names[0] == "changes" and len(names) > 3  # what a change leaves open is asked as the entry itself
    if of_change:
        names = split_key(str(names[3])) or names
    note, name = note_at(names), people_name(as_key(names))
    asks = f"{'once the change is done: ' if of_change else ''}{_whose(names)}{note.means or name}"
    how = ". ".join(told.rstrip(".") for told in (note.how, measure) if told)
    return one_entry(key, name, f"{asks[:1].upper()}{asks[1:]}.", f"{how}." if how else "", "", stand_of(names))


def _whose(names: Key) -> str:
    """`Rear axle: `, or `Wheel on the truck: `."""
    end = next((f"{name} axle: " for name in names if name in ENDS), "")
    if names[0] != "fitments":
        return end
    part = next((str(name) for name in names[2:-1] if name not in ENDS), "")
    return f"{part} {'on the truck' if names[1] == 'found' else 'planned'}{f', {end}' if end else ': '}".lstrip()


def people_name(key: str) -> str:
    """A key as people say it: `rear brake radius`."""
    names = split_key(key) or (key,)
    return name_of(names, {}) or " ".join(str(name).replace("_", " ") for name in names)


def stand_of(names: Key) -> str:
    """Where one stands to take an entry."""
    told = [str(name) for name in names]
    if told[0] == "axles" and len(told) > 1:
        told[1] = "*"
    beginnings = (".".join(told[:end]) for end in range(len(told), 0, -1))
    return next((_STAND_OF[one] for one in beginnings if one in _STAND_OF), TABLE)
