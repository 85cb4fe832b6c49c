"""Addresses of searching, archiving, removing and bringing back."""

from django.urls import URLPattern, path

from jobs.views.archive import archive, search

urlpatterns: list[URLPattern] = [
    path("search", search.search, name="search"),
    path("removed", archive.removed_list, name="removed-list"),
    path("removed/<int:pk>/restore", archive.removed_restore, name="removed-restore"),
    path("jobs/<int:pk>/archive", archive.job_archive, name="job-archive"),
    path("jobs/<int:pk>/unarchive", archive.job_unarchive, name="job-unarchive"),
    path("jobs/<int:pk>/remove", archive.job_remove, name="job-remove"),
    path("clients/<int:pk>/remove", archive.client_remove, name="client-remove"),
    path("products/<int:pk>/remove", archive.product_remove, name="product-remove"),
]
