"""Logos: what is taken is written anew, what is no picture is refused."""

from __future__ import annotations

import struct
import zlib
from io import BytesIO

import pytest
from PIL import Image
from PIL.PngImagePlugin import PngInfo

from estimates.services.setup.logo import LARGEST_BYTES, logo_png
from jobs.domain.checks import BadValueError


def a_png(mode: str = "RGBA", size: tuple[int, int] = (40, 20), color: object = None) -> bytes:
    out, remarks = BytesIO(), PngInfo()
    remarks.add_text("Comment", "secret place")
    Image.new(mode, size, color).save(out, "PNG", pnginfo=remarks)  # type: ignore[arg-type]
    return out.getvalue()


def logo_of(content: bytes, size: int = 0) -> Image.Image:
    png = logo_png(BytesIO(content), size=size or len(content), name="logo.png")
    assert b"secret" not in png
    return Image.open(BytesIO(png))


def headed(width: int, height: int) -> bytes:
    """A PNG that says it is so large and holds nothing."""
    header = b"IHDR" + struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    sized = struct.pack(">I", 13) + header + struct.pack(">I", zlib.crc32(header))
    return b"\x89PNG\r\n\x1a\n" + sized


def test_what_shines_through_becomes_white() -> None:
    picture = logo_of(a_png(color=(0, 0, 0, 0)))
    assert (picture.format, picture.mode, picture.getpixel((3, 3))) == (
        "PNG",
        "RGB",
        (255, 255, 255),
    )


def test_a_large_picture_is_made_small_in_its_proportions() -> None:
    assert logo_of(a_png("RGB", (2000, 500), "navy")).size == (800, 200)


def test_a_picture_taken_lying_stands_upright() -> None:
    out, exif = BytesIO(), Image.Exif()
    exif[0x0112] = 6  # orientation: turn by a quarter
    Image.new("RGB", (40, 20), "navy").save(out, "JPEG", exif=exif)
    assert logo_of(out.getvalue()).size == (20, 40)


@pytest.mark.parametrize("mode", ["L", "P", "1", "LA", "I;16"])
def test_every_kind_of_png_is_taken(mode: str) -> None:
    assert logo_of(a_png(mode)).mode == "RGB"


def test_a_picture_in_inks_of_print_is_taken() -> None:
    out = BytesIO()
    Image.new("CMYK", (9, 9), (0, 0, 0, 0)).save(out, "JPEG")
    assert logo_of(out.getvalue()).getpixel((4, 4)) == (255, 255, 255)


@pytest.mark.parametrize(
    "content",
    [
        b"",
        b"%PDF-1.7",
        b"<svg xmlns='http://www.w3.org/2000/svg' onload='alert(1)'/>",
        a_png()[:60],
        b"GIF89a" + bytes(20),
        headed(0, 5),
    ],
)
def test_what_is_no_picture_is_refused_by_its_name(content: bytes) -> None:
    with pytest.raises(BadValueError, match=r"'x\.png'; accepted: a picture that can be opened"):
        logo_png(BytesIO(content), size=len(content), name="x.png")


@pytest.mark.parametrize("side", [5001, 12_000, 60_000])
def test_a_picture_of_too_many_pixels_is_refused_unopened(side: int) -> None:
    with pytest.raises(BadValueError, match=r"accepted: (up to 25 million pixels|a picture)"):
        logo_png(BytesIO(headed(side, side)), size=100, name="x.png")


def test_forty_megabytes_are_refused_unread() -> None:
    class Unread(BytesIO):
        def read(self, *_: object) -> bytes:
            raise AssertionError

    with pytest.raises(BadValueError, match=r"40 MB.*up to 8 MB"):
        logo_png(Unread(), size=40 * 2**20, name="x.png")
    assert LARGEST_BYTES == 8 * 2**20
