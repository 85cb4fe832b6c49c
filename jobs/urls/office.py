"""Addresses of signing in, company, people, crews, clients and jobs."""

from django.contrib.auth.views import LogoutView
from django.urls import URLPattern, path

from jobs.views import accounts, jobs, office, survey

urlpatterns: list[URLPattern] = [
    path("", jobs.job_list, name="job-list"),
    path("sign-in", accounts.SignIn.as_view(), name="sign-in"),
    path("sign-out", LogoutView.as_view(), name="sign-out"),
    path("company", office.company, name="company"),
    path("company/people/add", office.person_add, name="person-add"),
    path("company/people/<int:pk>", office.person_edit, name="person-edit"),
    path("crews", office.crew_list, name="crew-list"),
    path("crews/add", office.crew_add, name="crew-add"),
    path("crews/<int:pk>", office.crew_edit, name="crew-edit"),
    path("clients", office.client_list, name="client-list"),
    path("clients/add", office.client_add, name="client-add"),
    path("clients/<int:pk>", office.client_edit, name="client-edit"),
    path("jobs/add", jobs.job_add, name="job-add"),
    path("jobs/<int:pk>", jobs.job, name="job"),
    path("jobs/<int:pk>/edit", jobs.job_edit, name="job-edit"),
    path("jobs/<int:pk>/site", jobs.site_edit, name="site-edit"),
    path("jobs/<int:pk>/moisture", survey.moisture, name="moisture"),
    path(
        "jobs/<int:pk>/moisture/<int:place>/remove", survey.moisture_remove, name="moisture-remove"
    ),
    path("rooms/<int:pk>/depths", survey.room_depths, name="room-depths"),
    path("jobs/<int:pk>/holds/<slug:code>", jobs.hold_clear, name="hold-clear"),
]
