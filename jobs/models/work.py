"""Long work done by the worker: one row an errand, one row a worker that is alive.

An errand goes waiting -> running -> done, failed or canceled. Running, it belongs to whoever
claimed it last: each claim raises `fence`, and nothing is written under an older fence. A claim
holds for the time of its lease; a lease that ran out may be claimed again.
"""

from datetime import timedelta

from django.db import models
from django.db.models import F, Q
from django.utils import timezone

ALIVE_FOR = timedelta(seconds=30)
"""A worker not heard of for longer counts as gone; it reports every 5 to 10 s."""


class ErrandState(models.TextChoices):
    """Where an errand stands; the first two are active, the others are final."""

    WAITING = "waiting", "Waiting"
    RUNNING = "running", "Running"
    DONE = "done", "Done"
    FAILED = "failed", "Failed"
    CANCELED = "cancelled", "Canceled"  # stored so from the first book on


ACTIVE = (ErrandState.WAITING.value, ErrandState.RUNNING.value)


class Errand(models.Model):
    """One piece of long work: what to do, who asked, how far it is and how it ended."""

    State = ErrandState

    company = models.ForeignKey("jobs.Company", on_delete=models.CASCADE, related_name="errands")
    kind = models.SlugField(max_length=40, help_text="Which handler does it: plan-floor.")
    subject = models.CharField(max_length=80, help_text="What it is about: zone:12.")
    payload = models.TextField(default="{}", help_text="What the handler is told, as JSON.")
    asked_by = models.ForeignKey(
        "jobs.User", on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )
    state = models.CharField(
        max_length=10, choices=ErrandState.choices, default=ErrandState.WAITING
    )
    progress = models.FloatField(default=0.0, help_text="From 0 to 1.")
    progress_text = models.CharField(max_length=200, blank=True)
    attempts = models.PositiveSmallIntegerField(default=0)
    attempts_allowed = models.PositiveSmallIntegerField(default=3)
    stop_asked = models.BooleanField(
        default=False, help_text="Finish soon with the best that was found."
    )
    not_before = models.DateTimeField(
        null=True, blank=True, help_text="It waits until then; None: it may begin at once."
    )
    fence = models.PositiveIntegerField(default=0)
    lease_until = models.DateTimeField(null=True, blank=True)
    claimed_by = models.CharField(max_length=80, blank=True)
    error = models.TextField(blank=True, help_text="Why it failed, as a sentence for a person.")
    result = models.TextField(blank=True, help_text="What the effect handed back, as JSON.")
    created_at = models.DateTimeField(default=timezone.now, editable=False)
    started_at = models.DateTimeField(null=True, blank=True)
    finished_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["company", "kind", "subject"],
                condition=Q(state__in=ACTIVE),
                name="errand_unique_active_key",
            ),
            models.CheckConstraint(
                condition=Q(state__in=ErrandState.values), name="errand_state_is_known"
            ),
            models.CheckConstraint(
                condition=Q(progress__gte=0.0, progress__lte=1.0),
                name="errand_progress_from_0_to_1",
            ),
            models.CheckConstraint(
                condition=Q(attempts_allowed__gte=1, attempts__lte=F("attempts_allowed")),
                name="errand_attempts_within_allowed",
            ),
            models.CheckConstraint(
                condition=~Q(state=ErrandState.RUNNING) | Q(lease_until__isnull=False),
                name="errand_running_has_lease",
            ),
            models.CheckConstraint(
                condition=Q(state__in=ACTIVE) | Q(finished_at__isnull=False),
                name="errand_ended_has_time",
            ),
        ]
        indexes = [
            models.Index(fields=["state", "id"], name="errand_by_state"),
        ]

    def __str__(self) -> str:
        return f"{self.kind} {self.subject}: {self.get_state_display()}"

    @property
    def is_active(self) -> bool:
        """Whether the errand still waits or runs, so that its page keeps asking."""
        return self.state in ACTIVE

    @property
    def percent(self) -> int:
        """Return the progress as a whole percentage, 0 to 100."""
        return round(self.progress * 100)


class WorkerBeat(models.Model):
    """A sign of life of one worker; the row goes when the worker ends in good order."""

    name = models.CharField(max_length=80, unique=True, help_text="Host, process and a mark.")
    started_at = models.DateTimeField(default=timezone.now)
    seen_at = models.DateTimeField(default=timezone.now)

    class Meta:
        ordering = ["name"]

    def __str__(self) -> str:
        return f"{self.name}, seen {self.seen_at:%Y-%m-%d %H:%M:%S %Z}"
