"""Keeping the book straight: versions, once-only writes, audit lines, frozen documents."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeVar

from django.db import models, transaction
from django.db.models import F
from django.utils import timezone

from jobs.domain.documents import canonical_json, digest
from jobs.models import AuditLine, Company, Document, SentOnce, User
from jobs.models.base import Versioned

V = TypeVar("V", bound=Versioned)
M = TypeVar("M", bound=models.Model)


class StaleError(Exception):
    """Somebody else saved the row first. ``current`` is the row as it stands now."""

    def __init__(self, current: Versioned, changes: tuple[str, ...]) -> None:
        self.current = current
        self.changes = changes
        super().__init__("Somebody else saved this first. " + " ".join(changes))


def audit(*, user: User | None, company: Company, subject: str, act: str) -> AuditLine:
    """Return the saved line that says who did what."""
    who = user.name if user else "Rowbook"
    return AuditLine.objects.create(
        company=company, user=user, who=who, subject=subject, act=act[:200]
    )


@transaction.atomic
def save_versioned(row: V, *, expected: int, names: tuple[str, ...]) -> V:
    """Save the named fields of ``row`` if it still has the ``expected`` version; return it.

    Raises:
        StaleError: the row was saved by somebody else since; nothing is written.
    """
    kept = type(row)._default_manager  # noqa: SLF001  Django's documented way to a row's table
    rows = kept.filter(pk=row.pk, version=expected)
    values: dict[str, Any] = {name: getattr(row, name) for name in names}
    if not rows.update(version=F("version") + 1, changed_at=timezone.now(), **values):
        current = kept.get(pk=row.pk)
        raise StaleError(current, _differences(row, current, names))
    row.version = expected + 1
    return row


def _differences(mine: Versioned, now: Versioned, names: tuple[str, ...]) -> tuple[str, ...]:
    """Return a sentence for each named field that differs from what stands now."""
    lines = []
    for name in names:
        theirs, own = getattr(now, name), getattr(mine, name)
        if theirs != own:
            field = mine._meta.get_field(name)  # noqa: SLF001  public by Django's documentation
            label = getattr(field, "verbose_name", name)
            lines.append(f"{str(label).capitalize()} is now “{theirs}”; you have “{own}”.")
    return tuple(lines)


def first_time(*, company: Company, key: str, action: str) -> tuple[SentOnce, bool]:
    """Return the record of this write and whether it is new.

    Call it first inside the atomic block that does the write: if the block fails, so does the
    record. The second sender of the same key waits for the first, then gets its record.
    """
    return SentOnce.objects.get_or_create(company=company, key=key, defaults={"action": action})


def freeze(
    *, company: Company, kind: str, content: dict[str, Any], user: User | None, inputs: str = ""
) -> Document:
    """Return ``content`` stored as canonical text with its sha256. ``inputs``: digest of inputs."""
    text = canonical_json(content)
    return Document.objects.create(
        company=company,
        kind=kind,
        format=int(content.get("format", 1)),
        text=text,
        sha256=digest(text),
        inputs_sha256=inputs,
        made_by=user,
    )


def next_number(rows: models.QuerySet[Any]) -> int:
    """Return one more than the highest ``number`` among ``rows``, or 1."""
    highest: int | None = rows.aggregate(top=models.Max("number"))["top"]
    return (highest or 0) + 1


@transaction.atomic
def write_once(
    *, company: Company, key: str, action: str, rows: models.QuerySet[M], write: Callable[[], M]
) -> M:
    """Return the row that ``write`` makes or saves; sent again under ``key``, the row of the first.

    ``rows`` is where the first one's row is found again.
    """
    sent, new = first_time(company=company, key=key, action=action)
    if not new:
        return rows.get(pk=sent.result)
    row = write()
    sent.result = str(row.pk)
    sent.save(update_fields=["result"])
    return row


def written_before(*, company: Company, key: str) -> str:
    """Return the pk, as text, of the row that a form under this key wrote already; empty for none.

    A form that asks for a name of its own must not take its own first sending for another's.
    """
    sent = SentOnce.objects.filter(company=company, key=key).first()
    return sent.result if sent else ""
