"""The addresses of the jobs app, by subject."""

from jobs.urls import days, floor, guide, office, rates, trim

urlpatterns = [
    *office.urlpatterns,
    *rates.urlpatterns,
    *floor.urlpatterns,
    *trim.urlpatterns,
    *days.urlpatterns,
    *guide.urlpatterns,
]
