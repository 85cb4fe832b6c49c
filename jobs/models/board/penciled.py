"""A crew penciled in for a job that nobody has agreed on yet. Rows."""

from __future__ import annotations

from typing import TypedDict

from django.db import models

from jobs.models.base import Versioned
from jobs.models.crew import Crew
from jobs.models.job import Job


class PenciledDay(TypedDict):
    """One day as the penciled crew would have it: its date, its hours and what is done on it."""

    date: str
    hours: str
    tasks: list[str]


class PenciledCrew(Versioned):
    """The real crew and first day that the office has in mind before a quote is accepted.

    ``priced``: the crew and day that the price is reckoned for; empty: the company's usual crew
    from a Monday on. ``days`` and ``differs``: how the days would lie and what they do otherwise
    than the priced ones, in words, as last worked out; ``looked``: the crew as it was then.
    """

    job = models.OneToOneField(Job, on_delete=models.CASCADE, related_name="penciled")
    crew = models.ForeignKey(Crew, on_delete=models.CASCADE, related_name="penciled")
    start = models.DateField("first day")
    saturdays = models.BooleanField("Saturdays are worked", default=False)
    holidays_too = models.BooleanField("Holidays are worked", default=False)
    priced = models.JSONField("what the price is reckoned for", default=dict, blank=True)
    days = models.JSONField(default=list, blank=True)
    differs = models.JSONField(default=list, blank=True)
    looked = models.JSONField("the crew as last looked at", default=dict, blank=True)

    class Meta:
        ordering = ["start", "pk"]

    def __str__(self) -> str:
        return f"{self.crew} from {self.start}, penciled in for job {self.job_id}"
