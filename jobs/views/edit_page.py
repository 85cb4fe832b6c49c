"""What every page that writes does: show a form or ask, carry out the write, lead on."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import TypeVar

from django.contrib import messages
from django.http import HttpResponse
from django.views.decorators.http import require_http_methods

from jobs.access import SignedInRequest
from jobs.forms.base import OnceForm, VersionedForm
from jobs.http import Context, go_to, render_page

T = TypeVar("T")

edits = require_http_methods(["GET", "HEAD", "POST"])
"""Decorates a view that shows a form and takes it."""


def initial_of(row: object, names: tuple[str, ...]) -> dict[str, object]:
    """Return the named fields of a row as a form's initial values."""
    return {name: getattr(row, name) for name in names}


def picked(form: VersionedForm, names: tuple[str, ...]) -> dict[str, object]:
    """Return the cleaned values under these names."""
    return {name: form.cleaned_data[name] for name in names}


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
            messages.success(request, done)
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

    Its form is sent to the page's own address. ``back`` is where a change of mind leads.
    """
    if request.method == "POST":
        write()
        messages.success(request, done)
        return go_to(request, to)
    context = {
        "title": title,
        "sentence": sentence,
        "consequences": list(consequences),
        "action": action,
        "tone": "stop",
        "action_url": request.path,
        "back_url": back,
        "form": OnceForm(),
    }
    return render_page(request, "parts/confirm.html", context)
