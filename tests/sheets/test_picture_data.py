"""JPEG and PNG before they are printed: whole, of a bearable size by their head, and nothing beside the picture."""

import struct
import zlib

import pytest
from made_pictures import END, START, chunk, exif, head, jpeg, png, segment

from planner.sheets.picture_data import LONGEST_SIDE, MOST_PIXELS, NoPicture, picture_in

SIGNATURE = b"\x89PNG\r\n\x1a\n"


def refused(raw: bytes) -> str:
    with pytest.raises(NoPicture) as trouble:
        picture_in(raw)
    assert "\n" not in str(trouble.value)
    return str(trouble.value)


def packed(raw: bytes) -> bytes:
    return chunk(b"IDAT", zlib.compress(raw)) + chunk(b"IEND", b"")


@pytest.mark.parametrize(("make", "ending"), [(png, ".png"), (jpeg, ".jpg")])
@pytest.mark.parametrize(("wide", "tall"), [(1, 1), (7, 9), (640, 480), (33, 1000)])
def test_a_sound_picture_is_taken_as_it_is_with_its_size(make, ending, wide, tall):
    raw = make(wide, tall)
    assert picture_in(raw) == (raw, ending, wide, tall)


@pytest.mark.parametrize("raw", [b"hello", b"GIF89a" + b"\0" * 40, b"%PDF-1.7", b"\xff\xd8", b"<svg/>", b"\x89PNG"])
def test_what_is_neither_is_refused(raw):
    assert refused(raw) == "it's neither a JPEG nor a PNG"


@pytest.mark.parametrize("make", [png, jpeg])
def test_one_that_is_cut_off_anywhere_is_refused(make):
    raw = make(40, 30)
    for end in range(8, len(raw) - 1):
        refused(raw[:end])


def test_a_flipped_bit_of_a_png_shows_in_its_sums():
    raw = png(40, 30)
    for at in range(8, len(raw)):
        spoiled = raw[:at] + bytes([raw[at] ^ 16]) + raw[at + 1 :]
        refused(spoiled)


def test_a_bomb_is_refused_by_its_head_and_nothing_of_it_is_unpacked():
    """Fifty thousand on a side unpack to 2.5 GB out of a few kilobytes."""
    bomb = SIGNATURE + head(50_000, 50_000) + chunk(b"IDAT", b"\x78\x9c") + chunk(b"IEND", b"")
    assert "50,000 by 50,000 pixels" in refused(bomb)
    assert "65,000 by 65,000 pixels" in refused(jpeg(65_000, 8).replace(struct.pack(">HH", 8, 65_000), b"\xfd\xe8" * 2))


def test_a_png_that_unpacks_to_more_than_its_head_says_is_refused_and_never_unpacked_whole(monkeypatch):
    import planner.sheets.picture_data as module

    made = 0
    real = zlib.decompressobj

    class Counted:
        def __init__(self):
            self._own = real()

        def decompress(self, raw, most):
            nonlocal made
            block = self._own.decompress(raw, most)
            made += len(block)
            return block

        def __getattr__(self, name):
            return getattr(self._own, name)

    monkeypatch.setattr(module.zlib, "decompressobj", Counted)
    bomb = SIGNATURE + head(4, 4) + packed(b"\0" * 200_000_000)
    refused(bomb)
    assert made <= 2 * 1024 * 1024


def test_a_png_that_unpacks_to_less_is_refused():
    refused(SIGNATURE + head(8, 8) + packed(b"\0" * (8 * 9 - 1)))
    picture_in(SIGNATURE + head(8, 8) + packed(b"\0" * (8 * 9)))


@pytest.mark.parametrize(
    ("depth", "color", "interlaced", "size"),
    # 5 by 3: a byte for the filter of each row, and the bits of five pixels filled up to a byte
    [
        (1, 0, 0, 3 * (1 + 1)),
        (8, 2, 0, 3 * (1 + 15)),
        (16, 6, 0, 3 * (1 + 40)),
        (4, 0, 0, 3 * (1 + 3)),
        # by turns: 1x1, 1x1, no row of the third, 1x1 + 1x1 of the fourth, 3x1, 2x2, 5x1 pixels
        (8, 0, 1, (1 + 1) + (1 + 1) + 0 + (1 + 1) + (1 + 3) + 2 * (1 + 2) + (1 + 5)),
    ],
)
def test_each_kind_of_png_has_its_own_size(depth, color, interlaced, size):
    picture_in(SIGNATURE + head(5, 3, depth, color, interlaced) + packed(b"\0" * size))
    refused(SIGNATURE + head(5, 3, depth, color, interlaced) + packed(b"\0" * (size + 1)))


@pytest.mark.parametrize("raw", [head(5, 3, 3, 0), head(5, 3, 8, 5), head(0, 3), head(5, 3, 8, 0, 2), b""])
def test_a_png_of_no_kind_is_refused(raw):
    refused(SIGNATURE + raw + packed(b"\0" * 18))


def test_what_stands_beside_the_picture_is_left_out_and_which_side_is_up_stays():
    place = b"52.5 north"
    found = picture_in(jpeg(64, 32, more=exif(6, place=place) + segment(0xFE, place) + segment(0xE2, place)))
    assert place not in found.raw and (found.wide, found.tall) == (32, 64), "held upright"
    assert b"Exif" in found.raw
    assert b"Exif" not in picture_in(jpeg(64, 32, more=exif(1, place=place))).raw
    bomb = chunk(b"iTXt", b"place\0" + place) + chunk(b"zTXt", b"x\0\0" + zlib.compress(b"\0" * 10_000_000))
    assert picture_in(png(8, 8, more=bomb)).raw == png(8, 8)


@pytest.mark.parametrize("order", ["<", ">"])
@pytest.mark.parametrize("up", range(1, 9))
def test_which_side_is_up_is_read_in_either_order_of_bytes(order, up):
    found = picture_in(jpeg(64, 32, more=exif(up, order)))
    assert (found.wide, found.tall) == ((64, 32) if up < 5 else (32, 64))


@pytest.mark.parametrize("frame", [0xC3, 0xC5, 0xC9, 0xCB])
def test_a_jpeg_that_no_printer_reads_is_refused(frame):
    assert "kind of JPEG" in refused(jpeg(64, 32, frame=frame))


def test_a_jpeg_with_two_frames_or_none_is_refused():
    second = segment(0xC0, struct.pack(">BHHB", 8, 9, 9, 1) + b"\x01\x11\x00")
    refused(jpeg(64, 32, more=second))
    refused(START + END)
    refused(START + segment(0xDB, b"\0" * 65) + END)
    refused(START + b"\x00" * 20)


def test_the_limits_are_those_of_a_large_camera():
    assert MOST_PIXELS == 50_000_000 and LONGEST_SIDE == 20_000
    assert "too large" in refused(SIGNATURE + head(LONGEST_SIDE + 1, 1) + packed(b"\0"))
    assert "too large" in refused(SIGNATURE + head(10_000, 5_001) + packed(b"\0"))
    assert "damaged" in refused(SIGNATURE + head(10_000, 5_000) + packed(b"\0"))
