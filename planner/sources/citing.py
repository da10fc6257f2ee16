"""What a ground is: where a formula, a table or a limit comes from, and how well we know it."""

from typing import NamedTuple


class Ground(NamedTuple):
    """One place in one source; `standing` is `read`, `from memory`, or empty where there is nothing to have read."""

    text: str
    clause: str = ""
    standing: str = ""

    def __str__(self) -> str:
        named = f"{self.text}, {self.clause}" if self.clause else self.text
        return f"{named} ({self.standing})" if self.standing == "from memory" else named


class Source(NamedTuple):
    """A publication; a formula cites it by clause: `R54.read("6.1.2")`, or `.recalled` where nobody opened the book."""

    key: str
    title: str
    publisher: str

    def read(self, clause: str = "") -> Ground:
        """A place that was read in a copy of the source."""
        return Ground(self.key, clause, "read")

    def recalled(self, clause: str = "") -> Ground:
        """A place that is known from memory only: true to the best of our knowledge, opened by nobody here."""
        return Ground(self.key, clause, "from memory")


def practice(clause: str = "") -> Ground:
    """The trade does it so; no standard says it."""
    return Ground("common practice", clause)


COMMON_PRACTICE = practice()
