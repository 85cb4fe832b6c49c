"""Seeded files that nobody means well with: pictures, papers and lists, spoiled and disguised."""

from __future__ import annotations

import struct
import zlib
from collections.abc import Iterator
from functools import cache
from io import BytesIO
from random import Random
from zipfile import ZipFile

from PIL import Image, ImageCms, PngImagePlugin
from pypdf import PdfWriter

SECRET = b"555-0142 behind the green door"
"""What a camera or a program wrote into a file; it must be in none that is kept."""


@cache
def sound_files() -> dict[str, bytes]:
    """Return one sound file of each kind, with remarks in it where the kind has room for them."""
    picture = Image.effect_noise((96, 64), 60).convert("RGB")
    exif = picture.getexif()
    exif[0x010E] = SECRET.decode()
    exif[0x0112] = 6
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    remarks = PngImagePlugin.PngInfo()
    remarks.add_text("Comment", SECRET.decode())
    how = {"exif": exif.tobytes(), "icc_profile": profile}
    return {
        "jpeg": _saved(picture, "JPEG", comment=SECRET, **how),
        "cmyk": _saved(picture.convert("CMYK"), "JPEG", comment=SECRET),
        "png": _saved(picture, "PNG", pnginfo=remarks, **how),
        "palette": _saved(picture.convert("P"), "PNG", transparency=3, pnginfo=remarks),
        "webp": _saved(picture, "WEBP", **how),
        "gif": _saved(picture, "GIF", comment=SECRET),
        "tiff": _saved(picture, "TIFF"),
        "bmp": _saved(picture, "BMP"),
        "pdf": _a_pdf(),
        "csv": b"code,item,amount\npad,,0.45\n" * 20,
        "svg": b"<svg xmlns='http://www.w3.org/2000/svg'><script>alert(1)</script></svg>",
        "zip": _a_zip(),
        "bomb": _png_of(60_000, 60_000),
        "flat": _png_of(0, 0),
    }


def _saved(picture: Image.Image, kind: str, **how: object) -> bytes:
    out = BytesIO()
    picture.save(out, kind, **how)
    return out.getvalue()


def _a_pdf() -> bytes:
    out, writer = BytesIO(), PdfWriter()
    writer.add_blank_page(width=72, height=72)
    writer.add_metadata({"/Author": SECRET.decode()})
    writer.write(out)
    return out.getvalue()


def _a_zip() -> bytes:
    out = BytesIO()
    with ZipFile(out, "w") as archive:
        archive.writestr("../../etc/passwd", SECRET)
    return out.getvalue()


def _png_of(width: int, height: int) -> bytes:
    """Return a PNG that says it is so large, with hardly anything in it."""

    def chunk(kind: bytes, content: bytes) -> bytes:
        checked = struct.pack(">I", zlib.crc32(kind + content))
        return struct.pack(">I", len(content)) + kind + content + checked

    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    parts = (chunk(b"IHDR", head), chunk(b"IDAT", zlib.compress(b"\0" * 99)), chunk(b"IEND", b""))
    return b"\x89PNG\r\n\x1a\n" + b"".join(parts)


def spoiled_files(count: int, *, seed: int) -> Iterator[tuple[str, bytes]]:
    """Yield so many files with what was done to each; the first are sound ones of every kind."""
    sound = sound_files()
    yield from list(sound.items())[:count]
    for number in range(len(sound), count):
        chance = Random(f"{seed}:{number}")
        kind = chance.choice(sorted(sound))
        way, content = _spoiled(chance, sound[kind], sound)
        yield f"{number}, {kind}, {way}", content


def _spoiled(chance: Random, content: bytes, sound: dict[str, bytes]) -> tuple[str, bytes]:
    way = chance.choice(("cut", "flipped", "filled", "behind", "before", "lengths", "nothing"))
    place = chance.randrange(len(content))
    other = sound[chance.choice(sorted(sound))]
    if way == "cut":
        return way, content[:place]
    if way == "behind":
        return way, content + other
    if way == "before":
        return way, other[: chance.randint(1, 200)] + content
    if way == "filled":
        return way, content[:place] + chance.randbytes(200) + content[place + 200 :]
    if way == "lengths":
        return way, content[:place] + b"\xff\xff\xff\xff" + content[place + 4 :]
    if way == "nothing":
        return way, chance.randbytes(chance.randrange(400))
    spoiled = bytearray(content)
    for _ in range(chance.randint(1, 30)):
        spoiled[chance.randrange(len(spoiled))] ^= 1 << chance.randrange(8)
    return way, bytes(spoiled)
