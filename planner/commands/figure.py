"""`planner figure NAME key=value ...`: one figure on its own, from values you give."""

from difflib import get_close_matches
from typing import Any

from planner.commands.check import finite
from planner.commands.page import as_json, columns, paragraph
from planner.commands.table import FINE, WRONG, Parser, wrong
from planner.plan.answers.uncertainty_sources import worst_and_likely
from planner.plan.truck.catalog import catalog
from planner.plan.truck.sweep_results import NODES
from planner.quantities.grammar import bare
from planner.quantities.kinds import Kind
from planner.quantities.show import Style, in_unit, show, show_in, write
from planner.quantities.text import clean
from planner.quantities.unreadable import Unreadable
from planner.worksheet.bench import BadInput, Worked, standing, work
from planner.worksheet.declare import Figure
from planner.worksheet.explain import formula
from planner.worksheet.outcome import Known, number

EXAMPLE = """examples:
  planner figure wheel.offset backspace="4 in" rim_width="11 in"
  planner figure fender.zero_clearance_diameter axle_to_fender="24 in ± 1/8 in" --in mm
  planner figure tire.overall_diameter designation="LT235/85R16 120/116R" --json
  planner figure              lists every figure with its keys

Write values the way you would on paper: 5 1/2 in, 139.7 mm, 24 in ± 1/8 in, 75 psi, 55 mph."""


def run(arguments: list[str]) -> int:
    parser = Parser("planner figure", __doc__, EXAMPLE)
    parser.add_argument("name", nargs="?", metavar="NAME", help="the figure, such as wheel.offset")
    parser.add_argument("given", nargs="*", metavar="key=value", help="its inputs")
    parser.add_argument("--in", dest="unit", metavar="UNIT", help="show the result in this unit")
    parser.add_argument("--json", action="store_true", help="print one JSON object, values in SI")
    asked = parser.parse_args(arguments)
    if asked.name is None:
        print(as_json(_listing_data()) if asked.json else "\n".join(_listing()))
        return FINE
    try:
        worked = work(catalog(), _named(asked.name), _pairs(asked.given))
        told = _data(worked, asked.unit) if asked.json else "\n".join(_page(worked, asked.unit))
    except (BadInput, Unreadable) as misgiven:
        wrong(f"planner figure {asked.name}: {misgiven}")
        return WRONG
    if isinstance(told, str):
        print(told)
    else:
        print(as_json(told))
    return FINE


def _named(name: str) -> Figure:
    node = catalog().named(name)
    if node in NODES:
        raise BadInput(f"it only comes from a whole project: planner why FILE {name}")
    if name.endswith(".toml"):
        raise BadInput("a figure comes first; every figure of a project: planner check FILE --figures, or --json")
    if node is None or node not in catalog().figures:
        names = [one.name for one in catalog().figures.values()]
        near = get_close_matches(name, names, n=3, cutoff=0.4)
        raise BadInput(
            f"there's no such figure; {'near it: ' + ', '.join(near) if near else 'planner figure lists them'}"
        )
    return catalog().figures[node]


def _pairs(given: list[str]) -> dict[str, str]:
    pairs: dict[str, str] = {}
    for one in given:
        key, equals, value = one.partition("=")
        if not equals:
            raise BadInput(f"{one[:60]}: read no '='; accepted: key=value, such as rim_width=\"9 in\"")
        if key in pairs:
            raise BadInput(f"{key}: given twice")
        pairs[key.strip()] = value
    return pairs


def _listing() -> list[str]:
    rows = []
    for declared in catalog().figures.values():
        keys = [f"[{one.name}]" if one.optional or standing(catalog(), one) else one.name for one in declared.inputs]
        rows.append((declared.name, f"{declared.means}: {' '.join(keys)}"))
    return columns(sorted(rows), indent=0, most=34)


