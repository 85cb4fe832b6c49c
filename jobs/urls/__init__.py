"""The addresses of the jobs app, by subject."""

from jobs.urls import days, floor, office

urlpatterns = [*office.urlpatterns, *floor.urlpatterns, *days.urlpatterns]
