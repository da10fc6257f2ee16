"""Which figures decide: what a stop reads, what an order says, what bounds the backspace that is ordered."""

from collections.abc import Iterable, Iterator

from planner.plan.fit.swept_wheel import AT_REST, MOTION, PLANES, STEERING, TIRE
from planner.plan.truck.sweep_results import NODES
from planner.plan.work.order_lines import TRUCK, WHEEL
from planner.tasks.ordering import ORDERED_BY
from planner.worksheet.catalog import Catalog
from planner.worksheet.declare import Rule

SWEEP = (
    *MOTION,
    *AT_REST,
    *STEERING,
    *TIRE,
    *PLANES.values(),
    "stop_angle_out",
    "most_cross_travel",
    "pair_difference",
)


def deciding(catalog: Catalog) -> dict[str, str]:
    """By the node of each figure that decides, what it decides: "stop", "backspace", "order", several with commas."""
    stops = (rule for rule in catalog.rules.values() if rule.severity == "stop")
    bounds = (rule for rule in catalog.rules.values() if rule.bounds)
    decided = {"stop": _read_by(stops), "backspace": _read_by(bounds), "order": _ordered()}
    figures = {what: _behind(catalog, nodes) & catalog.figures.keys() for what, nodes in decided.items()}
    nodes = sorted(set().union(*figures.values()))
    return {node: ", ".join(what for what, behind in figures.items() if node in behind) for node in nodes}


def _behind(catalog: Catalog, nodes: Iterable[str]) -> set[str]:
    """All that these nodes rest on, and they themselves."""
    found: set[str] = set()
    waiting = list(nodes)
    while waiting:
        node = catalog.edge(waiting.pop()).node
        node = catalog.parts[node][0] if node in catalog.parts else node
        if node in found:
            continue
        found.add(node)
        if node in NODES:
            waiting += SWEEP
        elif node in catalog.figures:
            waiting += (taken.reads for taken in catalog.figures[node].inputs if taken.reads is not None)
    return found


def _read_by(rules: Iterable[Rule]) -> Iterator[str]:
    return (taken.reads for rule in rules for taken in rule.inputs if taken.reads is not None)


def _ordered() -> Iterator[str]:
    """What orders say and what they go by, but for entries of the wheel that no formula reads."""
    for nodes in ORDERED_BY.values():
        yield from nodes
    lines = (*TRUCK, *(line for group in WHEEL for line in group.lines))
    yield from (line.source for line in lines if "." not in line.source)
