"""One saving of a day's log for the whole crew, its photographs, its punch list. Rows."""

from __future__ import annotations

from django.conf import settings
from django.db import models
from django.db.models import Q

from jobs.models.crew import WorkDay
from jobs.models.document import StoredFile
from jobs.models.job import Job


class DayLog(models.Model):
    """What one phone said of a day at once: by whom, of everybody's hours and what stood beside.

    `phone` is a mark that a phone keeps for itself, empty where none came; `phone_at` what its
    clock said. Hours and rows are entries of their own.
    """

    day = models.ForeignKey(WorkDay, on_delete=models.CASCADE, related_name="logs")
    teller = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, on_delete=models.SET_NULL, related_name="+"
    )
    key = models.CharField(max_length=64)
    phone = models.CharField(max_length=64, blank=True)
    phone_at = models.DateTimeField("what the phone's clock said", null=True, blank=True)
    note = models.TextField(blank=True)
    in_the_way = models.JSONField("what stood in the way", default=list, blank=True)
    cartons = models.PositiveSmallIntegerField("cartons opened", null=True, blank=True)
    lot = models.CharField("lot", max_length=80, blank=True)
    last_width = models.CharField("width the last row comes out at", max_length=40, blank=True)
    broken = models.PositiveSmallIntegerField("offcuts broken", default=0)
    signed_by = models.CharField("signed by", max_length=120, blank=True)
    at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ["at", "pk"]
        constraints = [
            models.UniqueConstraint(fields=["day", "key"], name="day_log_counts_once"),
        ]

    def __str__(self) -> str:
        return f"Log of {self.day} by {self.teller}"


class LogPhoto(models.Model):
    """One photograph of a day's log; one from after names the one from before at the same spot."""

    class TakenWhen(models.TextChoices):
        """When it was taken."""

        BEFORE = "before", "Before"
        AFTER = "after", "After"
        BESIDE = "beside", "Of the day"
        SIGNED = "signed", "Signature"

    log = models.ForeignKey(DayLog, on_delete=models.CASCADE, related_name="photos")
    file = models.ForeignKey(StoredFile, on_delete=models.PROTECT, related_name="+")
    side = models.CharField(max_length=6, choices=TakenWhen.choices, default=TakenWhen.BESIDE)
    before = models.ForeignKey(
        "self", null=True, blank=True, on_delete=models.SET_NULL, related_name="afters"
    )

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.CheckConstraint(
                condition=Q(side__in=["before", "after", "beside", "signed"]),
                name="log_photo_side_known",
            ),
            models.CheckConstraint(
                condition=Q(before__isnull=True) | Q(side="after"),
                name="log_photo_before_only_of_one_from_after",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.get_side_display()}, {self.log}"


class PunchItem(models.Model):
    """Something that is still to be put right on a job, noted on a day, until somebody has."""

    LONGEST = 200

    job = models.ForeignKey(Job, on_delete=models.CASCADE, related_name="punch_items")
    log = models.ForeignKey(
        DayLog, null=True, blank=True, on_delete=models.SET_NULL, related_name="punch_items"
    )
    text = models.CharField("what is still to be put right", max_length=LONGEST)
    who = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, on_delete=models.SET_NULL, related_name="+"
    )
    at = models.DateTimeField(auto_now_add=True)
    done_at = models.DateTimeField(null=True, blank=True)
    done_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, on_delete=models.SET_NULL, related_name="+"
    )
    done_in = models.ForeignKey(
        DayLog, null=True, blank=True, on_delete=models.SET_NULL, related_name="punch_done"
    )

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.CheckConstraint(condition=~Q(text=""), name="punch_item_says_something")
        ]

    def __str__(self) -> str:
        return self.text


class HoldOverride(models.Model):
    """The owner's word that a task goes on under an open hold: who, when, why. Never edited."""

    job = models.ForeignKey(Job, on_delete=models.CASCADE, related_name="hold_overrides")
    code = models.SlugField("hold", max_length=60)
    task = models.CharField("task", max_length=150)
    by = models.CharField("named", max_length=120)
    reason = models.CharField("reason", max_length=300)
    user = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, on_delete=models.SET_NULL, related_name="+"
    )
    at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.UniqueConstraint(fields=["job", "code", "task"], name="hold_override_once"),
            models.CheckConstraint(
                condition=~Q(by="") & ~Q(reason=""), name="hold_override_has_name_and_reason"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.task} under {self.code}, by {self.by}"
