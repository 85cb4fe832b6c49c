"""The quote before it is issued, one a job, and what an issued one lets the homeowner choose."""

from __future__ import annotations

from django.db import models
from django.db.models import F, Q

from estimates.models.money import Estimate, Quote
from jobs.models import Job, Versioned


class PriceTold(models.TextChoices):
    """How far the price of a quote is told."""

    WHOLE = "whole", "One price for the whole job"
    ROOM = "room", "A price for each room"
    UNIT = "unit", "By the unit, for a store or builder"


class SoldWhere(models.TextChoices):
    """Where and how a job is agreed: whether the sale carries a right to cancel hangs on it."""

    HOME = "home", "At the client’s home"
    AWAY = "away", "Elsewhere away from our own place, such as a fair"
    SHOP = "shop", "At our own place, after talking it over there"
    FAR = "far", "Wholly by phone, mail or online"
    EMERGENCY = "emergency", "An emergency, waived in the client’s own hand"
    REPAIR = "repair", "A repair the client called for, and nothing beside it"


class QuoteDraft(Versioned):
    """What the next quote of a job says beside what is measured and priced.

    ``second_way`` and ``third_way``: keys of options, the whole job done that way; empty for none.
    The first choice is the job as it is priced. ``photos``: keys of notes whose photograph is
    shown. ``exclusions`` empty: the company's.
    """

    MOST_PHOTOS = 4

    job = models.OneToOneField(Job, on_delete=models.CASCADE, related_name="quote_draft")
    detail = models.CharField(
        "the price is told", max_length=5, choices=PriceTold.choices, default=PriceTold.WHOLE
    )
    sold_where = models.CharField(
        "where it is agreed", max_length=9, choices=SoldWhere.choices, default=SoldWhere.HOME
    )
    color = models.CharField("color of the floor", max_length=80, blank=True)
    sample_on = models.DateField("sample seen on", null=True, blank=True)
    start_week = models.DateField("a day of the week we start in", null=True, blank=True)
    days_note = models.CharField("what else to say of the days", max_length=400, blank=True)
    exclusions = models.TextField("not in this price", blank=True)
    photos = models.JSONField("photographs shown", default=list, blank=True)
    first_name = models.CharField("what this way is called", max_length=60, blank=True)
    first_text = models.CharField("what follows from it", max_length=400, blank=True)
    second_way = models.CharField("second choice", max_length=60, blank=True)
    second_name = models.CharField("its name", max_length=60, blank=True)
    second_text = models.CharField("what follows from the second", max_length=400, blank=True)
    third_way = models.CharField("third choice", max_length=60, blank=True)
    third_name = models.CharField("name of the third", max_length=60, blank=True)
    third_text = models.CharField("what follows from the third", max_length=400, blank=True)

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=Q(detail__in=PriceTold.values), name="quote_draft_detail_known"
            ),
            models.CheckConstraint(
                condition=Q(sold_where__in=SoldWhere.values), name="quote_draft_sold_known"
            ),
            models.CheckConstraint(
                condition=Q(second_way="") | ~Q(second_way=F("third_way")),
                name="quote_draft_ways_differ",
            ),
        ]

    def __str__(self) -> str:
        return f"Draft of a quote of job {self.job_id}"


class QuoteOption(models.Model):
    """One choice of an issued quote: the whole job done one way, frozen as an estimate of its own.

    ``way``: the option that makes it; empty: the job as it was priced. Never edited.
    """

    quote = models.ForeignKey(Quote, on_delete=models.PROTECT, related_name="options")
    place = models.PositiveSmallIntegerField()
    key = models.CharField(max_length=60)
    name = models.CharField(max_length=60, blank=True)
    way = models.CharField(max_length=60, blank=True)
    estimate = models.ForeignKey(Estimate, on_delete=models.PROTECT, related_name="options")

    class Meta:
        ordering = ["place"]
        constraints = [
            models.UniqueConstraint(fields=["quote", "place"], name="option_place_once"),
            models.UniqueConstraint(fields=["quote", "key"], name="option_key_once"),
            models.CheckConstraint(condition=~Q(key=""), name="option_has_a_key"),
            models.CheckConstraint(
                condition=Q(place__gte=1, place__lte=3), name="option_of_three_at_most"
            ),
        ]

    def __str__(self) -> str:
        return self.name or str(self.quote)
