"""What every add-or-change page does: show the form, carry out the write, lead on."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse, QueryDict

from jobs.access import SignedInRequest
from jobs.forms.base import OnceForm, VersionedForm
from jobs.http import go_to, render_page
from jobs.models.base import Versioned


def sent(request: HttpRequest) -> QueryDict | None:
    """Return what a form was sent with, even if that is nothing; None where none was sent."""
    return request.POST if request.method == "POST" else None


def initial_of(row: object, names: tuple[str, ...]) -> dict[str, Any]:
    """Return the named fields of a row as a form's initial values."""
    return {name: getattr(row, name) for name in names}


def apply(row: Versioned, values: Mapping[str, Any]) -> None:
    """Put a form's cleaned values on a row, unsaved."""
    for name, value in values.items():
        setattr(row, name, value)


def picked(form: VersionedForm, names: tuple[str, ...]) -> dict[str, Any]:
    """Return the cleaned values under these names."""
    return {name: form.cleaned_data[name] for name in names}


def edit_page(
    request: SignedInRequest,
    *,
    form: OnceForm,
    write: Callable[[], Any],
    done: str,
    to: Callable[[Any], str],
    context: Mapping[str, Any],
    template: str = "parts/edit.html",
) -> HttpResponse:
    """Return the form's page, or carry out a valid one, say ``done`` and lead to ``to``."""
    if request.method == "POST" and form.is_valid():
        saved = form.carry_out(write)
        if saved is not None:
            messages.success(request, done)
            return go_to(request, to(saved))
    return render_page(request, template, {**context, "form": form}, status=form.status)
