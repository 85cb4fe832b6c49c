"""Files kept under their digest; pictures opened, shrunk and written anew before they are kept."""

from __future__ import annotations

import hashlib
import struct
import zlib
from io import BytesIO
from pathlib import Path
from typing import BinaryIO
from zipfile import is_zipfile

from django.conf import settings
from django.http import FileResponse
from PIL import Image, ImageCms, ImageOps, UnidentifiedImageError

from jobs.domain.checks import BadValueError
from jobs.domain.formats import BrokenDocumentError
from jobs.models import Company, StoredFile
from jobs.services.storage.contents import keep_content, name_of, open_content

LARGEST_PICTURE_BYTES = 15 * 1024 * 1024
LONGEST_SIDE_PX = 1600
MOST_PIXELS = 60_000_000
UNREADABLE = (
    *(UnidentifiedImageError, Image.DecompressionBombError, Image.DecompressionBombWarning),
    *(OSError, EOFError, SyntaxError, ValueError, TypeError, LookupError, ArithmeticError),
    *(struct.error, zlib.error),
)
"""What readers of pictures raise for spoiled ones, each by the part that it read."""
_MARKS = (b"<script", b"<html", b"<!doctype html", b"<?php", b"<svg")
"""What no photograph says of itself, in small letters: by it a file of two kinds is told."""


def store_file(*, company: Company, content: bytes, name: str, content_type: str) -> StoredFile:
    """Return the stored file; the same content under the same name is kept once."""
    sha256 = hashlib.sha256(content).hexdigest()
    keep_content(sha256, content)
    stored, _ = StoredFile.objects.get_or_create(
        company=company,
        sha256=sha256,
        name=name[:120],
        defaults={"content_type": content_type, "size": len(content)},
    )
    return stored


def path_of(sha256: str) -> Path:
    """Return where the content with this digest lies, where contents are kept in a folder."""
    return Path(settings.MEDIA_ROOT) / name_of(sha256)


def read_file(stored: StoredFile) -> bytes:
    """Return the content, checked against its digest.

    Raises BrokenDocumentError where it is gone or is not the content that was stored.
    """
    try:
        with open_content(stored.sha256) as source:
            content = source.read()
    except OSError as gone:
        raise _broken(stored, "not in the folder of files") from gone
    actual = hashlib.sha256(content).hexdigest()
    if actual != stored.sha256:
        raise _broken(stored, f"of the digest {actual[:12]}…")
    return content


def _broken(stored: StoredFile, value: str) -> BrokenDocumentError:
    """Return the error that says of a file how it is instead of as it was stored."""
    reason = f"it is {value}; accepted: the content it was stored with, {stored.sha256[:12]}…"
    return BrokenDocumentError(kind="file", name=f"file {stored.pk}, {stored.name}", reason=reason)


def serve(stored: StoredFile, *, download: bool = False) -> FileResponse:
    """Return the stored file as a response that no page can turn into script."""
    response = FileResponse(
        BytesIO(read_file(stored)),
        as_attachment=download,
        filename=stored.name,
        content_type=stored.content_type,
    )
    response["X-Content-Type-Options"] = "nosniff"
    response["Cache-Control"] = "private, no-store"
    return response


def _refuse_two_in_one(upload: BinaryIO, name: str) -> None:
    """Refuse a picture that is a page, a program or an archive at the same time."""
    place = upload.tell()
    upload.seek(0)
    content = upload.read()
    low = content.lower()
    other = any(mark in low for mark in _MARKS) or b"%PDF-" in content[:1024]
    other = other or is_zipfile(BytesIO(content))
    upload.seek(place)
    if other:
        accepted = "a file that is a picture and nothing else"
        raise BadValueError(field="photo", value=name, accepted=accepted)


def _in_plain_colors(picture: Image.Image) -> Image.Image:
    """Return a picture in the colors that every screen takes for granted; its profile is used up.

    A profile is carried along as it is, whatever else lies in it.
    """
    profile = picture.info.get("icc_profile")
    plain = picture.convert("RGB")
    if not profile or picture.mode not in ("RGB", "CMYK", "L"):
        return plain
    try:
        given = ImageCms.ImageCmsProfile(BytesIO(profile))
        wanted = ImageCms.createProfile("sRGB")
        turned = ImageCms.profileToProfile(picture, given, wanted, outputMode="RGB")
    except (ImageCms.PyCMSError, OSError, ValueError):
        return plain
    return turned or plain


def store_picture(*, company: Company, upload: BinaryIO, size: int, name: str) -> StoredFile:
    """Return an uploaded picture written anew as JPEG: upright, no larger than needed, no metadata.

    Raises:
        BadValueError: it is no picture that can be read, or too large.
    """
    if size > LARGEST_PICTURE_BYTES:
        most = f"up to {LARGEST_PICTURE_BYTES // 2**20} MB"
        raise BadValueError(field="photo", value=f"{size // 2**20} MB", accepted=most)
    try:
        with Image.open(upload, formats=("JPEG", "PNG", "WEBP")) as opened:
            if opened.width * opened.height > MOST_PIXELS:
                shown = f"{opened.width} x {opened.height}"
                raise BadValueError(field="photo", value=shown, accepted="up to 60 megapixels")
            _refuse_two_in_one(upload, name)
            picture = _in_plain_colors(ImageOps.exif_transpose(opened))
            picture.thumbnail((LONGEST_SIDE_PX, LONGEST_SIDE_PX))
            written = BytesIO()
            # Comments, places and profiles of the camera would be written along; nothing of it is.
            picture.info = {}
            picture.save(written, "JPEG", quality=82)
    except BadValueError:
        raise
    except UNREADABLE:
        raise BadValueError(
            field="photo", value=name, accepted="a picture: JPEG, PNG or WebP"
        ) from None
    stem = Path(name).stem[:80] or "photo"
    return store_file(
        company=company, content=written.getvalue(), name=f"{stem}.jpg", content_type="image/jpeg"
    )
