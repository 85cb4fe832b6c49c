"""A maker's sheet taken in: a picture written anew, or a PDF opened, searched and written anew."""

from __future__ import annotations

import zlib
from collections.abc import Iterator
from dataclasses import dataclass
from io import BytesIO
from pathlib import Path
from typing import BinaryIO

from pypdf import PdfReader, PdfWriter
from pypdf.errors import PyPdfError
from pypdf.generic import ArrayObject, DictionaryObject, IndirectObject

from jobs.domain.checks import BadValueError
from jobs.models import Company, StoredFile
from jobs.services.files import store_file, store_picture

LARGEST_BYTES = 20 * 1024 * 1024
MOST_PAGES = 200
MOST_PARTS = 200_000
ACCEPTED = "a PDF of up to 20 MB without password or script, or a picture: JPEG, PNG or WebP"
_ACTIVE = {"/JavaScript", "/Launch", "/ImportData", "/SubmitForm", "/Rendition", "/GoToE"}
# What a broken file makes the reader raise, beside its own errors.
_BROKEN = (
    *(PyPdfError, ValueError, KeyError, TypeError, AttributeError, IndexError, OSError),
    *(RuntimeError, AssertionError, OverflowError, zlib.error),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetSent:
    """A maker's sheet as it was sent."""

    upload: BinaryIO
    size: int
    name: str


def store_sheet(*, company: Company, sent: SheetSent) -> StoredFile:
    """Return the stored sheet, written anew: no script, no form, no file inside it.

    Raises BadValueError (field ``sheet``) for anything but a picture or a harmless PDF.
    """
    if sent.size > LARGEST_BYTES:
        raise _refused(f"{sent.name}, {sent.size // 2**20} MB")
    head = sent.upload.read(1024)
    sent.upload.seek(0)
    if b"%PDF-" not in head:
        return _picture(company, sent)
    return store_file(
        company=company,
        content=_rewritten(sent.upload.read(), sent.name),
        name=f"{Path(sent.name).stem[:80] or 'sheet'}.pdf",
        content_type="application/pdf",
    )


def _picture(company: Company, sent: SheetSent) -> StoredFile:
    try:
        return store_picture(
            company=company, upload=sent.upload, size=sent.size, name=sent.name or "sheet"
        )
    except BadValueError as bad:
        raise _refused(str(bad.value)) from None


def _rewritten(content: bytes, name: str) -> bytes:
    """Return a PDF of the same pages and nothing else."""
    try:
        reader = PdfReader(BytesIO(content))
        if reader.is_encrypted:
            raise _refused(f"{name}, locked with a password")
        if len(reader.pages) > MOST_PAGES:
            raise _refused(f"{name}, {len(reader.pages)} pages", f"up to {MOST_PAGES} pages")
        _refuse_active(reader, name)
        writer = PdfWriter()
        for page in reader.pages:
            writer.add_page(page).pop("/AA", None)
        written = BytesIO()
        writer.write(written)
    except _BROKEN as bad:
        if isinstance(bad, BadValueError):
            raise
        raise _refused(f"{name}, which can't be read") from None
    return written.getvalue()


def _refuse_active(reader: PdfReader, name: str) -> None:
    """Refuse a document that does something when it is opened or clicked, or carries files."""
    for part in _parts(reader.trailer):
        if part.get("/S") in _ACTIVE or "/JS" in part:
            raise _refused(f"{name}, which carries a script or starts a program")
        if "/EmbeddedFiles" in part or part.get("/Type") == "/EmbeddedFile":
            raise _refused(f"{name}, which carries another file")


def _parts(root: object) -> Iterator[DictionaryObject]:
    """Yield every dictionary that can be reached, streams included, each once."""
    waiting: list[object] = [root]
    seen: set[tuple[int, int]] = set()
    for _ in range(MOST_PARTS):
        if not waiting:
            return
        part = waiting.pop()
        if isinstance(part, IndirectObject):
            if (part.idnum, part.generation) in seen:
                continue
            seen.add((part.idnum, part.generation))
            part = part.get_object()
        if isinstance(part, DictionaryObject):
            yield part
            waiting += [value for key in part if (value := part.raw_get(key)) is not None]
        elif isinstance(part, ArrayObject):
            waiting += list.__iter__(part)
    raise ValueError("too many parts")


def _refused(value: str, accepted: str = ACCEPTED) -> BadValueError:
    return BadValueError(field="sheet", value=value, accepted=accepted)
