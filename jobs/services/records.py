"""Keeping the book straight: versions, once-only writes, audit lines, frozen documents."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import ParamSpec, TypeVar, cast

from django.db import models, transaction
from django.db.models import F
from django.utils import timezone

from jobs.domain.checks import BadValueError
from jobs.domain.documents import canonical_json, digest
from jobs.domain.formats import Fields
from jobs.models import AuditLine, Company, Document, Job, SentOnce, User
from jobs.models.base import Values, Versioned
from jobs.pdf import set_beforehand

V = TypeVar("V", bound=Versioned)
M = TypeVar("M", bound=models.Model)
P = ParamSpec("P")


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


def audit_job(*, job: Job, user: User | None, act: str) -> AuditLine:
    """Return the saved line that says who did what to a job or to something in it."""
    return audit(user=user, company=job.company, subject=f"job {job.pk}", act=act)


def put_values(row: models.Model, values: Values) -> None:
    """Put values on a row by the names of its fields, unsaved."""
    for name, value in values.items():
        setattr(row, name, value)


@transaction.atomic
def save_versioned(row: V, *, expected: int, names: tuple[str, ...]) -> V:
    """Save the named fields of ``row`` if it still has the ``expected`` version; return it.

    Raises:
        StaleError: the row was saved by somebody else since; nothing is written.
    """
    kept = type(row)._default_manager  # noqa: SLF001  Django's documented way to a row's table
    rows = kept.filter(pk=row.pk, version=expected)
    values: dict[str, object] = {name: getattr(row, name) for name in names}
    if not rows.update(version=F("version") + 1, changed_at=timezone.now(), **values):
        current = kept.get(pk=row.pk)
        raise StaleError(current, _differences(row, current, names))
    row.version = expected + 1
    return row


def _differences(mine: Versioned, now: Versioned, names: tuple[str, ...]) -> tuple[str, ...]:
    """Return a sentence for each named field that differs from what stands now."""
    lines = []
    for name in names:
        theirs, yours = getattr(now, name), getattr(mine, name)
        if theirs != yours:
            field = mine._meta.get_field(name)  # noqa: SLF001  public by Django's documentation
            label = getattr(field, "verbose_name", name)
            lines.append(f"{str(label).capitalize()} is now “{theirs}”; you have “{yours}”.")
    return tuple(lines)


def first_time(*, company: Company, key: str, action: str) -> tuple[SentOnce, bool]:
    """Return the record of this write and whether it is new.

    Call it first inside the atomic block that does the write: if the block fails, so does the
    record. The second sender of the same key waits for the first, then gets its record.

    Raises BadValueError where the key was sent with another action.
    """
    kept = SentOnce.objects
    sending, new = kept.get_or_create(company=company, key=key, defaults={"action": action})
    if sending.action != action:
        accepted = "a key that nothing else was sent under; open the page again"
        raise BadValueError(field="key", value=f"that of “{sending.action}”", accepted=accepted)
    return sending, new


def freeze(
    *, company: Company, kind: str, content: Fields, user: User | None, inputs: str = ""
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


def next_number(rows: models.QuerySet[M]) -> int:
    """Return one more than the highest ``number`` among ``rows``, or 1."""
    highest: int | None = rows.aggregate(top=models.Max("number"))["top"]
    return (highest or 0) + 1


def writes_once(model: type[M], action: str) -> Callable[[Callable[P, M]], Callable[P, M]]:
    """Make a service write once: sent again under its ``key``, it returns the row of the first.

        @writes_once(Client, "add client")
        def add_client(*, company: Company, user: User, key: str, values: Values) -> Client:

    The service takes ``user`` and ``key`` and returns a row of ``model``. All it writes stands or
    falls together; a paper that it prints is set in type before (`set_beforehand`). A key is of the
    user's company and of one action: raises BadValueError where another action was sent under it.
    """

    def once(service: Callable[P, M]) -> Callable[P, M]:
        @transaction.atomic
        def first_or_again(*args: P.args, **kwargs: P.kwargs) -> M:
            company = _company_of(cast(User, kwargs["user"]))
            sending, new = first_time(company=company, key=str(kwargs["key"]), action=action)
            if not new:
                return _written(model, sending)
            row = service(*args, **kwargs)
            sending.result = str(row.pk)
            sending.save(update_fields=["result"])
            return row

        @wraps(service)
        def with_papers_set(*args: P.args, **kwargs: P.kwargs) -> M:
            if transaction.get_connection().in_atomic_block:
                return first_or_again(*args, **kwargs)
            return set_beforehand(lambda: first_or_again(*args, **kwargs))

        return with_papers_set

    return once


def _written(model: type[M], sending: SentOnce) -> M:
    """Return what the first sending wrote. Raises BadValueError where it is gone since."""
    row = model._default_manager.filter(pk=sending.result).first()  # noqa: SLF001  as above
    if row is None:
        raise BadValueError(
            field="form",
            value="one that was saved before, and what it saved was removed since",
            accepted="the form opened anew",
        )
    return row


def _company_of(user: User) -> Company:
    if user.company is None:
        message = f"{user} belongs to no company, so there is no book to write into."
        raise ValueError(message)
    return user.company


def written_before(*, company: Company, key: str) -> str:
    """Return the pk, as text, of the row that a form under this key wrote already; empty for none.

    A form that asks for a name of its own must not take its own first sending for another's.
    """
    sent = SentOnce.objects.filter(company=company, key=key).first()
    return sent.result if sent else ""
