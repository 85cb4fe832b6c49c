"""Addresses of stairs and of trim."""

from django.urls import URLPattern, path

from jobs.views import trim
from jobs.views.openings import stairs

urlpatterns: list[URLPattern] = [
    path("jobs/<int:pk>/stairs/add", stairs.stair_add, name="stair-add"),
    path("stairs/<int:pk>", stairs.stair_edit, name="stair-edit"),
    path("stairs/<int:pk>/remove", stairs.stair_remove, name="stair-remove"),
    path("jobs/<int:pk>/trim", trim.job_trim, name="job-trim"),
    path("rooms/<int:pk>/trim", trim.room_trim, name="room-trim"),
    path("rooms/<int:pk>/trim/add", trim.trim_run_add, name="trim-run-add"),
    path("trim-runs/<int:pk>", trim.trim_run, name="trim-run"),
    path("trim-runs/<int:pk>/derive", trim.trim_run_derive, name="trim-run-derive"),
]
