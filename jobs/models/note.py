"""Notes and photographs taken while measuring, room by room."""

from __future__ import annotations

from django.db import models
from django.db.models import Q

from jobs.models.base import Versioned
from jobs.models.document import StoredFile
from jobs.models.room import Room


class RoomNote(Versioned):
    """What was noted or photographed in a room: words, a picture, or both.

    ``for_quote`` and ``for_packet``: whether it is offered to the homeowner's quote and to the
    crew.
    """

    LONGEST = 1000

    room = models.ForeignKey(Room, on_delete=models.CASCADE, related_name="notes")
    text = models.CharField("note", max_length=LONGEST, blank=True)
    photo = models.ForeignKey(
        StoredFile, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    for_quote = models.BooleanField("offered to the quote", default=False)
    for_packet = models.BooleanField("offered to the crew", default=False)
    user = models.ForeignKey("jobs.User", null=True, on_delete=models.SET_NULL, related_name="+")

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.CheckConstraint(
                condition=~Q(text="") | Q(photo__isnull=False), name="room_note_says_something"
            )
        ]

    def __str__(self) -> str:
        return f"Note of {self.room}"
