"""Signing in."""

from __future__ import annotations

from django.contrib.auth.forms import AuthenticationForm
from django.contrib.auth.views import LoginView
from django.urls import reverse

from jobs.models import User
from jobs.views.people.passwords import FORM_METHODS


class SignInForm(AuthenticationForm):
    """E-mail address and password."""

    error_messages = {
        "invalid_login": "That e-mail address and password don't go together. "
        "Check both; capitals count in the password.",
        "inactive": "This account is switched off. The owner can switch it on again.",
    }


class SignIn(LoginView):
    """The sign-in page; leads to where the person was going, else to the jobs or to today."""

    template_name = "jobs/people/sign_in.html"
    authentication_form = SignInForm
    redirect_authenticated_user = True
    http_method_names = FORM_METHODS

    def get_default_redirect_url(self) -> str:
        """Return where somebody lands who was going nowhere: a crew on its day, others on jobs."""
        person = self.request.user
        if isinstance(person, User) and person.company and not person.is_office:
            return reverse("today")
        return super().get_default_redirect_url()
