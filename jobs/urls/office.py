"""Addresses of signing in, company, people, crews, clients and jobs."""

from django.contrib.auth.views import LogoutView
from django.urls import URLPattern, path

from jobs.views import accounts

urlpatterns: list[URLPattern] = [
    path("sign-in", accounts.SignIn.as_view(), name="sign-in"),
    path("sign-out", LogoutView.as_view(), name="sign-out"),
]
