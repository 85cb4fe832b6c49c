"""Signing in."""

from __future__ import annotations

from django.contrib.auth.forms import AuthenticationForm
from django.contrib.auth.views import LoginView


class SignInForm(AuthenticationForm):
    """E-mail address and password."""

    error_messages = {
        "invalid_login": "That e-mail address and password don't go together. "
        "Check both; capitals count in the password.",
        "inactive": "This account is switched off. The owner can switch it on again.",
    }


class SignIn(LoginView):
    """The sign-in page; leads to where the person was going, else to the jobs."""

    template_name = "jobs/people/sign_in.html"
    authentication_form = SignInForm
    redirect_authenticated_user = True
