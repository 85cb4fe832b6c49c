"""Addresses of days, packets and logs."""

from django.urls import URLPattern

urlpatterns: list[URLPattern] = []
