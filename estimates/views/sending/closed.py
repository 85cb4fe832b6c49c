"""What a homeowner reads where a link opens nothing: guessed, cut short, renewed, past its day."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import Concatenate, ParamSpec

from django.http import Http404, HttpRequest, HttpResponse

from jobs.http import render_page

Given = ParamSpec("Given")
View = Callable[Concatenate[HttpRequest, Given], HttpResponse]


def opened_by_link(view: View[Given]) -> View[Given]:
    """Answer what a link doesn't open in words for whoever was sent it, not for the office."""

    @wraps(view)
    def answer(request: HttpRequest, /, *args: Given.args, **kwargs: Given.kwargs) -> HttpResponse:
        try:
            return view(request, *args, **kwargs)
        except Http404:
            return render_page(request, "estimates/public/closed.html", {}, status=404)

    return answer
