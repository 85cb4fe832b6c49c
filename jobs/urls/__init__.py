"""The addresses of the jobs app, by subject."""

from jobs.urls import days, floor, guide, office, rates

urlpatterns = [
    *office.urlpatterns,
    *rates.urlpatterns,
    *floor.urlpatterns,
    *days.urlpatterns,
    *guide.urlpatterns,
]
