"""What every page that writes does: show a form or ask, carry out the write, lead on."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import TypeVar

from django.contrib import messages
from django.http import HttpResponse
from django.urls import reverse
from django.views.decorators.http import require_http_methods

from jobs.access import SignedInRequest
from jobs.forms.base import OnceForm, PlainForm, VersionedForm
from jobs.http import Context, go_to, render_page
from jobs.models import Removal

T = TypeVar("T")

UNDO = "undo:"
"""What a message's tags begin with where it has a button that undoes; the address follows."""

edits = require_http_methods(["GET", "HEAD", "POST"])
"""Decorates a view that shows a form and takes it."""


def initial_of(row: object, names: tuple[str, ...]) -> dict[str, object]:
    """Return the named fields of a row as a form's initial values."""
    return {name: getattr(row, name) for name in names}


def picked(form: VersionedForm, names: tuple[str, ...]) -> dict[str, object]:
    """Return the cleaned values under these names."""
    return {name: form.cleaned_data[name] for name in names}


def refusals(form: OnceForm) -> list[str]:
    """Return what a form refuses, in sentences."""
    return [str(text) for texts in form.errors.values() for text in texts]


def asks_to_propose(request: SignedInRequest) -> bool:
    """Whether a form was sent for what follows from it, not to be saved."""
    return request.method == "POST" and request.POST.get("do") == "propose"


def say_done(request: SignedInRequest, done: str, *, undo: str = "") -> None:
    """Say on the next page what was done; ``undo`` is the address that its button sends to."""
    messages.success(request, done, extra_tags=f"{UNDO}{undo}" if undo else "")


def edit_page(
    request: SignedInRequest,
    *,
    form: OnceForm,
    write: Callable[[], T],
    done: str,
    to: Callable[[T], str],
    context: Context,
    template: str = "parts/edit.html",
) -> HttpResponse:
    """Return the form's page, or carry out a valid one, say ``done`` and lead to ``to``."""
    if request.method == "POST" and form.is_valid():
        saved = form.carry_out(write)
        if saved is not None:
            say_done(request, done)
            return go_to(request, to(saved))
    return render_page(request, template, {**context, "form": form}, status=form.status)


def confirm_page(
    request: SignedInRequest,
    *,
    title: str,
    sentence: str,
    action: str,
    write: Callable[[], object],
    done: str,
    to: str,
    back: str,
    consequences: Iterable[str] = (),
) -> HttpResponse:
    """Return the page that asks first, or do what it asks about, say ``done`` and lead to ``to``.

    Its form is sent to the page's own address. ``back`` is where a change of mind leads. What was
    removed can be undone where it is said; what is refused is said on the page.
    """
    refusal = PlainForm({})
    if request.method == "POST" and refusal.is_valid():
        done_with = refusal.carry_out(lambda: (write(),))
        if done_with is not None:
            say_done(request, done, undo=_undo_of(done_with[0]))
            return go_to(request, to)
    context = {
        "title": title,
        "sentence": sentence,
        "consequences": list(consequences),
        "action": action,
        "tone": "stop",
        "action_url": request.path,
        "back_url": back,
        "form": refusal if refusal.errors else OnceForm(),
    }
    return render_page(request, "parts/confirm.html", context, status=refusal.status)


def _undo_of(written: object) -> str:
    """Return the address that brings back what was removed; empty where nothing was."""
    if not isinstance(written, Removal):
        return ""
    return reverse("removed-restore", args=[written.pk])
