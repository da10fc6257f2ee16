"""Whether two texts are of one truck: a diary beside another project's file must not take that for a hand edit."""

from collections.abc import Iterator
from typing import Any

FEWEST = 10  # entries, below which nothing can be told
SHARE = 0.2  # of the smaller one's entries; two trucks of the examples have a tenth alike, mostly words of choice


def alike(one: Any, other: Any) -> bool:
    """Whether two projects' data can be of one truck: of one name, or with some entries the same."""
    sides = [dict(_entries(data, ())) for data in (one, other)]
    fewer = min(map(len, sides))
    names = [side.get(("vehicle", "name")) for side in sides]
    if fewer < FEWEST or (names[0] is not None and names[0] == names[1]):
        return True
    same = sides[0].items() & sides[1].items()
    return len(same) >= SHARE * fewer


def _entries(data: Any, key: tuple[str | int, ...]) -> Iterator[tuple[tuple[str | int, ...], str]]:
    inside = data.items() if isinstance(data, dict) else enumerate(data) if isinstance(data, list) else None
    if inside is None:
        yield key, repr(data)
        return
    for name, value in inside:
        yield from _entries(value, (*key, name))
