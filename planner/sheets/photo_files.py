"""Photos from beside the project: each an ordinary file of a bearable size, and no link that leads out is followed."""

import os
import stat
from pathlib import Path

from planner.project.faults import why
from planner.project.photo_names import steps_to
from planner.sheets.picture_data import NoPicture, PictureData, picture_in

MOST_BYTES = 16 * 1024**2  # of one
MOST_TOGETHER = 160 * 1024**2  # of all on one sheet
MOST_PHOTOS = 200
OUTSIDE = "it leads out of the project's folder"
_PLAIN = getattr(os, "O_NOCTTY", 0) | getattr(os, "O_BINARY", 0) | getattr(os, "O_CLOEXEC", 0)
_NO_LINK = getattr(os, "O_NOFOLLOW", 0)


class PhotoFolder:
    """The photos of one sheet: each is read once, and all of them together only up to a limit."""

    def __init__(self, project: Path) -> None:
        self._folder = Path(os.path.realpath(project)).parent
        self._read: dict[str, PictureData | str] = {}
        self._bytes = 0

    def picture(self, name: str) -> PictureData | str:
        """The picture of that name, or in a few words why there is none."""
        if name not in self._read:
            self._read[name] = self._picture(name)
        return self._read[name]

    def _picture(self, name: str) -> PictureData | str:
        if len(self._read) >= MOST_PHOTOS:
            return f"there are more than {MOST_PHOTOS} on this sheet"
        try:
            found = picture_in(read_photo(self._folder, name))
        except NoPicture as trouble:
            return str(trouble)
        if self._bytes + len(found.raw) > MOST_TOGETHER:
            return f"the photos before it fill {MOST_TOGETHER // 1024**2} MB, and that's the most on one sheet"
        self._bytes += len(found.raw)
        return found


def read_photo(folder: Path, name: str) -> bytes:
    """The bytes of a file below the folder; a link may stand in its place only where it stays inside.

    Raises `NoPicture`. Whatever is put in the way meanwhile, nothing outside is read, and nothing is waited for.
    """
    steps = steps_to(name)
    if not steps:
        raise NoPicture(OUTSIDE)
    try:
        real = Path(os.path.realpath(folder.joinpath(*steps)))
        if not real.is_relative_to(folder):
            raise NoPicture(OUTSIDE)
        return _bytes_of(_opened(folder, real.relative_to(folder).parts))
    except FileNotFoundError:
        raise NoPicture("there is no such file beside the project") from None
    except OSError as error:
        raise NoPicture(f"it can't be read: {why(error)}") from None
    except ValueError as error:
        if isinstance(error, NoPicture):
            raise
        raise NoPicture("that won't work as a file name") from None


def _opened(folder: Path, steps: tuple[str, ...]) -> int:
    """The file, opened from one folder to the next without following any link, and without waiting for anybody."""
    flags = os.O_RDONLY | _PLAIN | getattr(os, "O_NONBLOCK", 0)
    if os.open not in os.supports_dir_fd or not _NO_LINK:  # then the name is all that there is to go by
        return os.open(folder.joinpath(*steps), flags)
    at = os.open(folder, os.O_RDONLY | os.O_DIRECTORY | _PLAIN)
    for number, step in enumerate(steps, 1):
        try:
            next_ = os.open(step, flags | _NO_LINK | (os.O_DIRECTORY if number < len(steps) else 0), dir_fd=at)
        finally:
            os.close(at)
        at = next_
    return at


def _bytes_of(handle: int) -> bytes:
    status = os.fstat(handle)
    if not stat.S_ISREG(status.st_mode):
        os.close(handle)
        raise NoPicture("it isn't an ordinary file")
    with os.fdopen(handle, "rb") as file:
        raw = file.read(MOST_BYTES + 1) if status.st_size <= MOST_BYTES else b""
        if len(raw) > MOST_BYTES or status.st_size > MOST_BYTES:
            raise NoPicture(
                f"it's too large: {status.st_size / 1024**2:,.0f} MB, and the limit is {MOST_BYTES // 1024**2} MB"
            )
        if not raw:
            raise NoPicture("it's empty")
        return raw
