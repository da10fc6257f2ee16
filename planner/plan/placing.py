"""Places in words: which fitment, axle, obstacle or gear a value belongs to."""

from planner.quantities.text import clean


def where(place: tuple[str, ...], alone: bool = False) -> str:
    """A place in words; the fitment is left out where only one is planned (`alone`)."""
    return ", ".join(clean(member) for member in (place[1:] if alone else place) if member)
