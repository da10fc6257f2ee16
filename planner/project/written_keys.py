"""A key as a person writes it, `axles.front.load` or `obstacles[0].at`, cut into its names."""

import re
from functools import lru_cache

from planner.project.lines import Key

# Made when the first key is read: a file without changes and readings has none.
_PIECE = r'\.?(?:"(?P<quoted>(?:[^"\\]|\\.)*)"|\[(?P<index>\d{1,6})\]|(?P<bare>[^.\[\]"]+))'


@lru_cache(maxsize=1024)  # one key is asked about at every record and every flag that names it
def split_key(written: str) -> Key | None:
    """The names of a key in order, a number in brackets as a number; None where it is no key at all.

    >>> split_key('parts[0]."odd.name"')
    ('parts', 0, 'odd.name')
    """
    piece_at = re.compile(_PIECE).match
    names: list[str | int] = []
    at = 0
    while at < len(written):
        piece = piece_at(written, at)
        if piece is None or (at == 0 and written.startswith(".")):
            return None
        quoted, index, bare = piece.group("quoted", "index", "bare")
        names.append(int(index) if index else bare.strip() if bare else re.sub(r"\\(.)", r"\1", quoted or ""))
        at = piece.end()
    return tuple(names) or None
