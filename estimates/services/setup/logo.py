"""The company's logo: a picture opened, made small and written anew before it is kept."""

from __future__ import annotations

from io import BytesIO
from typing import BinaryIO

from PIL import Image, ImageOps

from estimates.access import LOGO_NAME
from jobs.domain.checks import BadValueError
from jobs.models import Company, User
from jobs.services.files import UNREADABLE, store_file
from jobs.services.records import audit, save_versioned, writes_once

LARGEST_BYTES = 8 * 1024 * 1024
LONGEST_SIDE = 800
MOST_PIXELS = 25_000_000
KINDS = ("PNG", "JPEG", "WEBP")
KINDS_SAID = "PNG, JPEG or WebP"


def logo_png(upload: BinaryIO, *, size: int, name: str) -> bytes:
    """Return an uploaded picture as PNG: upright, on white, at most 800 pixels long, no metadata.

    Raises:
        BadValueError: it is no picture that can be read, or too large.
    """
    if size > LARGEST_BYTES:
        shown, most = f"{size / 2**20:.0f} MB", f"up to {LARGEST_BYTES // 2**20} MB"
        raise BadValueError(field="logo", value=shown, accepted=most)
    try:
        with Image.open(upload, formats=KINDS) as opened:
            _refuse_pixels(opened)
            picture = ImageOps.exif_transpose(opened).convert("RGBA")
    except BadValueError:
        raise
    except UNREADABLE:
        accepted = f"a picture that can be opened: {KINDS_SAID}"
        raise BadValueError(field="logo", value=name, accepted=accepted) from None
    picture.thumbnail((LONGEST_SIDE, LONGEST_SIDE))
    return _on_white(picture)


@writes_once(Company, "set logo")
def set_logo(*, company: Company, user: User, key: str, expected: int, png: bytes) -> Company:
    """Return the company with its logo, as `logo_png` made it.

    Raises StaleError where somebody else saved the company first.
    """
    company.logo = store_file(
        company=company, content=png, name=LOGO_NAME, content_type="image/png"
    )
    save_versioned(company, expected=expected, names=("logo",))
    audit(user=user, company=company, subject="company", act="Changed the logo")
    return company


@writes_once(Company, "remove logo")
def remove_logo(*, company: Company, user: User, key: str) -> Company:
    """Return the company without a logo; papers that carry it keep it."""
    company.logo = None
    save_versioned(company, expected=company.version, names=("logo",))
    audit(user=user, company=company, subject="company", act="Removed the logo")
    return company


def _refuse_pixels(opened: Image.Image) -> None:
    if opened.width * opened.height > MOST_PIXELS:
        shown = f"{opened.width} x {opened.height} pixels"
        most = f"up to {MOST_PIXELS // 1_000_000} million pixels"
        raise BadValueError(field="logo", value=shown, accepted=most)


def _on_white(picture: Image.Image) -> bytes:
    """Return a picture as PNG: what shines through is white, as on paper."""
    ground = Image.new("RGB", picture.size, "white")
    ground.paste(picture, mask=picture.getchannel("A"))
    written = BytesIO()
    ground.save(written, "PNG", optimize=True)
    return written.getvalue()
