"""Addresses for the look's own tests: the gallery, a slow task, a form and the ways to fail."""

from django.contrib.auth.views import LogoutView
from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponse
from django.template import engines
from django.urls import path

from estimates.readers.guide.pictures import STEPS
from estimates.views.guide.steps import help_step
from jobs.http import render_page
from jobs.views.gallery import components
from jobs.views.guide import help_page
from jobs.views.people.accounts import SignIn

HEAD = '{% extends "base.html" %}{% load look %}{% block content %}<h1>Task</h1>'
WAITING = (
    HEAD + '{% progress label="Planning the floor" percent=40 sentence="row 12 of 30" id="plan" '
    'poll_url="/poll" refresh_url="/wait" stop_url="/stop" stop_label="Stop planning" %}'
    "{% endblock %}"
)
DONE = '{% load look %}{% progress label="Planning" percent=100 sentence="planned" id="plan" %}'
PARTS = (
    HEAD + '<div id="here">as it was</div>'
    '<button hx-get="/missing" hx-target="#here">Ask for nothing</button>'
    '<button hx-post="/refuse" hx-target="#here">Send a wrong entry</button>'
    '<button hx-post="/broken" hx-target="#here">Meet a fault</button>{% endblock %}'
)


def page(source: str, request: HttpRequest) -> HttpResponse:
    """A page from a template written out above."""
    return HttpResponse(engines["django"].from_string(source).render({}, request))


def wait(request: HttpRequest) -> HttpResponse:
    """A task under way."""
    return page(WAITING, request)


def poll(request: HttpRequest) -> HttpResponse:
    """The same task, done."""
    return page(DONE, request)


def stop(request: HttpRequest) -> HttpResponse:
    """The task, stopped; a form without its mark never gets here."""
    return HttpResponse(f"stopped by {request.method}")


def parts(request: HttpRequest) -> HttpResponse:
    """Buttons that ask htmx for what goes wrong."""
    return page(PARTS, request)


def refuse(request: HttpRequest) -> HttpResponse:
    """A refused form, as views answer it."""
    return HttpResponse("Wall 1 can't be read", status=422)


def forbidden(request: HttpRequest) -> HttpResponse:
    """Someone else's page."""
    raise PermissionDenied("This page is for the owner.")


def broken(request: HttpRequest) -> HttpResponse:
    """A fault of the program."""
    raise RuntimeError("as if by accident")


def confirm(request: HttpRequest) -> HttpResponse:
    """The page that asks whether it is meant."""
    context = {"title": "Remove the kitchen", "sentence": "Its doorways go with it."}
    context |= {"action": "Remove the room", "action_url": "/stop", "back_url": "/", "tone": "stop"}
    return render_page(request, "parts/confirm.html", context)


urlpatterns = [
    path("", wait, name="job-list"),
    path("sign-in", SignIn.as_view(), name="sign-in"),
    path("sign-out", LogoutView.as_view(), name="sign-out"),
    path("help", help_page, name="help"),
    *(path(f"help/{step}", help_step, {"step": step}, name=f"help-{step}") for step in STEPS),
    path("company", wait, name="company"),
    path("help/components", components),
    path("wait", wait),
    path("poll", poll),
    path("stop", stop),
    path("parts", parts),
    path("refuse", refuse),
    path("forbidden", forbidden),
    path("broken", broken),
    path("confirm", confirm),
]
