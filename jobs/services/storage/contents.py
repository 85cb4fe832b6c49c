"""Contents by their digest, in whatever storage the settings name; nothing else knows where."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from datetime import datetime
from typing import IO, BinaryIO, cast

from django.core.files import File
from django.core.files.base import ContentFile
from django.core.files.storage import default_storage

_PIECE = 1 << 20


def name_of(sha256: str) -> str:
    """Return the name under which the content with this digest is kept."""
    return f"{sha256[:2]}/{sha256}"


def keep_content(sha256: str, content: bytes) -> None:
    """Keep a content, once."""
    name = name_of(sha256)
    if not default_storage.exists(name):
        default_storage.save(name, ContentFile(content))
    elif freshen := getattr(default_storage, "freshen", None):
        freshen(name)


def open_content(sha256: str) -> BinaryIO:
    """Return a content, opened for reading. Raises OSError, FileNotFoundError where it is gone."""
    return cast(BinaryIO, default_storage.open(name_of(sha256), "rb"))


def put_content(sha256: str, source: IO[bytes]) -> None:
    """Put a content where it belongs; one that is there whole stays."""
    name = name_of(sha256)
    if default_storage.exists(name):
        if _digest_of(sha256) == sha256:
            return
        if not hasattr(default_storage, "freshen"):  # it would get another name
            default_storage.delete(name)
    default_storage.save(name, File(source))


def drop_content(sha256: str) -> None:
    """Remove a content; one that is gone already is none."""
    default_storage.delete(name_of(sha256))


def contents() -> Iterator[tuple[str, datetime]]:
    """Yield whatever lies in the storage, with when it came; what is gone meanwhile is left out."""
    for folder in sorted(_listed("")[0]):
        if len(folder) != 2:
            continue
        for name in sorted(_listed(folder)[1]):
            try:
                yield f"{folder}/{name}", default_storage.get_modified_time(f"{folder}/{name}")
            except FileNotFoundError:
                continue


def drop_named(name: str) -> None:
    """Remove what lies under a name."""
    default_storage.delete(name)


def _listed(folder: str) -> tuple[list[str], list[str]]:
    try:
        return default_storage.listdir(folder)
    except FileNotFoundError:
        return [], []


def _digest_of(sha256: str) -> str:
    digest = hashlib.sha256()
    with open_content(sha256) as source:
        while piece := source.read(_PIECE):
            digest.update(piece)
    return digest.hexdigest()
