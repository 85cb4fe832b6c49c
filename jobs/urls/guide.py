"""Addresses of the help page and, under DEBUG, of the gallery of components."""

from django.conf import settings
from django.urls import URLPattern, path

from jobs.views import gallery, guide

urlpatterns: list[URLPattern] = [
    path("help", guide.help_page, name="help"),
    path("help/treatments", guide.treatments, name="treatments"),
]

if settings.DEBUG:
    urlpatterns.append(path("help/components", gallery.components, name="components"))
