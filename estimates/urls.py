"""Addresses of prices, estimates, quotes, purchases and review."""

from django.urls import URLPattern

urlpatterns: list[URLPattern] = []
