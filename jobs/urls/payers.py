"""Addresses of who pays for a job, and of the material that they supply."""

from django.urls import URLPattern, path

from jobs.views.payers import payer

urlpatterns: list[URLPattern] = [
    path("jobs/<int:pk>/payer", payer.job_payer, name="job-payer"),
]
