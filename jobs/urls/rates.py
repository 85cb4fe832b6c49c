"""Addresses of production rates."""

from django.urls import URLPattern, path

from jobs.views import rates

urlpatterns: list[URLPattern] = [
    path("rates", rates.rate_list, name="rate-list"),
    path("rates/set", rates.rate_set, name="rate-set"),
    path("rates/<int:pk>/remove", rates.rate_remove, name="rate-remove"),
]
