"""What a job came to when it was closed."""

from __future__ import annotations

from django.db import models
from django.db.models import Q

from jobs.models import Document, Job


class ClosedReview(models.Model):
    """The review of a job as it was closed. Never edited; what comes later stands beside it.

    Its figures stand in columns once more, to be summed over jobs. ``crew`` is who logged most of
    it, ``floor`` what kind of floor most of it is. ``reopened_at``: the job was opened again, and
    this review counts no longer.
    """

    job = models.ForeignKey(Job, on_delete=models.CASCADE, related_name="closed_reviews")
    number = models.PositiveSmallIntegerField()
    document = models.OneToOneField(
        Document, on_delete=models.PROTECT, related_name="closed_review"
    )
    closed_on = models.DateField()
    price = models.DecimalField(max_digits=12, decimal_places=2)
    cost = models.DecimalField("material and labor", max_digits=12, decimal_places=2)
    contribution = models.DecimalField(max_digits=12, decimal_places=2)
    quoted = models.DecimalField("contribution quoted", max_digits=12, decimal_places=2)
    days_on_site = models.DecimalField(max_digits=6, decimal_places=1, null=True)
    crew = models.CharField(max_length=80, blank=True)
    floor = models.CharField(max_length=80, blank=True)
    made_at = models.DateTimeField(auto_now_add=True)
    reopened_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["-number"]
        constraints = [
            models.UniqueConstraint(fields=["job", "number"], name="closed_review_number_once"),
            models.UniqueConstraint(
                fields=["job"],
                condition=Q(reopened_at__isnull=True),
                name="one_closed_review_counts",
            ),
        ]

    def __str__(self) -> str:
        return f"Review {self.number} of job {self.job_id}"
