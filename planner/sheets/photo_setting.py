"""Photos on their way to the typesetter: it reads files of one folder only, so the template is laid beside them."""

import shutil
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from hashlib import sha256
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from planner.project.faults import why
from planner.sheets.blocks import Photo, Photos, Sheet
from planner.sheets.kind import CannotPrint
from planner.sheets.picture_data import PictureData

TALLEST = 200.0  # pt
BETWEEN = 12.0  # pt, between two side by side


def photos_for_template(block: Photos, wide: float) -> dict[str, Any]:
    """Photos by the names of their files, each as high as its half of the width allows."""
    return {"type": "photos", "rows": [_photo(one, (wide - BETWEEN) / 2) for one in block.rows], "between": BETWEEN}


def _photo(photo: Photo, wide: float) -> dict[str, Any]:
    if photo.picture is None:
        return {"id": "", "tall": 0, "says": photo.says}
    tall = min(TALLEST, wide * photo.picture.tall / photo.picture.wide)
    return {"id": _file_of(photo.picture), "tall": tall, "says": photo.says}


def _file_of(picture: PictureData) -> str:
    """By what is in it, so that the same photos give the same bytes."""
    return sha256(picture.raw).hexdigest() + picture.ending


@contextmanager
def beside_photos(sheet: Sheet, template: Path) -> Iterator[Path]:
    """The template; of a sheet with photos a copy of it beside them, in a folder that is gone afterwards."""
    found = [one.picture for block in sheet.blocks if isinstance(block, Photos) for one in block.rows if one.picture]
    if not found:
        yield template
        return
    try:
        folder = TemporaryDirectory(prefix="planner-")
    except OSError as error:
        raise _no_room(error) from None
    with folder as name:
        try:
            for picture in found:
                Path(name, _file_of(picture)).write_bytes(picture.raw)
            shutil.copyfile(template, Path(name, template.name))
        except OSError as error:
            raise _no_room(error) from None
        yield Path(name, template.name)


def _no_room(error: OSError) -> CannotPrint:
    return CannotPrint(f"there's no room for the photos: {why(error)}", as_text=True)


def without_unreadable(sheet: Sheet, typst: Any, template: Path, standards: Iterable[str]) -> Sheet | None:
    """The sheet without the photos that the typesetter cannot read, each tried alone; None where it reads them all."""
    unread = set()
    for picture in {one for block in sheet.blocks if isinstance(block, Photos) for one in block.rows}:
        if picture.picture is None:
            continue
        name = _file_of(picture.picture)
        trial = template.with_name("trial.typ")
        trial.write_text(f'#set document(title: "photo")\n#image("{name}", width: 10pt, alt: "photo")', "utf-8")
        try:
            typst.compile(trial, root=trial.parent, ignore_system_fonts=True, pdf_standards=list(standards))
        except typst.TypstError:
            unread.add(picture)

    def left(photo: Photo) -> Photo:
        return photo._replace(picture=None, trouble="the typesetter can't read it") if photo in unread else photo

    told = (Photos(tuple(map(left, one.rows))) if isinstance(one, Photos) else one for one in sheet.blocks)
    return sheet._replace(blocks=tuple(told)) if unread else None
