"""Addresses of signing in, company, people, crews, clients and jobs."""

from django.contrib.auth.views import LogoutView
from django.urls import URLPattern, path

from jobs.views import jobs, site
from jobs.views.people import accounts, passwords, people

urlpatterns: list[URLPattern] = [
    path("", jobs.job_list, name="job-list"),
    path("sign-in", accounts.SignIn.as_view(), name="sign-in"),
    path("sign-out", LogoutView.as_view(), name="sign-out"),
    path("password", passwords.OwnPassword.as_view(), name="own-password"),
    path("password/lost", passwords.password_lost, name="password-lost"),
    path(
        "password/set/<str:uidb64>/<str:token>",
        passwords.PasswordSet.as_view(),
        name="password-set",
    ),
    path("company", people.company, name="company"),
    path("company/people/add", people.person_add, name="person-add"),
    path("company/people/<int:pk>", people.person_edit, name="person-edit"),
    path("company/people/<int:pk>/link", passwords.person_link, name="person-link"),
    path("crews", people.crew_list, name="crew-list"),
    path("crews/add", people.crew_add, name="crew-add"),
    path("crews/<int:pk>", people.crew_edit, name="crew-edit"),
    path("clients", people.client_list, name="client-list"),
    path("clients/add", people.client_add, name="client-add"),
    path("clients/<int:pk>", people.client_edit, name="client-edit"),
    path("jobs/add", jobs.job_add, name="job-add"),
    path("jobs/<int:pk>", jobs.job, name="job"),
    path("jobs/<int:pk>/edit", jobs.job_edit, name="job-edit"),
    path("jobs/<int:pk>/site", jobs.site_edit, name="site-edit"),
    path("jobs/<int:pk>/moisture", site.moisture, name="moisture"),
    path("jobs/<int:pk>/moisture/<int:place>/remove", site.moisture_remove, name="moisture-remove"),
    path("rooms/<int:pk>/before", site.room_before, name="room-before"),
    path("rooms/<int:pk>/depths", site.room_depths, name="room-depths"),
    path("jobs/<int:pk>/holds/<slug:code>", jobs.hold_clear, name="hold-clear"),
]
