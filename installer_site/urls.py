"""Every address of the site: each app brings its own."""

from django.contrib import admin
from django.urls import include, path

from installer_site.health import healthz, readyz

handler500 = "jobs.unwritten.server_trouble"

urlpatterns = [
    path("", include("jobs.urls")),
    path("", include("estimates.urls")),
    path("healthz", healthz, name="healthz"),
    path("readyz", readyz, name="readyz"),
    path("admin/", admin.site.urls),
]
