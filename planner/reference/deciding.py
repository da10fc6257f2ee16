"""Which figures decide: what a stop reads, what an order says, what bounds the backspace that is ordered."""

from collections.abc import Iterable, Iterator

from planner.plan.fit.swept_wheel import AT_REST, MOTION, PLANES, STEERING, TIRE
from planner.plan.truck.sweep_results import NODES
from planner.plan.work.order_lines import TRUCK, WHEEL
from planner.tasks.ordering import ORDERED_BY
from planner.worksheet.catalog import Catalog

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


def deciding(catalog: Catalog) -> frozenset[str]:
    """The nodes of all figures that a stop, a limit on the backspace or an order reads, itself or through others."""
    found: set[str] = set()
    waiting = [*_read_by_rules(catalog), *_ordered()]
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
    return frozenset(found & catalog.figures.keys())


def _read_by_rules(catalog: Catalog) -> Iterator[str]:
    for rule in catalog.rules.values():
        if rule.severity == "stop" or rule.bounds:
            yield from (taken.reads for taken in rule.inputs if taken.reads is not None)


def _ordered() -> Iterator[str]:
    for nodes in ORDERED_BY.values():
        yield from nodes
    lines: Iterable[str] = (line.source for line in (*TRUCK, *(line for group in WHEEL for line in group.lines)))
    yield from (source for source in lines if "." not in source)  # a dotted one is an entry of the wheel's own
