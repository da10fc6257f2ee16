"""A tire size as a candidate that is in no file: on the wheels, and with the changes, of the candidate at hand."""

from typing import NamedTuple

from planner.plan.answers.open_project import work_out
from planner.plan.truck.project import OpenProject
from planner.plan.truck.recording import RefusedChange
from planner.plan.work.decisions import FOUND
from planner.project.models.fitments import Fitment
from planner.project.models.tires import Tire
from planner.project.models.wheels import Wheel
from planner.quantities.quantity import Quantity
from planner.quantities.text import clean, name_among
from planner.trade.tire.designation import read_designation
from planner.worksheet.declare import Impossible

CUT_FOR_RIM = ("barrel_radius", "well_depth")  # which another rim has otherwise


class AskedFor(NamedTuple):
    """What is asked about: a candidate of the project, or a `size` on the wheels of the fitment `like`."""

    opened: OpenProject
    fitment: str
    size: str = ""
    like: str = ""


def asked_for(opened: OpenProject, written: str) -> AskedFor:
    """The candidate or size that a person means; raises `RefusedChange`."""
    name = name_among(opened.project.fitments, written)
    if name is not None:
        return AskedFor(opened, name)
    size = clean(written.strip())
    try:
        parts = read_designation(size)
    except Impossible as trouble:
        names = ", ".join(map(clean, opened.candidates)) or "none yet"
        raise RefusedChange(f"{size or 'nothing'} is no candidate ({names}), and no tire size: {trouble}") from None
    like = opened.project.plan.chosen or next(iter(opened.candidates), FOUND)
    project, named = opened.project, _own_name(opened)
    fitment = _with_tire(project.fitments[like], size, parts.rim_diameter_code)
    changes = [
        one.model_copy(update={"with_fitments": [*one.with_fitments, named]}) if like in one.with_fitments else one
        for one in project.changes
    ]
    plan = project.plan.model_copy(update={"chosen": named, "stages": []})
    fitments = {**project.fitments, named: fitment}
    whole = project.model_copy(update={"fitments": fitments, "changes": changes, "plan": plan})
    return AskedFor(work_out(opened.opened._replace(project=whole), opened.today), named, size, like)


def _own_name(opened: OpenProject) -> str:
    """A name for it that is nobody else's; a size has dots, and would not do in a key."""
    name = "new size"
    while name_among(opened.project.fitments, name) is not None:
        name += ", too"
    return name


def _with_tire(like: Fitment, size: str, code: float) -> Fitment:
    """The fitment with this tire at both ends, on rims of its diameter; what is cut for another rim is not known."""
    ends = {}
    for name, end in (("front", like.front), ("rear", like.rear)):
        ends[name] = end.model_copy(update={"tire": Tire.model_construct(), "wheel": _on_rim(end.wheel, code)})
    whole = {"tire": Tire.model_validate({"designation": size}), "wheel": _on_rim(like.wheel, code), "price": None}
    return like.model_copy(update={**whole, **ends})


def _on_rim(wheel: Wheel, code: float) -> Wheel:
    if wheel.rim_diameter is None or wheel.rim_diameter.value == code:
        return wheel
    return wheel.model_copy(update={"rim_diameter": Quantity(code), **dict.fromkeys(CUT_FOR_RIM)})
