"""The addresses of the jobs app, by subject."""

from jobs.urls import (
    archive,
    board,
    closed,
    copies,
    days,
    floors,
    guide,
    office,
    payers,
    rates,
    trim,
    trust,
)

urlpatterns = [
    *office.urlpatterns,
    *rates.urlpatterns,
    *floors.urlpatterns,
    *trim.urlpatterns,
    *copies.urlpatterns,
    *archive.urlpatterns,
    *days.urlpatterns,
    *board.urlpatterns,
    *closed.urlpatterns,
    *guide.urlpatterns,
    *payers.urlpatterns,
    *trust.urlpatterns,
]
