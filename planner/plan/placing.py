"""Places in words: which fitment, axle, obstacle or gear a value belongs to."""

from planner.quantities.text import clean


def where(place: tuple[str, ...], alone: bool = False) -> str:
    """A place in words; the fitment is left out where only one is planned (`alone`)."""
    return ", ".join(_members(place, alone))


def together(places: tuple[tuple[str, ...], ...], alone: bool) -> str:
    """Several places in words: `tall, front and rear`."""
    words = [_members(place, alone) for place in places]
    same = [members[0] for members in zip(*words, strict=False) if len(set(members)) == 1]
    differ = [", ".join(word for word in one if word not in same) for one in words]
    listed = " and ".join(dict.fromkeys(word for word in differ if word))
    return ", ".join(word for word in (*same, listed) if word)


def _members(place: tuple[str, ...], alone: bool) -> list[str]:
    return [clean(member) for member in (place[1:] if alone else place) if member]
