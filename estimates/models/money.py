"""The rows of the estimates app: prices, estimates, quotes, what was bought."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.db import models
from django.db.models import Q

from estimates.models.job_price import (
    COMPANY_TAX_MODES,
    PricedBy,
    TaxedAtRates,
    TaxMode,
    tax_sane,
)
from jobs.models import (
    Callback,
    Company,
    Document,
    Job,
    LeftoverStock,
    Product,
    Scope,
    StoredFile,
    Versioned,
)

if TYPE_CHECKING:
    from estimates.models.quote_link import QuoteLink


class TaxRounding(models.TextChoices):
    """Where sales tax is rounded to the cent: the seller chooses (SSUTA, section 324)."""

    INVOICE = "invoice", "Once, on the whole bill"
    ITEM = "item", "Line by line"


class PriceTerms(Versioned, TaxedAtRates):
    """How this company turns cost into price."""

    company = models.OneToOneField(Company, on_delete=models.CASCADE, related_name="price_terms")
    burdened_rate = models.DecimalField("burdened labor, an hour", max_digits=8, decimal_places=2)
    overhead_percent = models.DecimalField(max_digits=5, decimal_places=2, default=10)
    margin_percent = models.DecimalField(
        "margin on price", max_digits=5, decimal_places=2, default=25
    )
    minimum_charge = models.DecimalField(max_digits=10, decimal_places=2, default=0)
    method = models.CharField(
        "jobs are priced by", max_length=5, choices=PricedBy.choices, default=PricedBy.COST
    )
    tax_mode = models.CharField(max_length=8, choices=COMPANY_TAX_MODES, default=TaxMode.CONSUMER)
    tax_basis = models.CharField(
        "sales tax is rounded", max_length=7, choices=TaxRounding.choices, default="invoice"
    )
    deposit_percent = models.DecimalField(max_digits=5, decimal_places=2, default=30)
    valid_days = models.PositiveSmallIntegerField("quote valid, days", default=30)
    terms = models.TextField("terms printed on the quote", blank=True)
    exclusions = models.TextField("what is not included", blank=True)

    class Meta:
        verbose_name_plural = "price terms"
        constraints = [
            models.CheckConstraint(condition=Q(burdened_rate__gt=0), name="terms_rate_positive"),
            models.CheckConstraint(
                condition=Q(margin_percent__gte=0, margin_percent__lt=95), name="terms_margin_sane"
            ),
            models.CheckConstraint(
                condition=Q(overhead_percent__gte=0, overhead_percent__lte=200),
                name="terms_overhead_sane",
            ),
            models.CheckConstraint(condition=tax_sane(), name="terms_tax_sane"),
            models.CheckConstraint(
                condition=Q(method__in=PricedBy.values), name="terms_method_known"
            ),
            models.CheckConstraint(
                condition=Q(tax_basis__in=TaxRounding.values), name="terms_tax_basis_known"
            ),
        ]

    def __str__(self) -> str:
        return f"Price terms of {self.company}"


class PricedPer(models.TextChoices):
    """What a price is for: a whole pack, or one unit of what the pack covers or holds."""

    PACK = "pack", "Pack"
    MEASURE = "measure", "What a pack covers"


class PriceItem(Versioned):
    """What a material costs us, by the pack or by what it covers, from a date on.

    Of kind "adder" it is what an adder is sold for, by the unit. ``unit`` is the catalog's;
    ``pack`` is empty for what is sold loose. ``last_seen``: when somebody last looked it up;
    None: not since it is in force.
    """

    company = models.ForeignKey(Company, on_delete=models.CASCADE, related_name="prices")
    code = models.SlugField(max_length=60)
    item = models.CharField(max_length=120, blank=True, help_text="such as the product's name")
    label = models.CharField(max_length=120)
    unit = models.CharField(max_length=20)
    kind = models.CharField(
        max_length=8, choices=[("material", "Material"), ("adder", "Adder")], default="material"
    )
    pack = models.CharField(max_length=20, blank=True, help_text="such as carton or box")
    covers = models.DecimalField(
        "a pack covers or holds", max_digits=8, decimal_places=3, null=True, blank=True
    )
    amount = models.DecimalField("price", max_digits=12, decimal_places=4)
    per = models.CharField(max_length=8, choices=PricedPer.choices, default=PricedPer.PACK)
    taxable = models.BooleanField(default=True)
    tax_class = models.CharField(max_length=60, blank=True)
    effective_from = models.DateField("in force from")
    last_seen = models.DateField(null=True, blank=True)
    supplier = models.CharField(max_length=120, blank=True)
    our_code = models.CharField("our own code", max_length=40, blank=True)
    special_order = models.BooleanField(default=False)
    returnable = models.BooleanField("full packs can be returned", default=True)

    class Meta:
        ordering = ["code", "item", "-effective_from"]
        constraints = [
            models.UniqueConstraint(
                fields=["company", "kind", "code", "item", "effective_from"],
                name="price_once_a_date",
            ),
            models.CheckConstraint(condition=Q(amount__gte=0), name="price_not_negative"),
            models.CheckConstraint(
                condition=Q(covers__isnull=True) | Q(covers__gt=0), name="price_covers_something"
            ),
            models.CheckConstraint(condition=Q(per__in=PricedPer.values), name="price_per_known"),
        ]

    def __str__(self) -> str:
        return f"{self.label}, {self.amount} per {self.unit}"


class Estimate(models.Model):
    """A priced scope. Stored whole, never edited; a newer one supersedes it."""

    job = models.ForeignKey(Job, on_delete=models.CASCADE, related_name="estimates")
    scope = models.ForeignKey(Scope, on_delete=models.PROTECT, related_name="estimates")
    number = models.PositiveIntegerField()
    document = models.OneToOneField(Document, on_delete=models.PROTECT, related_name="estimate")
    cost = models.DecimalField(max_digits=12, decimal_places=2)
    total = models.DecimalField(max_digits=12, decimal_places=2)
    made_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ["-number"]
        get_latest_by = "number"
        constraints = [
            models.UniqueConstraint(fields=["job", "number"], name="estimate_number_once_a_job"),
            models.CheckConstraint(condition=Q(total__gte=0), name="estimate_total_not_negative"),
        ]

    def __str__(self) -> str:
        return f"Estimate {self.number} of job {self.job_id}"


class Quote(models.Model):
    """What was sent to the homeowner. Frozen when issued; opened by its link.

    ``label`` is its number in words as the company numbered then; empty in an older one.
    """

    job = models.ForeignKey(Job, on_delete=models.CASCADE, related_name="quotes")
    estimate = models.OneToOneField(Estimate, on_delete=models.PROTECT, related_name="quote")
    number = models.PositiveIntegerField()
    label = models.CharField("number in words", max_length=40, blank=True)
    document = models.OneToOneField(Document, on_delete=models.PROTECT, related_name="quote")
    pdf = models.ForeignKey(StoredFile, on_delete=models.PROTECT, related_name="+")
    total = models.DecimalField(max_digits=12, decimal_places=2)
    issued_at = models.DateTimeField(auto_now_add=True)
    issued_by = models.ForeignKey(
        "jobs.User", null=True, on_delete=models.SET_NULL, related_name="+"
    )
    valid_until = models.DateField()
    withdrawn_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["-number"]
        get_latest_by = "number"
        constraints = [
            models.UniqueConstraint(fields=["job", "number"], name="quote_number_once_a_job"),
        ]

    def __str__(self) -> str:
        return f"Quote {self.number} of job {self.job_id}"

    @property
    def called(self) -> str:
        """Its number in words; ``job`` is read with it."""
        return self.label or f"{self.job.number}-{self.number}"

    @property
    def link(self) -> QuoteLink:
        """The link that counts."""
        return self.links.get(version__gte=1)

    @property
    def token(self) -> str:
        """The word of the link that counts, computed afresh: one query."""
        return self.link.token


class Acceptance(models.Model):
    """The homeowner's word on a quote: name typed, when, and the digest of what was seen.

    ``choice``: the key of the way that was chosen; empty where an older quote offered but one.
    """

    quote = models.OneToOneField(Quote, on_delete=models.PROTECT, related_name="acceptance")
    name = models.CharField(max_length=120)
    at = models.DateTimeField(auto_now_add=True)
    document_sha256 = models.CharField(max_length=64)
    by_link = models.BooleanField(default=True)
    choice = models.CharField(max_length=60, blank=True)

    class Meta:
        constraints = [models.CheckConstraint(condition=~Q(name=""), name="acceptance_by_name")]

    def __str__(self) -> str:
        return f"{self.quote} accepted by {self.name}"


class ChangeOrder(models.Model):
    """An agreed change of an accepted scope, with its price. Never edited.

    ``scope`` is what is agreed to be done after it; a change that the plan does not count leaves
    it as it was. ``amount`` is before sales tax.
    """

    job = models.ForeignKey(Job, on_delete=models.CASCADE, related_name="change_orders")
    number = models.PositiveIntegerField()
    scope = models.ForeignKey(Scope, on_delete=models.PROTECT, related_name="change_orders")
    document = models.OneToOneField(Document, on_delete=models.PROTECT, related_name="change_order")
    amount = models.DecimalField("change of price", max_digits=12, decimal_places=2)
    agreed_by = models.CharField(max_length=120)
    agreed_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ["number"]
        constraints = [
            models.UniqueConstraint(fields=["job", "number"], name="change_number_once_a_job"),
            models.CheckConstraint(condition=~Q(agreed_by=""), name="change_agreed_by_name"),
        ]

    def __str__(self) -> str:
        return f"Change order {self.number} of job {self.job_id}"


class PurchaseOf(models.TextChoices):
    """What became of what a receipt names."""

    BOUGHT = "bought", "Bought"
    RETURNED = "returned", "Returned for a credit"
    ATTIC = "attic", "Left in the attic"
    KEPT = "kept", "Kept by us for another job"


class Purchase(Versioned):
    """Something bought for a job, or what became of it: returned, left in the attic, kept.

    Of what was returned ``amount`` is the credit; what is left over has none. ``callback``: what it
    was bought for, where that was a callback; ``stock``: the planks that are ours since.
    """

    job = models.ForeignKey(Job, on_delete=models.CASCADE, related_name="purchases")
    kind = models.CharField(
        "what became of it", max_length=8, choices=PurchaseOf.choices, default=PurchaseOf.BOUGHT
    )
    code = models.SlugField("what for", max_length=60)
    label = models.CharField(max_length=120)
    supplier = models.CharField(max_length=120, blank=True)
    quantity = models.DecimalField(max_digits=10, decimal_places=2)
    unit = models.CharField(max_length=20)
    amount = models.DecimalField("paid in all", max_digits=10, decimal_places=2)
    bought_on = models.DateField()
    product = models.ForeignKey(
        Product, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    lot = models.CharField("lot, as on the carton", max_length=60, blank=True)
    receipt = models.ForeignKey(
        StoredFile, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    callback = models.ForeignKey(
        Callback, null=True, blank=True, on_delete=models.SET_NULL, related_name="purchases"
    )
    stock = models.OneToOneField(
        LeftoverStock, null=True, blank=True, on_delete=models.SET_NULL, related_name="+"
    )
    note = models.TextField(blank=True)

    class Meta:
        ordering = ["bought_on", "pk"]
        constraints = [
            models.CheckConstraint(condition=Q(quantity__gt=0), name="purchase_quantity_positive"),
            models.CheckConstraint(condition=Q(amount__gte=0), name="purchase_amount_not_negative"),
            models.CheckConstraint(
                condition=Q(kind__in=PurchaseOf.values), name="purchase_kind_known"
            ),
            models.CheckConstraint(
                condition=Q(kind__in=[PurchaseOf.BOUGHT, PurchaseOf.RETURNED]) | Q(amount=0),
                name="leftover_costs_nothing",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.label}, {self.amount}"
