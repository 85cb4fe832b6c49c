"""Addresses of what keeps the book safe."""

from django.urls import URLPattern, path

from jobs.views.trust import backups

urlpatterns: list[URLPattern] = [
    path("company/backups", backups.backup_list, name="backup-list"),
    path("company/backups/make", backups.backup_make, name="backup-make"),
    path("company/backups/progress", backups.backup_progress, name="backup-progress"),
]
