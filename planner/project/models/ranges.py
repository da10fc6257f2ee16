"""A wish as a range of values, or as much as clears: how a person writes it, and how it is read."""

import re
from typing import Any, NamedTuple

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic_core import core_schema

from planner.project.models.entry import read_as
from planner.quantities.grammar import as_text, read_value
from planner.quantities.kinds import Kind
from planner.quantities.quantity import Quantity
from planner.quantities.unreadable import Unreadable

LARGEST = "as large as clears"
# Made when a wish is read: made at each start they would take longer than all that stands here.
_ENDS = r" to | - |–|\.\."
_UNIT = r"[^\d\s./-]+\s*$"


class WishedRange(NamedTuple):
    """From `low` to `high`, the ± of either counted in; both None for as large as clears; `text` is as written."""

    low: Quantity | None
    high: Quantity | None
    text: str


class ReadsRange:
    """Makes a pydantic field take a range of values of one kind, or `as large as clears` where that says something.

    One value alone is taken too where things come in sizes; elsewhere nothing would ever be just so.
    """

    def __init__(self, kind: Kind, clears: bool = True, one: bool = False) -> None:
        self.range_of, self.clears, self.one = kind, clears, one

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> core_schema.CoreSchema:
        return read_as(lambda written: read_range(written, self.range_of, self.clears, self.one))

    def __get_pydantic_json_schema__(
        self, schema: core_schema.CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        return {"type": "string", "maxLength": 140}


def read_range(written: object, kind: Kind, clears: bool = True, one: bool = True) -> WishedRange:
    """The range in a text; a first value without its unit takes the second's; raises `Unreadable`.

    >>> from planner.quantities.kinds import LENGTH
    >>> found = read_range("1 to 2 in", LENGTH)
    >>> found.low.value, found.high.value
    (0.0254, 0.0508)
    """
    such = {"angle": "0 deg to 1 deg", "share": "75 % to 85 %"}.get(kind.name, "1 in to 2 in")
    accepted = f"a range such as {such}{', one value' if one else ''}{f', or {LARGEST!r}' if clears else ''}"
    if not isinstance(written, str) or len(written) > 140:
        raise Unreadable(as_text(written), "is no range", accepted)
    text = written.strip()
    if clears and text.lower() == LARGEST:
        return WishedRange(None, None, written)
    ends = re.split(_ENDS, text)
    if len(ends) > 2:
        raise Unreadable(written, "has more than two ends", accepted)
    if len(ends) == 2 and not re.search(_UNIT, ends[0]) and (unit := re.search(_UNIT, ends[1])):
        ends[0] = f"{ends[0].strip()} {unit[0].strip()}"
    found = []
    for end in ends:
        try:
            found.append(read_value(end.strip(), kind))
        except Unreadable as trouble:
            raise Unreadable(written, trouble.problem, accepted) from None
    first, last = found[0], found[-1]
    assert isinstance(first, Quantity) and isinstance(last, Quantity)
    if first.value > last.value:
        raise Unreadable(written, "begins above its end", accepted)
    low, high = (first.low, last.high) if first.tolerance or last.tolerance else (first.value, last.value)
    if low == high and not one:
        raise Unreadable(written, "is one value, and nothing comes out that exact", accepted)
    return WishedRange(Quantity(low), Quantity(high), written)
