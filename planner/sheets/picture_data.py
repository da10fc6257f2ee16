"""JPEG and PNG as far as printing needs them: how large they are, that they are whole, and nothing but the picture.

What a camera writes beside the picture, such as where it was taken, is left out; only which side is up stays. Nothing
is decoded before its size is known from its head.
"""

import struct
import zlib
from typing import NamedTuple

MOST_PIXELS = 50_000_000
LONGEST_SIDE = 20_000
MOST_SCANS, MOST_PIECES = 200, 20_000
DAMAGED = "it's cut off or damaged"
_PNG = b"\x89PNG\r\n\x1a\n"
_KEPT = (b"PLTE", b"tRNS", b"gAMA", b"sRGB")  # besides the head, the picture and the end
_CHANNELS = {0: 1, 2: 3, 3: 1, 4: 2, 6: 4}  # by color type
_DEPTHS = {0: (1, 2, 4, 8, 16), 2: (8, 16), 3: (1, 2, 4, 8), 4: (8, 16), 6: (8, 16)}
_PASSES = ((0, 0, 8, 8), (4, 0, 8, 8), (0, 4, 4, 8), (2, 0, 4, 4), (0, 2, 2, 4), (1, 0, 2, 2), (0, 1, 1, 2))
_BLOCK = 1 << 20
_PLAIN, _ALL_FRAMES = (0xC0, 0xC1, 0xC2), {*range(0xC0, 0xD0)} - {0xC4, 0xC8, 0xCC}
_ALONE = {0x01, *range(0xD0, 0xD8)}  # markers without a length
_ADOBE, _EXIF, _APPS, _COMMENT = 0xEE, 0xE1, range(0xE0, 0xF0), 0xFE
_UP = 0x0112  # the number under which a camera writes which side is up


class NoPicture(ValueError):
    """Why there is nothing that can be printed, in a few words."""


class PictureData(NamedTuple):
    """A picture as it is printed: its bytes, its ending, and its width and height in pixels as it stands upright."""

    raw: bytes
    ending: str
    wide: int
    tall: int


def picture_in(raw: bytes) -> PictureData:
    """The picture in these bytes; raises `NoPicture`."""
    try:
        if raw.startswith(_PNG):
            return _png(raw)
        if raw.startswith(b"\xff\xd8\xff"):
            return _jpeg(raw)
    except (struct.error, IndexError):
        raise NoPicture(DAMAGED) from None
    raise NoPicture("it's neither a JPEG nor a PNG")


def _sized(wide: int, tall: int) -> None:
    if not (wide and tall):
        raise NoPicture(DAMAGED)
    if wide > LONGEST_SIDE or tall > LONGEST_SIDE or wide * tall > MOST_PIXELS:
        most = f"{MOST_PIXELS // 1_000_000} million and {LONGEST_SIDE:,} on a side"
        raise NoPicture(f"it's too large: {wide:,} by {tall:,} pixels, and the limit is {most}")


# PNG


def _png(raw: bytes) -> PictureData:
    """Sound as far as a sum over each piece tells, and packed into just as many bytes as its size asks for."""
    kept, packed, at = [_PNG], [], len(_PNG)
    head = b""
    while True:
        length, name = struct.unpack_from(">I4s", raw, at)
        piece = raw[at : at + 12 + length]
        if len(piece) < 12 + length or zlib.crc32(piece[4:-4]) != struct.unpack(">I", piece[-4:])[0]:
            raise NoPicture(DAMAGED)
        if (not head) is not (name == b"IHDR") or len(kept) > MOST_PIECES:
            raise NoPicture(DAMAGED)
        if name == b"IHDR":
            head = piece[8:-4]
            wide, tall, depth, color, *ways = struct.unpack(">IIBBBBB", head)
            _sized(wide, tall)
            if depth not in _DEPTHS.get(color, ()) or ways[:2] != [0, 0] or ways[2] > 1:
                raise NoPicture("it's a kind of PNG that can't be printed")
        if name == b"IDAT":
            packed.append(piece[8:-4])
        if name in (b"IHDR", b"IDAT", b"IEND", *_KEPT):
            kept.append(piece)
        if name == b"IEND":
            break
        at += 12 + length
    if not _unpacks_to(b"".join(packed), _unpacked(wide, tall, depth * _CHANNELS[color], bool(ways[2]))):
        raise NoPicture(DAMAGED)
    return PictureData(b"".join(kept), ".png", wide, tall)


