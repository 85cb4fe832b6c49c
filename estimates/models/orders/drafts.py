"""Drafts of change orders and their lines. Rows that the office edits."""

from __future__ import annotations

from django.db import models
from django.db.models import Q

from jobs.models import Job, JobExtra, StoredFile, Versioned


class ChangeDraft(Versioned):
    """A change that somebody wants, not agreed on yet: what, why, who wants it, since when.

    ``with_plan``: whether what differs from the agreed scope belongs to it. ``order_number`` is the
    payer's own. ``extra``: what the crew noted, where it came from there.
    """

    LONGEST = 1000

    job = models.ForeignKey(Job, on_delete=models.CASCADE, related_name="change_drafts")
    extra = models.OneToOneField(
        JobExtra, null=True, blank=True, on_delete=models.PROTECT, related_name="draft"
    )
    text = models.CharField("what is changed", max_length=LONGEST)
    why = models.CharField("why", max_length=LONGEST, blank=True)
    asked_by = models.CharField("who wants it", max_length=120, blank=True)
    noted_on = models.DateField("wanted since")
    order_number = models.CharField("the payer's order number", max_length=60, blank=True)
    with_plan = models.BooleanField("what the plan changes belongs to it", default=False)
    photo = models.ForeignKey(
        StoredFile, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    made_by = models.ForeignKey("jobs.User", null=True, on_delete=models.SET_NULL, related_name="+")
    dropped_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.CheckConstraint(condition=~Q(text=""), name="change_draft_says_something")
        ]

    def __str__(self) -> str:
        return self.text[:80]


class ChangeLineKind(models.TextChoices):
    """What a line of a draft is: hours at the quote's rate, material at its margin, a price."""

    HOURS = "hours", "Hours, at the rate of the quote"
    MATERIAL = "material", "Material, at cost and the margin of the quote"
    PRICE = "price", "At a price of its own"


class ChangeLine(models.Model):
    """A line of a draft that the plan does not count: so many hours, or so much of something.

    ``each`` is what one unit costs us, or what is charged for it where the line has its own price;
    of hours it is empty, since the quote says it.
    """

    draft = models.ForeignKey(ChangeDraft, on_delete=models.CASCADE, related_name="lines")
    kind = models.CharField(max_length=8, choices=ChangeLineKind.choices)
    label = models.CharField("what it is", max_length=120)
    quantity = models.DecimalField(max_digits=10, decimal_places=2)
    unit = models.CharField(max_length=20)
    each = models.DecimalField(max_digits=12, decimal_places=4, null=True, blank=True)
    taxable = models.BooleanField("taxed as material", default=False)

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.CheckConstraint(condition=Q(quantity__gt=0), name="change_line_of_something"),
            models.CheckConstraint(
                condition=Q(kind__in=ChangeLineKind.values), name="change_line_kind_known"
            ),
            models.CheckConstraint(
                condition=Q(kind=ChangeLineKind.HOURS, each__isnull=True)
                | Q(~Q(kind=ChangeLineKind.HOURS), each__gte=0),
                name="change_line_has_its_price",
            ),
        ]

    def __str__(self) -> str:
        return self.label
