"""The addresses of the jobs app, by subject."""

from jobs.urls import days, floors, guide, office, rates, trim

urlpatterns = [
    *office.urlpatterns,
    *rates.urlpatterns,
    *floors.urlpatterns,
    *trim.urlpatterns,
    *days.urlpatterns,
    *guide.urlpatterns,
]
