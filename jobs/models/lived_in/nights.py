"""Nights without a room, as somebody who lives there agreed to them."""

from __future__ import annotations

from django.conf import settings
from django.db import models
from django.db.models import Q

from jobs.models.job import Job
from jobs.models.room import Room


class AgreedNights(models.Model):
    """One room, or all of a job (no ``room``), that may be open for nights; who said so, when.

    ``nights``: as many as were named, one after another; None: as many as it takes, so that the
    room may be opened before the day that lays it; ``days_off``: over a weekend too. ``quote``:
    number of the quote whose acceptance agreed to them.
    """

    job = models.ForeignKey(Job, on_delete=models.CASCADE, related_name="agreed_nights")
    room = models.ForeignKey(
        Room, null=True, blank=True, on_delete=models.CASCADE, related_name="agreed_nights"
    )
    nights = models.PositiveSmallIntegerField(null=True, blank=True)
    days_off = models.BooleanField("over a weekend too", default=False)
    by = models.CharField("agreed to by", max_length=120)
    on = models.DateField("agreed on")
    quote = models.PositiveIntegerField(null=True, blank=True)
    who = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, on_delete=models.SET_NULL, related_name="+"
    )
    at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.UniqueConstraint(fields=["job", "room"], name="nights_agreed_once_a_room"),
            models.UniqueConstraint(
                fields=["job"], condition=Q(room__isnull=True), name="nights_agreed_once_a_job"
            ),
            models.CheckConstraint(condition=~Q(by=""), name="nights_agreed_by_name"),
            models.CheckConstraint(
                condition=Q(nights__isnull=True) | Q(nights__gte=1), name="nights_agreed_are_some"
            ),
        ]

    def __str__(self) -> str:
        return f"Nights without {self.room or 'any room'}, agreed to by {self.by}"
