"""The addresses of the jobs app, by subject."""

from jobs.urls import days, floor, guide, office

urlpatterns = [*office.urlpatterns, *floor.urlpatterns, *days.urlpatterns, *guide.urlpatterns]