def _unpacked(wide: int, tall: int, bits: int, interlaced: bool) -> int:
    """The bytes of all rows, one before each for its filter."""
    sizes = [(wide, tall)]
    if interlaced:
        sizes = [(-(-(wide - x) // across), -(-(tall - y) // down)) for x, y, across, down in _PASSES]
    return sum(rows * (1 + -(-columns * bits // 8)) for columns, rows in sizes if columns > 0 and rows > 0)


def _unpacks_to(packed: bytes, wanted: int) -> bool:
    """Whether these bytes unpack to just so many; no more than a block of them is ever held."""
    unpacking, made = zlib.decompressobj(), 0
    try:
        while not unpacking.eof and made <= wanted:
            block = unpacking.decompress(packed, _BLOCK)
            if not block and not unpacking.eof:
                return False
            made += len(block)
            packed = unpacking.unconsumed_tail
    except zlib.error:
        return False
    return made == wanted and unpacking.eof


# JPEG


def _jpeg(raw: bytes) -> PictureData:
    """Its parts one by one to its end; what of it cannot be printed is told by its frame."""
    kept, at, up, scans = [b"\xff\xd8"], 2, 1, 0
    size: tuple[int, int] | None = None
    while True:
        if raw[at] != 0xFF:
            raise NoPicture(DAMAGED)
        marker = raw[at + 1]
        if marker == 0xFF or marker in _ALONE:  # filling
            at += 1 if marker == 0xFF else 2
            continue
        if marker == 0xD9:
            break
        (length,) = struct.unpack_from(">H", raw, at + 2)
        piece = raw[at : at + 2 + length]
        if length < 2 or len(piece) < 2 + length:
            raise NoPicture(DAMAGED)
        at += len(piece)
        if marker in _ALL_FRAMES:
            if size is not None or scans:
                raise NoPicture(DAMAGED)
            size = _framed(marker, piece)
        if marker == _EXIF:
            up = _upright(piece[4:]) or up
        if marker not in (*_APPS, _COMMENT) or marker == _ADOBE:
            kept.append(piece)
        if marker == 0xDA:
            scans += 1
            end = _scan_end(raw, at)
            kept.append(raw[at:end])
            at = end
    if size is None or not 0 < scans <= MOST_SCANS:
        raise NoPicture(DAMAGED)
    wide, tall = size if up < 5 else size[::-1]
    turned = b"" if up == 1 else _exif_of(up)
    return PictureData(b"".join([kept[0], turned, *kept[1:], b"\xff\xd9"]), ".jpg", wide, tall)


def _scan_end(raw: bytes, at: int) -> int:
    """Where the lines of the picture end that begin there: at the next mark that is none of theirs."""
    while True:
        at = raw.find(b"\xff", at)
        if at < 0:
            raise NoPicture(DAMAGED)
        if raw[at + 1] and not 0xD0 <= raw[at + 1] < 0xD8:
            return at
        at += 2


def _framed(marker: int, piece: bytes) -> tuple[int, int]:
    depth, tall, wide, colors = struct.unpack_from(">BHHB", piece, 4)
    _sized(wide, tall)
    if marker not in _PLAIN or depth != 8 or colors not in (1, 3):
        raise NoPicture("it's a kind of JPEG that can't be printed; save it again as an ordinary one")
    return wide, tall


def _upright(exif: bytes) -> int:
    """Which way the camera was held, 1 to 8; 0 where it does not say."""
    if not exif.startswith(b"Exif\0\0") or exif[6:8] not in (b"II", b"MM"):
        return 0
    tiff, order = exif[6:], "<" if exif[6:8] == b"II" else ">"
    try:
        (start,) = struct.unpack_from(f"{order}I", tiff, 4)
        (count,) = struct.unpack_from(f"{order}H", tiff, start)
        for number in range(min(count, 100)):
            tag, kind, many, value = struct.unpack_from(f"{order}HHIH", tiff, start + 2 + 12 * number)
            if (tag, kind, many) == (_UP, 3, 1):
                return int(value) if 1 <= value <= 8 else 0
    except struct.error:
        pass
    return 0


def _exif_of(up: int) -> bytes:
    """Nothing of what a camera writes but which side is up."""
    tiff = b"MM\0*" + struct.pack(">IHHHIHHI", 8, 1, _UP, 3, 1, up, 0, 0)
    body = b"Exif\0\0" + tiff
    return b"\xff\xe1" + struct.pack(">H", len(body) + 2) + body
