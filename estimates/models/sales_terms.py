"""How a company sells: what its quotes promise and ask for. Rows."""

from __future__ import annotations

from datetime import time

from django.db import models
from django.db.models import Q

from estimates.domain.setup.states import STATE_NAMES
from jobs.models import Company, Versioned

STATES = tuple(STATE_NAMES.items())
MOST_LATE_FEE = 10
MOST_WARRANTY_MONTHS = 600


class QuoteNumbering(models.TextChoices):
    """How quotes are numbered."""

    JOB = "job", "Job and quote: 4-1"
    YEAR = "year", "Year and job: 2026-004"


class PaymentStages(models.TextChoices):
    """In how many parts a job is paid."""

    DEPOSIT_REST = "deposit_rest", "Deposit, then the rest at the end"
    DEPOSIT_PROGRESS_REST = (
        "deposit_progress_rest",
        "Deposit, a part half way, then the rest",
    )


class SalesTerms(Versioned):
    """What a company says on every quote beside its price terms.

    ``deposit_dollars``: no deposit above this; None: no cap of its own. ``progress_percent`` is of
    the total, asked for where there are three stages. ``warranty_months`` 0: none is promised.
    """

    company = models.OneToOneField(Company, on_delete=models.CASCADE, related_name="sales_terms")
    state = models.CharField(max_length=2, choices=STATES, blank=True)
    deposit_dollars = models.DecimalField(
        "deposit at most, dollars", max_digits=10, decimal_places=2, null=True, blank=True
    )
    deposit_adds_special_order = models.BooleanField(
        "special-order material is added to the deposit", default=False
    )
    payment_ways = models.TextField(blank=True)
    payment_stages = models.CharField(
        max_length=21, choices=PaymentStages.choices, default=PaymentStages.DEPOSIT_REST
    )
    progress_percent = models.DecimalField(max_digits=5, decimal_places=2, default=0)
    late_fee_percent = models.DecimalField(
        "late fee, % a month", max_digits=4, decimal_places=2, default=0
    )
    late_fee_words = models.TextField("late fee in words", blank=True)
    warranty_months = models.PositiveSmallIntegerField("warranty of the work, months", default=0)
    warranty_words = models.TextField("warranty in words", blank=True)
    numbering = models.CharField(
        max_length=4, choices=QuoteNumbering.choices, default=QuoteNumbering.JOB
    )
    arrives_at = models.TimeField("crew arrives at", default=time(8, 30))
    cancel_right = models.BooleanField("sales at home carry a right to cancel", default=True)
    lead_certificate = models.CharField("lead-safe firm certificate", max_length=80, blank=True)
    lead_pamphlet = models.TextField("pamphlet given", blank=True)
    changes_words = models.TextField("how changes are agreed", blank=True)

    class Meta:
        verbose_name_plural = "sales terms"
        constraints = [
            models.CheckConstraint(
                condition=Q(state__in=["", *STATE_NAMES]), name="sales_state_known"
            ),
            models.CheckConstraint(
                condition=Q(deposit_dollars__isnull=True) | Q(deposit_dollars__gte=0),
                name="sales_deposit_cap_sane",
            ),
            models.CheckConstraint(
                condition=Q(payment_stages__in=PaymentStages.values), name="sales_stages_known"
            ),
            models.CheckConstraint(
                condition=Q(payment_stages=PaymentStages.DEPOSIT_REST, progress_percent=0)
                | Q(
                    payment_stages=PaymentStages.DEPOSIT_PROGRESS_REST,
                    progress_percent__gt=0,
                    progress_percent__lte=100,
                ),
                name="sales_progress_where_staged",
            ),
            models.CheckConstraint(
                condition=Q(late_fee_percent__gte=0, late_fee_percent__lte=MOST_LATE_FEE),
                name="sales_late_fee_sane",
            ),
            models.CheckConstraint(
                condition=Q(warranty_months__lte=MOST_WARRANTY_MONTHS), name="sales_warranty_sane"
            ),
            models.CheckConstraint(
                condition=Q(numbering__in=QuoteNumbering.values), name="sales_numbering_known"
            ),
        ]

    def __str__(self) -> str:
        return f"Sales terms of {self.company}"


class StateNotice(Versioned):
    """A notice that a state asks for, printed in the company's own words; ``place`` is its turn."""

    company = models.ForeignKey(Company, on_delete=models.CASCADE, related_name="state_notices")
    title = models.CharField(max_length=120)
    text = models.TextField()
    place = models.PositiveSmallIntegerField()

    class Meta:
        ordering = ["place", "pk"]
        constraints = [
            models.UniqueConstraint(fields=["company", "place"], name="notice_place_once"),
            models.CheckConstraint(condition=~Q(title=""), name="notice_has_a_title"),
            models.CheckConstraint(condition=~Q(text=""), name="notice_has_text"),
        ]

    def __str__(self) -> str:
        return self.title
