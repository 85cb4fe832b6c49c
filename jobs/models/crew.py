"""Crews, their working days on a job, and the packet they carry."""

from __future__ import annotations

from typing import NotRequired, TypedDict

from django.conf import settings
from django.db import models
from django.db.models import Q

from jobs.models.base import Versioned
from jobs.models.company import Company
from jobs.models.document import Document, StoredFile
from jobs.models.job import Job
from jobs.models.scope import Scope


class Crew(Versioned):
    """People who work together."""

    company = models.ForeignKey(Company, on_delete=models.CASCADE, related_name="crews")
    name = models.CharField(max_length=80)
    members = models.ManyToManyField(settings.AUTH_USER_MODEL, related_name="crews", blank=True)
    hours_per_day = models.DecimalField(max_digits=4, decimal_places=2, default=8)

    class Meta:
        ordering = ["name", "pk"]
        constraints = [
            models.CheckConstraint(condition=~Q(name=""), name="crew_has_a_name"),
            models.UniqueConstraint(fields=["company", "name"], name="crew_name_once"),
            models.CheckConstraint(
                condition=Q(hours_per_day__gt=0, hours_per_day__lte=24), name="crew_hours_of_a_day"
            ),
        ]

    def __str__(self) -> str:
        return self.name


class LastCrewDay(models.Model):
    """The last day on which somebody works with a crew; their hours are gone from the next day."""

    crew = models.ForeignKey(Crew, on_delete=models.CASCADE, related_name="last_days")
    person = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="last_days"
    )
    date = models.DateField("last day")

    class Meta:
        ordering = ["date", "pk"]
        constraints = [
            models.UniqueConstraint(fields=["crew", "person"], name="last_crew_day_once"),
        ]

    def __str__(self) -> str:
        return f"{self.person} leaves {self.crew} after {self.date}"


class StoredEntry(TypedDict):
    """One entry of a day in the column ``entries``: a task of the scope, or part of one."""

    key: str
    task: str
    zone: str
    label: str
    hours: str
    rows: list[int] | None
    helper: bool
    finishes: bool
    hold_points: list[str]
    booked: NotRequired[str]
    rooms: NotRequired[list[str]]
    part: NotRequired[str]


class StoredLane(TypedDict):
    """What one person is at without a break, in the column ``lanes``: 8:15 to 10:45."""

    person: str
    task: str
    room: str
    part: str
    begins: str
    ends: str
    also: NotRequired[list[str]]


class StoredNights(TypedDict):
    """A room that is opened on a day and can't be used for some nights, in ``nights``."""

    room: str
    use: str
    nights: int


class StoredTaskSplit(TypedDict):
    """How far a task goes before a date: to a row, or until so many of its hours are done."""

    row: int
    hours: str
    until: str


class StoredSplit(TypedDict):
    """What was split of a job's days, in ``split``: tasks, half hours of short days, crews."""

    tasks: dict[str, StoredTaskSplit]
    short: dict[str, int]
    crews: dict[str, int]


class WorkDay(Versioned):
    """One working day of a crew on a job.

    ``entries``: ``[{"key": "lay:Den", "task": "lay", "zone": "Den", "label": ..., "hours": "3.50",
    "rows": [1, 12] or None, "helper": False, "finishes": True, "hold_points": ["moisture"]}]``;
    hours are man-hours; ``rows`` None where no row is finished that day. Days that know half hours
    have them as ``booked``, with the ``rooms`` and the ``part`` (out or back of furniture, odd or
    even of treads). ``notes``: what to wait for or to protect, a sentence each. ``lanes``: who is
    at what and when, none on days that were laid out before; ``nights``: rooms open for the night.
    """

    job = models.ForeignKey(Job, on_delete=models.CASCADE, related_name="days")
    scope = models.ForeignKey(Scope, on_delete=models.PROTECT, related_name="days")
    crew = models.ForeignKey(Crew, on_delete=models.PROTECT, related_name="days")
    date = models.DateField()
    number = models.PositiveSmallIntegerField()
    entries = models.JSONField(default=list)
    notes = models.JSONField(default=list, blank=True)
    lanes = models.JSONField(default=list, blank=True)
    nights = models.JSONField(default=list, blank=True)
    hours = models.DecimalField(max_digits=6, decimal_places=2)

    class Meta:
        ordering = ["date", "number"]
        constraints = [
            models.UniqueConstraint(fields=["job", "number"], name="day_number_once_a_job"),
            models.UniqueConstraint(fields=["job", "date"], name="day_date_once_a_job"),
            models.CheckConstraint(condition=Q(hours__gte=0), name="day_hours_not_negative"),
        ]

    def __str__(self) -> str:
        return f"Day {self.number} of job {self.job_id}"


class DaysChange(models.Model):
    """Days of a job that were moved, with the reason; undone as long as nothing came after.

    ``before`` and ``after`` are the days that it touched, as rows keep them; ``lost`` are dates
    that are not worked for this job, ``hold`` the first date of a task by its key, ``split`` what
    goes on on another date or with another crew.
    """

    class Kind(models.TextChoices):
        """What was done to a day."""

        LOST = "lost", "Lost day"
        MOVED = "moved", "Move"
        HELD = "held", "Hold to a date"
        SPLIT = "split", "Split"

    job = models.ForeignKey(Job, on_delete=models.CASCADE, related_name="days_changes")
    kind = models.CharField(max_length=5, choices=Kind.choices)
    date = models.DateField()
    reason = models.CharField(max_length=300)
    lost = models.JSONField(default=list, blank=True)
    worked = models.JSONField(default=list, blank=True)
    hold = models.JSONField(default=dict, blank=True)
    split = models.JSONField(default=dict, blank=True)
    before = models.JSONField(default=list)
    after = models.JSONField(default=list)
    who = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, on_delete=models.SET_NULL, related_name="+"
    )
    made_at = models.DateTimeField(auto_now_add=True)
    undone_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["-pk"]
        constraints = [
            models.CheckConstraint(condition=~Q(reason=""), name="days_change_has_a_reason"),
            models.CheckConstraint(
                condition=Q(kind__in=["lost", "moved", "held", "split"]),
                name="days_change_kind_known",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.get_kind_display()}, {self.date}, job {self.job_id}"


class Packet(models.Model):
    """The printed job packet: numbered, frozen, without prices.

    ``basis``: what it was made from in short, by which pages tell that it is out of date; empty on
    packets of before. ``changed_pdf``: only the sheets that differ from the packet before it.
    """

    job = models.ForeignKey(Job, on_delete=models.CASCADE, related_name="packets")
    number = models.PositiveSmallIntegerField()
    document = models.OneToOneField(Document, on_delete=models.PROTECT, related_name="packet")
    pdf = models.ForeignKey(StoredFile, on_delete=models.PROTECT, related_name="+")
    changed_pdf = models.ForeignKey(
        StoredFile, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    basis = models.JSONField("what it was made from", default=dict, blank=True)
    made_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ["-number"]
        get_latest_by = "number"
        constraints = [
            models.UniqueConstraint(fields=["job", "number"], name="packet_number_once_a_job")
        ]

    def __str__(self) -> str:
        return f"Packet {self.number} of job {self.job_id}"
