"""Addresses of rooms, doorways, zones, products and plans."""

from django.urls import URLPattern

urlpatterns: list[URLPattern] = []
