"""An archive as a file: written part by part, sealed with the digest of the whole, checked.

It is a zip that any tool opens. Its comment ends with the digest of all bytes before it, so that a
single flipped bit anywhere is seen, also where the zip itself would not notice.
"""

from __future__ import annotations

import hashlib
import os
import zipfile
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import BinaryIO

import pyrage

from jobs.domain.backups.manifest import (
    MANIFEST,
    Manifest,
    UnusableArchiveError,
    manifest_from,
    manifest_text,
)

SEAL = b"sha256:"
_DIGITS = 64
_CHUNK = 1 << 20
AGE_HEAD = b"age-encryption.org/"


class ArchiveWriter:
    """Writes the members of one archive."""

    def __init__(self, place: Path) -> None:
        self._place = place
        self._zip = zipfile.ZipFile(place, "w", zipfile.ZIP_DEFLATED, compresslevel=6)

    def add(self, member: str, pieces: Iterable[bytes], *, packed: bool) -> tuple[str, int, int]:
        """Write a member; return its digest, its bytes and how many pieces it had."""
        info = zipfile.ZipInfo(member)
        info.compress_type = zipfile.ZIP_DEFLATED if packed else zipfile.ZIP_STORED
        digest, size, count = hashlib.sha256(), 0, 0
        with self._zip.open(info, "w", force_zip64=True) as out:
            for piece in pieces:
                digest.update(piece)
                size += len(piece)
                count += 1
                out.write(piece)
        return digest.hexdigest(), size, count

    def close(self, manifest: Manifest) -> None:
        """Write the manifest, seal the whole and have the disk take it."""
        self._zip.writestr(MANIFEST, manifest_text(manifest))
        self._zip.comment = SEAL + b"0" * _DIGITS
        self._zip.close()
        digest = _digest_without_seal(self._place)
        with self._place.open("r+b") as out:
            out.seek(-_DIGITS, os.SEEK_END)
            out.write(digest.encode("ascii"))
            out.flush()
            os.fsync(out.fileno())

    def drop(self) -> None:
        """Let go of an archive that will not be finished."""
        self._zip.close()


def digest_of_file(place: Path) -> str:
    """Return the digest of a whole file."""
    with place.open("rb") as source:
        return hashlib.file_digest(source, "sha256").hexdigest()


def pieces_of(source: BinaryIO) -> Iterator[bytes]:
    """Yield a file in pieces that fit into memory."""
    while piece := source.read(_CHUNK):
        yield piece


def _digest_without_seal(place: Path) -> str:
    remaining = place.stat().st_size - _DIGITS
    digest = hashlib.sha256()
    with place.open("rb") as source:
        while remaining > 0 and (piece := source.read(min(_CHUNK, remaining))):
            digest.update(piece)
            remaining -= len(piece)
    return digest.hexdigest()


@contextmanager
def opened(place: Path) -> Iterator[tuple[zipfile.ZipFile, Manifest]]:
    """Open an archive whose every byte, member, row and file is as it was written.

    Raises UnusableArchiveError with the reason for any other.
    """
    _check_seal(place)
    try:
        with zipfile.ZipFile(place) as archive:
            manifest = manifest_from(archive.read(MANIFEST).decode())
            _check_members(archive, manifest)
            yield archive, manifest
    except (zipfile.BadZipFile, zipfile.LargeZipFile, KeyError, UnicodeDecodeError) as fault:
        message = f"It is no archive that can be opened ({fault})."
        raise UnusableArchiveError(message) from None


def _check_seal(place: Path) -> None:
    try:
        with place.open("rb") as source:
            head = source.read(len(AGE_HEAD))
            source.seek(-min(place.stat().st_size, len(SEAL) + _DIGITS), os.SEEK_END)
            seal = source.read()
    except OSError as gone:
        message = f"It can't be opened: {gone.strerror}."
        raise UnusableArchiveError(message) from None
    if head == AGE_HEAD:
        message = "It is encrypted. Name the file of its key with --identity."
        raise UnusableArchiveError(message)
    if not seal.startswith(SEAL):
        message = "It does not end with the seal of a Rowbook backup: its end is missing."
        raise UnusableArchiveError(message)
    if seal[len(SEAL) :] != _digest_without_seal(place).encode("ascii"):
        message = "It is not as it was written: a part of it was changed, or is spoiled."
        raise UnusableArchiveError(message)


def _check_members(archive: zipfile.ZipFile, manifest: Manifest) -> None:
    names = set(archive.namelist())
    if missing := sorted(manifest.members - names):
        message = f"{missing[0]} is missing in it" + _and_more(missing)
        raise UnusableArchiveError(message)
    if foreign := sorted(names - manifest.members):
        message = f"{foreign[0]} does not belong into it" + _and_more(foreign)
        raise UnusableArchiveError(message)
    for table in manifest.tables:
        with archive.open(table.member) as source:
            digest, rows = hashlib.sha256(), 0
            for line in source:
                digest.update(line)
                rows += 1
        if (digest.hexdigest(), rows) != (table.sha256, table.rows):
            message = f"The table {table.table} in it is not as it was saved."
            raise UnusableArchiveError(message)
    for file in manifest.files:
        with archive.open(file.member) as content:
            if hashlib.file_digest(content, "sha256").hexdigest() != file.sha256:  # type: ignore[arg-type]
                message = f"The file {file.name} in it is not as it was saved."
                raise UnusableArchiveError(message)


def _and_more(names: list[str]) -> str:
    return f", and {len(names) - 1} more." if len(names) > 1 else "."


def new_key() -> tuple[str, str]:
    """Return a new key of age: the secret half, and the half to which backups are encrypted."""
    identity = pyrage.x25519.Identity.generate()
    return str(identity), str(identity.to_public())


def encrypt(plain: Path, place: Path, recipient: str) -> None:
    """Write an archive encrypted to a recipient, by age. Raises ValueError for none that is one."""
    try:
        key = pyrage.x25519.Recipient.from_str(recipient)
    except pyrage.RecipientError as fault:
        message = f"{recipient!r} is no recipient of age: {fault}."
        raise ValueError(message) from None
    with plain.open("rb") as source, place.open("wb") as out:
        pyrage.encrypt_io(source, out, [key])
        out.flush()
        os.fsync(out.fileno())


def decrypt(sealed: Path, place: Path, identity: str) -> None:
    """Write an encrypted archive in the clear.

    Raises UnusableArchiveError where the key is not that of the archive, or the archive is spoiled.
    """
    try:
        keys = [
            pyrage.x25519.Identity.from_str(line.strip())
            for line in identity.splitlines()
            if line.strip() and not line.startswith("#")
        ]
        with sealed.open("rb") as source, place.open("wb") as out:
            pyrage.decrypt_io(source, out, keys)
    except (pyrage.IdentityError, pyrage.DecryptError, OSError) as fault:
        message = f"It can't be decrypted with this key: {fault}."
        raise UnusableArchiveError(message) from None
