"""What an archive says of itself: its form, the tables and files in it, each with its digest.

An archive is a zip of one member a table (`tables/jobs_job.jsonl`, a row a line, by key), one a
file (`files/ab/ab12…`) and this manifest, the last. A form with another meaning is a new number.
"""

from __future__ import annotations

import json
from dataclasses import asdict, dataclass
from typing import Any

WHAT = "Rowbook backup"
FORM = 1
MANIFEST = "manifest.json"


class UnusableArchiveError(ValueError):
    """An archive that can't be restored, with the reason in a sentence."""


@dataclass(frozen=True, kw_only=True, slots=True)
class SavedTable:
    """A table in an archive. ``last_key``: the highest key it ever gave, so that none returns."""

    table: str
    model: str
    rows: int
    sha256: str
    last_key: int | None

    @property
    def member(self) -> str:
        """Return the name of its member."""
        return f"tables/{self.table}.jsonl"


@dataclass(frozen=True, kw_only=True, slots=True)
class SavedFile:
    """A file in an archive: the digest by which the book knows it, and that of what was there.

    The two differ where the file had been spoiled before it was saved.
    """

    name: str
    sha256: str
    size: int

    @property
    def member(self) -> str:
        """Return the name of its member."""
        return f"files/{self.name[:2]}/{self.name}"


@dataclass(frozen=True, kw_only=True, slots=True)
class Manifest:
    """All that an archive says of itself. ``missing``: files that were gone when it was made."""

    version: str
    kind: str
    moment: str
    engine: str
    migrations: tuple[tuple[str, str], ...]
    tables: tuple[SavedTable, ...]
    files: tuple[SavedFile, ...]
    missing: tuple[str, ...] = ()

    @property
    def members(self) -> set[str]:
        """Return the names of all members that belong into the archive."""
        tables, files = self.tables, self.files
        return {MANIFEST, *(one.member for one in tables), *(one.member for one in files)}

    @property
    def row_count(self) -> int:
        """Return how many rows there are, of all tables."""
        return sum(table.rows for table in self.tables)


def manifest_text(manifest: Manifest) -> str:
    """Return a manifest as it stands in its archive."""
    content = {"what": WHAT, "form": FORM} | asdict(manifest)
    return json.dumps(content, sort_keys=True, indent=1)


def manifest_from(text: str) -> Manifest:
    """Return the manifest of an archive.

    Raises UnusableArchiveError for another thing, for a newer form and for what can't be read.
    """
    try:
        content: dict[str, Any] = json.loads(text)
        what, form = content.pop("what"), content.pop("form")
    except (ValueError, KeyError, TypeError, AttributeError) as fault:
        message = f"Its list of contents can't be read ({fault})."
        raise UnusableArchiveError(message) from None
    if what != WHAT:
        message = f"It calls itself {what!r}; only a {WHAT} can be restored."
        raise UnusableArchiveError(message)
    if form != FORM:
        message = (
            f"It has the form {form!r} and was written by Rowbook {content.get('version')}; this "
            f"one reads form {FORM}. Install that Rowbook, or a newer one, and restore there."
        )
        raise UnusableArchiveError(message)
    return _typed(content)


def _typed(content: dict[str, Any]) -> Manifest:
    try:
        content["tables"] = tuple(SavedTable(**one) for one in content["tables"])
        content["files"] = tuple(SavedFile(**one) for one in content["files"])
        content["migrations"] = tuple((app, name) for app, name in content["migrations"])
        content["missing"] = tuple(content["missing"])
        return Manifest(**content)
    except (KeyError, TypeError, ValueError) as fault:
        message = f"Its list of contents can't be read ({fault})."
        raise UnusableArchiveError(message) from None
