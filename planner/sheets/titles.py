"""Titles of tasks that stand together in one cell."""

import re
from collections.abc import Iterable, Iterator

_END = re.compile(r"(.*) \((front|rear)\)", re.S)


def both_ends(titles: Iterable[str]) -> Iterator[str]:
    """`Measure it (front and rear)`, where both stand in a list.

    >>> list(both_ends(["Weigh (front)", "Drive", "Weigh (rear)"]))
    ['Weigh (front and rear)', 'Drive']
    """
    ends: dict[str, list[str]] = {}
    for title in titles:
        found = _END.fullmatch(title)
        ends.setdefault(found[1] if found else title, []).append(found[2] if found else "")
    for title, several in ends.items():
        yield f"{title} ({' and '.join(several)})" if any(several) else title
