"""PNG and JPEG made by code, the plainest there are, so that no picture of anybody's is kept with the tests."""

import struct
import zlib
from collections.abc import Iterable

START, END = b"\xff\xd8", b"\xff\xd9"


def chunk(name: bytes, body: bytes) -> bytes:
    return struct.pack(">I", len(body)) + name + body + struct.pack(">I", zlib.crc32(name + body))


def head(wide: int, tall: int, depth: int = 8, color: int = 0, interlaced: int = 0) -> bytes:
    return chunk(b"IHDR", struct.pack(">IIBBBBB", wide, tall, depth, color, 0, 0, interlaced))


def png(wide: int, tall: int, shade: int = 90, more: bytes = b"") -> bytes:
    """A gray PNG, darker to the right; `more` are pieces before the picture."""
    row = b"\0" + bytes((shade + 150 * x // wide) % 256 for x in range(wide))
    body = chunk(b"IDAT", zlib.compress(row * tall, 1)) + chunk(b"IEND", b"")
    return b"\x89PNG\r\n\x1a\n" + head(wide, tall) + more + body


def segment(marker: int, body: bytes) -> bytes:
    return bytes((0xFF, marker)) + struct.pack(">H", len(body) + 2) + body


def jpeg(wide: int, tall: int, shade: int = 90, more: bytes = b"", frame: int = 0xC0) -> bytes:
    """A gray JPEG of flat squares, darker downward; `more` are parts before the picture."""
    tables = segment(0xDB, b"\0" + b"\x08" * 64)
    tables += segment(frame, struct.pack(">BHHB", 8, tall, wide, 1) + b"\x01\x11\x00")
    tables += segment(0xC4, b"\x00" + bytes([0, 0, 0, 12, *[0] * 12]) + bytes(range(12)))  # twelve codes of four bits
    tables += segment(0xC4, b"\x10" + bytes([1, *[0] * 15]) + b"\x00")  # and one bit: nothing more in this square
    across, down = -(-wide // 8), -(-tall // 8)
    squares = (shade - 128 + 100 * y // down for y in range(down) for _ in range(across))
    return START + more + tables + segment(0xDA, b"\x01\x01\x00\x00\x3f\x00") + _bits(squares) + END


def _bits(squares: Iterable[int]) -> bytes:
    """Each square by how far it is from the one before."""
    bits, last = [], 0
    for one in squares:
        step, last = one - last, one
        size = abs(step).bit_length()
        bits.append(f"{size:04b}" + (f"{step if step > 0 else step + (1 << size) - 1:0{size}b}" if size else "") + "0")
    text = "".join(bits)
    text += "1" * (-len(text) % 8)
    return int(text, 2).to_bytes(len(text) // 8, "big").replace(b"\xff", b"\xff\x00")


def exif(up: int, order: str = ">", place: bytes = b"") -> bytes:
    """What a camera writes beside a picture: which side is up, and where it was taken."""
    tiff = (b"II*\0" if order == "<" else b"MM\0*") + struct.pack(f"{order}IHHHIHHI", 8, 1, 0x0112, 3, 1, up, 0, 0)
    return segment(0xE1, b"Exif\0\0" + tiff + place)
