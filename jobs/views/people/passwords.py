"""Passwords: one's own, a link for somebody new or forgetful, and where that link leads."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any, ClassVar

from django import forms
from django.contrib import messages
from django.contrib.auth.forms import PasswordChangeForm, SetPasswordForm
from django.contrib.auth.views import PasswordChangeView, PasswordResetConfirmView
from django.http import HttpRequest, HttpResponse
from django.urls import reverse_lazy
from django.utils import timezone
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods, require_POST

from jobs.access import SignedInRequest, owner, person_for
from jobs.forms.base import OnceForm, sent
from jobs.http import go_to, render_page
from jobs.models import User
from jobs.services.mail.outbox import mail_is_set
from jobs.services.people import note_password_change
from jobs.services.sign_in import links as services

_MISMATCH = "The two are not the same; accepted: the same password typed twice."
_WRONG = "That is not the password you signed in with; capitals count."
_LABELS = {
    "old_password": "The password now",
    "new_password1": "New password",
    "new_password2": "The new password once more",
}
NO_LINK = 404
FORM_METHODS = ["get", "head", "post"]
"""What a page with a form answers to; a view of Django would take PUT for a form without fields."""


if TYPE_CHECKING:
    _SetPassword = SetPasswordForm[User]
else:
    _SetPassword = SetPasswordForm


class OwnPasswordForm(PasswordChangeForm):
    """The password now, and the new one twice."""

    error_messages = {"password_mismatch": _MISMATCH, "password_incorrect": _WRONG}

    # Any: whatever the form of Django takes.
    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        _name_fields(self)


class NewPasswordForm(_SetPassword):
    """A new password, twice."""

    error_messages = {"password_mismatch": _MISMATCH}

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        _name_fields(self)


def _name_fields(form: forms.Form) -> None:
    """Call the fields in a refusal what the page calls them."""
    for name, label in _LABELS.items():
        if name in form.fields:
            form.fields[name].label = label


class RefusedAtTheField:
    """A page with a form that answers with a status that says so where something is wrong."""

    http_method_names: ClassVar[Sequence[str]] = FORM_METHODS

    def form_invalid(self, form: forms.Form) -> HttpResponse:
        """Say at the field what is wrong."""
        answer: HttpResponse = super().form_invalid(form)  # type: ignore[misc]  # a FormView's
        answer.status_code = 422
        return answer


class OwnPassword(RefusedAtTheField, PasswordChangeView):
    """Change one's own password; every other phone and computer is signed out by it."""

    template_name = "jobs/people/own_password.html"
    form_class = OwnPasswordForm
    success_url = reverse_lazy("job-list")

    def form_valid(self, form: PasswordChangeForm) -> HttpResponse:
        """Save it, say so, and leave a line."""
        answer = super().form_valid(form)
        note_password_change(person=form.user, how="Changed the own password")
        messages.success(self.request, "The password is changed. Other devices are signed out.")
        return answer


class PasswordSet(RefusedAtTheField, PasswordResetConfirmView):
    """Where a link leads: a new password, once; a spent, old or guessed link says so."""

    template_name = "jobs/people/password_set.html"
    form_class = NewPasswordForm
    success_url = reverse_lazy("sign-in")

    def form_valid(self, form: _SetPassword) -> HttpResponse:
        """Save it, say so, and leave a line."""
        answer = super().form_valid(form)
        note_password_change(person=form.user, how="Set a password by a link")
        messages.success(self.request, "The password is set. Sign in with it.")
        return answer

    def render_to_response(self, context: dict[str, object], **how: object) -> HttpResponse:
        """Return the page; of a link that leads nowhere with a status that says so."""
        answer = super().render_to_response(context, **how)
        if not context["validlink"]:
            answer.status_code = NO_LINK
        return answer


@require_POST
@never_cache
@owner
def person_link(request: SignedInRequest, pk: int) -> HttpResponse:
    """Make a link for a person to set a password: to be printed or read out, or mailed."""
    person, form = person_for(request, pk), OnceForm()
    context = {"person": person, "days": services.LIFE_DAYS, "mail_is_set": mail_is_set()}
    if request.POST.get("do") != "mail":
        link = services.make_link(person=person, user=request.user)
        page = {**context, "link": link, "form": form}
        return render_page(request, "jobs/people/person_link.html", page)
    form = OnceForm(sent(request))
    mail = None
    if form.is_valid():
        mail = form.carry_out(
            lambda: services.mail_link(person=person, user=request.user, key=form.once_key)
        )
    if mail is not None:
        messages.success(request, f"The link is on its way to {person.email}.")
        return go_to(request, "person-edit", person.pk)
    page = {**context, "form": form}
    return render_page(request, "jobs/people/person_link.html", page, status=form.status)


class LostForm(forms.Form):
    """The e-mail address that somebody signs in with."""

    email = forms.EmailField(label="E-mail address")


@require_http_methods(["GET", "HEAD", "POST"])
def password_lost(request: HttpRequest) -> HttpResponse:
    """Ask for a link by mail; the answer is the same whether somebody has that address or not."""
    form = LostForm(sent(request), label_suffix="")
    context = {"form": form, "mail_is_set": mail_is_set(), "days": services.LIFE_DAYS}
    if request.method == "POST" and form.is_valid():
        services.mail_who_lost(email=form.cleaned_data["email"], now=timezone.now())
        return render_page(request, "jobs/people/password_lost.html", {**context, "done": True})
    status = 422 if form.errors else 200
    return render_page(request, "jobs/people/password_lost.html", context, status=status)
