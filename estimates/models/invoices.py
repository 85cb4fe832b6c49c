"""Invoices, payments and completion slips. Rows; what they say is frozen."""

from __future__ import annotations

from decimal import Decimal

from django.db import models
from django.db.models import F, Q

from jobs.models import Document, Job, StoredFile


class InvoiceOf(models.TextChoices):
    """What an invoice bills."""

    DEPOSIT = "deposit", "Deposit"
    PROGRESS = "progress", "Progress"
    FINAL = "final", "Final"
    REST = "rest", "After the final invoice"
    RETAINAGE = "retainage", "Retainage"


ONCE_A_JOB = (InvoiceOf.DEPOSIT, InvoiceOf.FINAL)


class Invoice(models.Model):
    """A part of the agreed price, billed. Never edited; a wrong one is marked void, with why.

    ``amount`` is the part of the price, ``held`` and ``released`` its retainage. ``replaces``: the
    void invoice in whose place it stands.
    """

    job = models.ForeignKey(Job, on_delete=models.CASCADE, related_name="invoices")
    number = models.PositiveIntegerField()
    label = models.CharField(max_length=40)
    kind = models.CharField(max_length=9, choices=InvoiceOf.choices)
    document = models.OneToOneField(Document, on_delete=models.PROTECT, related_name="invoice")
    pdf = models.ForeignKey(StoredFile, on_delete=models.PROTECT, related_name="+")
    bill_to = models.CharField("billed to", max_length=120)
    order_number = models.CharField(max_length=60, blank=True)
    amount = models.DecimalField(max_digits=12, decimal_places=2)
    held = models.DecimalField("held back", max_digits=12, decimal_places=2, default=0)
    tax = models.DecimalField(
        "sales tax in it", max_digits=12, decimal_places=2, null=True, blank=True
    )
    released = models.DecimalField(max_digits=12, decimal_places=2, default=0)
    issued_on = models.DateField()
    due_on = models.DateField()
    issued_at = models.DateTimeField(auto_now_add=True)
    issued_by = models.ForeignKey(
        "jobs.User", null=True, on_delete=models.SET_NULL, related_name="+"
    )
    voided_at = models.DateTimeField(null=True, blank=True)
    void_reason = models.CharField(max_length=200, blank=True)
    replaces = models.OneToOneField(
        "self", null=True, blank=True, on_delete=models.PROTECT, related_name="replaced_by"
    )

    class Meta:
        ordering = ["number"]
        constraints = [
            models.UniqueConstraint(fields=["job", "number"], name="invoice_number_once_a_job"),
            models.UniqueConstraint(
                fields=["job", "kind"],
                condition=Q(kind__in=ONCE_A_JOB, voided_at__isnull=True),
                name="invoice_kind_once_a_job",
            ),
            models.CheckConstraint(
                condition=Q(kind__in=InvoiceOf.values), name="invoice_kind_known"
            ),
            models.CheckConstraint(
                condition=Q(held__gte=0, released__gte=0), name="invoice_retainage_not_negative"
            ),
            models.CheckConstraint(
                condition=Q(due_on__gte=F("issued_on")), name="invoice_due_after_issue"
            ),
            models.CheckConstraint(
                condition=Q(voided_at__isnull=True, void_reason="")
                | Q(voided_at__isnull=False) & ~Q(void_reason=""),
                name="invoice_void_with_a_reason",
            ),
        ]

    def __str__(self) -> str:
        return f"Invoice {self.label}"

    @property
    def payable(self) -> Decimal:
        """What it asks for."""
        return self.amount - self.held + self.released


class PaidBy(models.TextChoices):
    """How money came."""

    CHECK = "check", "Check"
    CASH = "cash", "Cash"
    CARD = "card", "Card"
    TRANSFER = "transfer", "Bank transfer"
    OTHER = "other", "Other"


class InvoicePayment(models.Model):
    """Money that came for an invoice. Never edited: a wrong one is taken back by another entry."""

    invoice = models.ForeignKey(Invoice, on_delete=models.PROTECT, related_name="payments")
    received_on = models.DateField()
    way = models.CharField("paid by", max_length=8, choices=PaidBy.choices)
    amount = models.DecimalField(max_digits=12, decimal_places=2)
    note = models.CharField(max_length=200, blank=True)
    takes_back = models.OneToOneField(
        "self", null=True, blank=True, on_delete=models.PROTECT, related_name="taken_back_by"
    )
    noted_at = models.DateTimeField(auto_now_add=True)
    noted_by = models.ForeignKey(
        "jobs.User", null=True, on_delete=models.SET_NULL, related_name="+"
    )

    class Meta:
        ordering = ["received_on", "pk"]
        constraints = [
            models.CheckConstraint(condition=Q(way__in=PaidBy.values), name="payment_way_known"),
            models.CheckConstraint(
                condition=Q(takes_back__isnull=True, amount__gt=0)
                | Q(takes_back__isnull=False, amount__lt=0) & ~Q(note=""),
                name="payment_or_taken_back_with_a_reason",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.amount} on {self.received_on}"


class CompletionSlip(models.Model):
    """The occupant's word, on the phone, that the work is done. Frozen; it names no price."""

    job = models.ForeignKey(Job, on_delete=models.CASCADE, related_name="completion_slips")
    number = models.PositiveIntegerField()
    document = models.OneToOneField(
        Document, on_delete=models.PROTECT, related_name="completion_slip"
    )
    pdf = models.ForeignKey(StoredFile, on_delete=models.PROTECT, related_name="+")
    signed_by = models.CharField(max_length=120)
    open_points = models.TextField("still to be done", blank=True)
    signed_at = models.DateTimeField(auto_now_add=True)
    handed_by = models.ForeignKey(
        "jobs.User", null=True, on_delete=models.SET_NULL, related_name="+"
    )

    class Meta:
        ordering = ["-number"]
        constraints = [
            models.UniqueConstraint(fields=["job", "number"], name="slip_number_once_a_job"),
            models.CheckConstraint(condition=~Q(signed_by=""), name="slip_signed_by_name"),
        ]

    def __str__(self) -> str:
        return f"Completion slip {self.number} of job {self.job_id}"