def _listing_data() -> list[dict[str, Any]]:
    """The figures with what each takes, as plain data."""
    return [
        {
            "figure": declared.name,
            "means": declared.means,
            "takes": [
                {
                    "key": one.name,
                    "unit": one.kind.si,
                    "may_be_left_out": one.optional or standing(catalog(), one) is not None,
                }
                for one in declared.inputs
            ],
        }
        for declared in sorted(catalog().figures.values(), key=lambda declared: declared.name)
    ]


def _parts(worked: Worked) -> dict[str, tuple[Known, Kind]]:
    """The result's parts by name, those that have a value; one without a name for a single number."""
    declared, outcome = worked.figure, worked.outcome
    if declared.kind is not None:
        return {"": (outcome, declared.kind)}
    parts = ((name, outcome.part(name), kind) for name, kind in declared.parts.items())
    return {name: (part, kind) for name, part, kind in parts if part is not None}


def _half(known: Known) -> float | None:
    middle = number(known.value)
    if middle is None or known.low in (middle, -float("inf")) and known.high in (middle, float("inf")):
        return None
    return max(known.high - middle, middle - known.low)


def _shown(known: Known, kind: Kind, unit: str | None) -> str:
    if known.instead:
        picked, *others = (_shown(Known(one), kind, unit) for one in (known.value, *known.instead))
        return f"{picked}, or {' or '.join(others)} at worst"
    if unit and number(known.value) is not None and kind.form in ("quantity", "ratio"):
        return show_in(float(known.value), kind, unit, _half(known))
    return show(known.value, kind, tolerance=_half(known))


def _page(worked: Worked, unit: str | None) -> list[str]:
    declared = worked.figure
    lines = [f"{declared.name}: {declared.means}"]
    for name, (known, kind) in _parts(worked).items():
        lines += paragraph(_shown(known, kind, unit), 2, f"{name.replace('_', ' ')}: " if name else "= ")
        half = _half(known) if len(known.shares) > 1 else None
        spread = worst_and_likely(half, known.likely, kind, Style()) if half is not None else ""
        lines += paragraph(spread, 2, "off by ") if spread else []
    lines += paragraph(formula(declared), 2, "formula: ")
    lines += paragraph(str(declared.ground), 2, "ground: ")
    kinds = {one.name: one.kind for one in declared.inputs}
    rows = [
        (name, clean(getattr(value, "text", "") or show(value, kinds[name])) + " (assumed)" * (name in worked.assumed))
        for name, value in worked.inputs.items()
    ]
    return [*lines, *columns(rows)]


def _data(worked: Worked, unit: str | None) -> dict[str, Any]:
    declared, parts = worked.figure, _parts(worked)
    spread = {name: known for name, (known, _) in parts.items() if _half(known) is not None}

    def told(by_part: dict[str, Any]) -> Any:
        """What is told of each part by its name, or of a single number alone."""
        return by_part[""] if "" in parts else by_part

    data: dict[str, Any] = {
        "figure": declared.name,
        "value": told({name: known.value for name, (known, _) in parts.items()}),
        "unit": told({name: kind.si for name, (_, kind) in parts.items()}),
    }
    for end in ("low", "high", "likely") if spread else ():
        data[end] = told({name: finite(getattr(known, end)) for name, known in spread.items()})
    data["shown"] = told({name: _shown(known, kind, unit) for name, (known, kind) in parts.items()})
    if unit and "" in parts:
        data["in"] = {"unit": unit, "value": in_unit(float(parts[""][0].value), parts[""][1], unit)}
    data["formula"], data["source"] = formula(declared), str(declared.ground)
    kinds = {one.name: one.kind for one in declared.inputs}
    data["inputs"] = {
        name: {
            "value": bare(value),
            "unit": kinds[name].si,
            "read": getattr(value, "text", "") or write(value, kinds[name]),
        }
        | ({"assumed": True} if name in worked.assumed else {})
        for name, value in worked.inputs.items()
    }
    return data
