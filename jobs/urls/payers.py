"""Addresses of who pays for a job, and of the material that they supply."""

from django.urls import URLPattern, path

from jobs.views.payers import payer, supplied

urlpatterns: list[URLPattern] = [
    path("jobs/<int:pk>/payer", payer.job_payer, name="job-payer"),
    path("jobs/<int:pk>/supplied", supplied.job_supplied, name="job-supplied"),
    path("supplied/<int:pk>/count", supplied.supplied_count, name="supplied-count"),
    path("supplied/counts/<int:pk>/remove", supplied.receipt_remove, name="receipt-remove"),
]
