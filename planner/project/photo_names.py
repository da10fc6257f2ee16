"""What stands in a list of photos: the name of a file beside the project, and behind a colon what it shows."""

import re
from pathlib import PurePath
from typing import NamedTuple

PICTURES = (".jpg", ".jpeg", ".png")
A_NAME = "the name of a JPEG or PNG file beside this one, such as wheel.jpg"
ACCEPTED = 'a JPEG or PNG file beside this one, such as "wheel.jpg" or "wheel.jpg: what it shows"'
_NEXT = re.compile(r",\s*(?=[^,:;]*\.(?:jpe?g|png)\s*(?:[,:]|$))", re.I)
_CAPTIONED = re.compile(r"(.*?\.(?:jpe?g|png))\s*:\s*(.*)", re.I | re.S)


class NamedPhoto(NamedTuple):
    """A photo as the file names it, and its caption."""

    name: str
    caption: str = ""


def is_photos(text: str) -> bool:
    """Whether somebody typed names of pictures."""
    return _NEXT.search(f",{text}") is not None


def photos_typed(text: str) -> list[str]:
    """Several photos as they are typed, with commas between; a caption may have commas too.

    >>> photos_typed("hub.jpg: front, left, drum.png")
    ['hub.jpg: front, left', 'drum.png']
    """
    return [one.strip() for one in _NEXT.split(text)]


def photo_named(written: str) -> NamedPhoto:
    """The name and the caption, which may be left out.

    >>> photo_named("hub.jpg: front left, before it was cleaned")
    NamedPhoto(name='hub.jpg', caption='front left, before it was cleaned')
    >>> photo_named("pictures/hub.JPG")
    NamedPhoto(name='pictures/hub.JPG', caption='')
    """
    found = _CAPTIONED.fullmatch(written.strip())
    return NamedPhoto(found[1], " ".join(found[2].split())) if found else NamedPhoto(written.strip())


def steps_to(name: str) -> tuple[str, ...]:
    """The folders and the file that a name leads through, from beside the project; nothing where it leads elsewhere."""
    parts = PurePath(name.replace("\\", "/")).parts
    outside = not parts or parts[0].startswith("/") or ".." in parts or ":" in name or "\0" in name
    return () if outside or not name.lower().endswith(PICTURES) else parts
