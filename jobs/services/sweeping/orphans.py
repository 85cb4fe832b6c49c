"""Files that nothing needs any more: rows that nothing points at, contents that no row has."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime, timedelta

from django.db import models, transaction

from jobs.models import Document, Removal, StoredFile
from jobs.services.storage.contents import contents, drop_content, drop_named

ROWS_LIE = timedelta(days=30)
"""A file just sent may have its row before what it belongs to: a price list that is looked at."""
CONTENTS_LIE = timedelta(days=2)
"""A content is written before its row."""


def drop_unneeded_files(files: Iterable[StoredFile]) -> int:
    """Remove those of these files that nothing needs, their contents with them; return how many."""
    dropped = 0
    for stored in files:
        if is_needed(stored):
            continue
        with transaction.atomic():
            sha256 = stored.sha256
            stored.delete()
            transaction.on_commit(lambda sha256=sha256: _unlink_unshared(sha256))  # type: ignore[misc]
        dropped += 1
    return dropped


def sweep_file_rows(now: datetime) -> int:
    """Remove the rows of files that nothing has pointed at for long; return how many."""
    rows = StoredFile.objects.filter(stored_at__lt=now - ROWS_LIE)
    for relation in _relations():
        taken = relation.related_model._base_manager  # noqa: SLF001  Django's documented way to all rows of a table
        keys = taken.filter(**{f"{relation.field.name}__isnull": False})
        rows = rows.exclude(pk__in=keys.values(relation.field.name))
    return drop_unneeded_files(rows)


def is_needed(stored: StoredFile) -> bool:
    """Whether a row points at a file, a frozen document names it, or Undo would bring it back."""
    for relation in _relations():
        rows = relation.related_model._base_manager  # noqa: SLF001  as above
        if rows.filter(**{relation.field.name: stored.pk}).exists():
            return True
    if Document.objects.filter(company=stored.company_id, text__contains=stored.sha256).exists():
        return True
    kept = Removal.objects.filter(company=stored.company_id, restored_at__isnull=True)
    marks = models.Q()
    for name in {relation.field.name for relation in _relations()}:
        marks |= models.Q(rows__contains=f'"{name}": {stored.pk},')
        marks |= models.Q(rows__contains=f'"{name}": {stored.pk}}}')
    return kept.filter(marks).exists()


def _relations() -> list[models.ManyToOneRel]:
    """Return every column of every table that names a file."""
    every = StoredFile._meta.get_fields(include_hidden=True)  # noqa: SLF001  public by Django's documentation
    return [one for one in every if isinstance(one, models.ManyToOneRel)]


def sweep_contents(now: datetime) -> int:
    """Remove contents that no row has, and what broke off while it was written; return how many."""
    old = now - CONTENTS_LIE
    swept = 0
    for name, came in list(contents()):
        digest = name.rpartition("/")[2]
        if came < old and not StoredFile.objects.filter(sha256=digest).exists():
            drop_named(name)
            swept += 1
    return swept


def _unlink_unshared(sha256: str) -> None:
    if not StoredFile.objects.filter(sha256=sha256).exists():
        drop_content(sha256)
