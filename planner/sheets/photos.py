"""The photos of records as blocks: each with what it is of and what it shows, or why it is not printed."""

from collections.abc import Iterable, Iterator, Sequence

from planner.project.photo_names import photo_named
from planner.quantities.text import clean, cut
from planner.sheets.blocks import Block, Photo, Photos
from planner.sheets.photo_files import PhotoFolder

LONGEST = 300  # letters of a caption


def photo_block(folder: PhotoFolder, records: Iterable[tuple[str, Sequence[str]]]) -> Iterator[Block]:
    """All photos of these records, each with what they are of; nothing where there are none."""
    rows = tuple(_photo(folder, what, written) for what, photos in records for written in photos)
    if rows:
        yield Photos(rows)


def _photo(folder: PhotoFolder, what: str, written: str) -> Photo:
    name, caption = photo_named(written)
    found = folder.picture(name)
    told = cut(clean(": ".join(filter(None, (what, caption)))), LONGEST)
    if isinstance(found, str):
        return Photo(cut(clean(name), LONGEST), told, None, found)
    return Photo(cut(clean(name), LONGEST), told, found)
