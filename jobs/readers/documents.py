"""The one door to stored documents: what comes out is what was stored, in the newest format.

Each kind has one reader, which hands its form and its pure `read` to `opened`:

    scope_value(scope)      jobs       what a scope says
    stored_plan(plan)       jobs       a plan and what it was asked for
    stored_packet(packet)   jobs       a job packet
    priced_of(estimate)     estimates  a priced scope
    stored_quote(quote)     estimates  a quote
    stored_order(order)     estimates  a change order
    stored_invoice(row)     estimates  an invoice
    stored_slip(slip)       estimates  a completion slip
    stored_review(row)      estimates  the review of a closed job
    stored_passport(row)    estimates  what a floor passport told
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar

from jobs.domain.checks import BadValueError
from jobs.domain.documents import digest
from jobs.domain.formats import BrokenDocumentError, DocumentForm, Fields
from jobs.models import Document
from layout.values.errors import LayoutError

Value = TypeVar("Value")

_UNREADABLE = (ValueError, LookupError, TypeError, ArithmeticError, LayoutError)
"""What is raised for fields that are missing or of another kind than they are read as."""


def opened(document: Document, form: DocumentForm, read: Callable[[Fields], Value]) -> Value:
    """Return what `read` makes of the fields of a stored document, older formats brought up first.

    Raises BrokenDocumentError where kind, digest or format are wrong, or `read` refuses the fields.
    """
    return checked(document, form, lambda: read(form.read(document.text, stated=document.format)))


def checked(document: Document, form: DocumentForm, value: Callable[[], Value]) -> Value:
    """Return what `value` makes of a stored document, if that is of this form; raises as `opened`.

    For readers that keep what they made of a text.
    """
    try:
        _check(document, form)
        return value()
    except BrokenDocumentError:  # of another document, which `read` opened
        raise
    except _UNREADABLE as fault:
        raise broken(document, form, _reason(fault, form)) from fault


def broken(document: Document, form: DocumentForm, reason: str) -> BrokenDocumentError:
    """Return the error that says of a document, opened as of this form, what is wrong with it."""
    name = f"document {document.pk} of the books"
    return BrokenDocumentError(kind=form.kind, name=name, reason=reason)


def _check(document: Document, form: DocumentForm) -> None:
    """Refuse a document of another kind, and a text that is not the one that was stored."""
    if document.kind != form.kind:
        raise BadValueError(field="kind", value=document.kind, accepted=form.kind)
    actual = digest(document.text)
    if actual != document.sha256:
        accepted = f"{document.sha256[:12]}…, the digest it was stored with"
        raise BadValueError(field=f"{form.kind}.sha256", value=f"{actual[:12]}…", accepted=accepted)


def _reason(fault: Exception, form: DocumentForm) -> str:
    """Return in a sentence what is wrong with a document."""
    if isinstance(fault, KeyError):
        field = f"{form.kind}.{fault.args[0]}"
        fault = BadValueError(field=field, value=None, accepted="a value")
    return str(fault)
