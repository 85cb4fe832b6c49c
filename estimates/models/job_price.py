"""What one job's price has of its own: sales tax, a discount, rounding, lines. Rows."""

from __future__ import annotations

from django.db import models
from django.db.models import Q

from jobs.models import Job, Versioned


class TaxMode(models.TextChoices):
    """Where sales tax is paid: when we buy, on the bill, or nowhere."""

    CONSUMER = "consumer", "Paid when we buy the materials"
    SELLER = "seller", "On the bill, on materials"
    ALL = "all", "On the bill, on everything"
    EXEMPT = "exempt", "Exempt, with a certificate"


COMPANY_TAX_MODES = [
    (mode.value, mode.label) for mode in (TaxMode.CONSUMER, TaxMode.SELLER, TaxMode.ALL)
]
"""What a company can do as a rule; exempt is a job, by its certificate."""


class TaxedAtRates(models.Model):
    """Sales tax by who levies it, and whether labor on a bill is taxed too."""

    state_percent = models.DecimalField("state tax", max_digits=6, decimal_places=3, default=0)
    county_percent = models.DecimalField("county tax", max_digits=6, decimal_places=3, default=0)
    city_percent = models.DecimalField("city tax", max_digits=6, decimal_places=3, default=0)
    labor_taxed = models.BooleanField("labor on the bill is taxed", default=False)

    class Meta:
        abstract = True


def tax_sane() -> Q:
    """Return what holds for rates of tax; rows older than their bound of 30 go up to 40."""
    return Q(
        state_percent__gte=0,
        state_percent__lte=40,
        county_percent__gte=0,
        county_percent__lte=30,
        city_percent__gte=0,
        city_percent__lte=30,
    )


class Rounding(models.IntegerChoices):
    """What a job's price is rounded to, in whole units of the currency."""

    NONE = 0, "Not rounded"
    FIVE = 5, "To the nearest 5"
    TEN = 10, "To the nearest 10"


class PricedBy(models.TextChoices):
    """What makes the price of a job's work: its cost, or what the rate card charges by the unit."""

    COST = "cost", "Hours and material, with overhead and margin"
    RATES = "rates", "The rate card"


class JobPrice(Versioned):
    """What one job's price has of its own: discount, rounding, labor only, what makes the price.

    An empty ``method`` says that it is the company's.
    """

    job = models.OneToOneField(Job, on_delete=models.CASCADE, related_name="job_price")
    discount_percent = models.DecimalField(max_digits=5, decimal_places=2, default=0)
    discount_amount = models.DecimalField(max_digits=10, decimal_places=2, default=0)
    discount_reason = models.CharField(max_length=120, blank=True)
    round_to = models.PositiveSmallIntegerField(choices=Rounding.choices, default=Rounding.NONE)
    labor_only = models.BooleanField("the client buys all material", default=False)
    method = models.CharField("priced by", max_length=5, choices=PricedBy.choices, blank=True)

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=Q(method__in=["", *PricedBy.values]), name="job_method_known"
            ),
            models.CheckConstraint(
                condition=Q(discount_percent__gte=0, discount_percent__lte=100),
                name="discount_percent_sane",
            ),
            models.CheckConstraint(
                condition=Q(discount_amount__gte=0), name="discount_not_negative"
            ),
            models.CheckConstraint(
                condition=Q(discount_percent=0) | Q(discount_amount=0), name="discount_said_once"
            ),
            models.CheckConstraint(
                condition=Q(discount_percent=0, discount_amount=0) | ~Q(discount_reason=""),
                name="discount_has_a_reason",
            ),
            models.CheckConstraint(
                condition=Q(round_to__in=Rounding.values), name="rounding_known"
            ),
        ]

    def __str__(self) -> str:
        return f"Price of job {self.job_id}"


class JobTax(Versioned, TaxedAtRates):
    """Sales tax of one job where it is not the company's; an empty mode says that it is."""

    job = models.OneToOneField(Job, on_delete=models.CASCADE, related_name="job_tax")
    tax_mode = models.CharField(max_length=8, choices=TaxMode.choices, blank=True)
    certificate = models.CharField("certificate number", max_length=60, blank=True)

    class Meta:
        verbose_name_plural = "job taxes"
        constraints = [
            models.CheckConstraint(condition=tax_sane(), name="job_tax_sane"),
            models.CheckConstraint(
                condition=Q(tax_mode__in=["", *TaxMode.values]), name="job_tax_mode_known"
            ),
            models.CheckConstraint(
                condition=~Q(tax_mode=TaxMode.EXEMPT) | ~Q(certificate=""),
                name="exempt_by_a_certificate",
            ),
        ]

    def __str__(self) -> str:
        return f"Sales tax of job {self.job_id}"


class JobLine(Versioned):
    """A line of a job's price that no plan counts; without ``unit_price`` it is at the margin."""

    job = models.ForeignKey(Job, on_delete=models.CASCADE, related_name="price_lines")
    label = models.CharField(max_length=120)
    quantity = models.DecimalField(max_digits=9, decimal_places=2)
    unit = models.CharField(max_length=20)
    unit_cost = models.DecimalField("cost of one", max_digits=10, decimal_places=2, default=0)
    unit_price = models.DecimalField(
        "price of one", max_digits=10, decimal_places=2, null=True, blank=True
    )
    taxable = models.BooleanField("taxed as material", default=False)

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.CheckConstraint(condition=~Q(label=""), name="line_has_a_name"),
            models.CheckConstraint(condition=Q(quantity__gt=0), name="line_of_something"),
            models.CheckConstraint(condition=Q(unit_cost__gte=0), name="line_cost_not_negative"),
            models.CheckConstraint(
                condition=Q(unit_price__isnull=True) | Q(unit_price__gte=0),
                name="line_price_not_negative",
            ),
        ]

    def __str__(self) -> str:
        return self.label
