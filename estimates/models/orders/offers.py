"""What was sent of a change order, its link and its answer. Frozen when it is sent. Rows."""

from __future__ import annotations

from django.conf import settings
from django.db import models
from django.db.models import Q

from estimates.models.orders.drafts import ChangeDraft
from jobs.domain.link_token import link_token
from jobs.models import Document, Job, Scope, StoredFile

PURPOSE = "change"
"""What a link of a change order opens, as the word of it is computed."""


class ChangeAnswer(models.TextChoices):
    """What was said to a change that was sent."""

    ACCEPTED = "accepted", "Accepted"
    DECLINED = "declined", "Declined"


class ChangeOffer(models.Model):
    """A change order as it was sent: document and PDF frozen, to be agreed on or not.

    ``scope`` is what is agreed to be done once it is accepted. ``amount`` is before sales tax.
    ``noted_at`` says when the office put its answer aside.
    """

    job = models.ForeignKey(Job, on_delete=models.CASCADE, related_name="change_offers")
    draft = models.ForeignKey(ChangeDraft, on_delete=models.PROTECT, related_name="offers")
    number = models.PositiveIntegerField()
    scope = models.ForeignKey(Scope, on_delete=models.PROTECT, related_name="change_offers")
    document = models.OneToOneField(Document, on_delete=models.PROTECT, related_name="change_offer")
    pdf = models.ForeignKey(StoredFile, on_delete=models.PROTECT, related_name="+")
    amount = models.DecimalField("change of price", max_digits=12, decimal_places=2)
    tax = models.DecimalField(max_digits=12, decimal_places=2)
    valid_until = models.DateField()
    issued_at = models.DateTimeField(auto_now_add=True)
    issued_by = models.ForeignKey(
        "jobs.User", null=True, on_delete=models.SET_NULL, related_name="+"
    )
    withdrawn_at = models.DateTimeField(null=True, blank=True)
    answer = models.CharField(max_length=8, choices=ChangeAnswer.choices, blank=True)
    answered_at = models.DateTimeField(null=True, blank=True)
    answered_by = models.CharField(max_length=120, blank=True)
    reason = models.CharField("why it was declined", max_length=1000, blank=True)
    by_link = models.BooleanField(default=False)
    ip = models.GenericIPAddressField("from where", null=True, blank=True)
    agent = models.CharField("browser", max_length=200, blank=True)
    noted_at = models.DateTimeField("answer put aside", null=True, blank=True)

    class Meta:
        ordering = ["-number"]
        constraints = [
            models.UniqueConstraint(fields=["job", "number"], name="change_offer_number_once"),
            models.CheckConstraint(
                condition=Q(answer__in=["", *ChangeAnswer.values]), name="change_answer_known"
            ),
            models.CheckConstraint(
                condition=~Q(answer=ChangeAnswer.ACCEPTED)
                | Q(~Q(answered_by=""), withdrawn_at__isnull=True),
                name="change_accepted_by_name",
            ),
        ]

    def __str__(self) -> str:
        return f"Change order {self.number} of job {self.job_id}"


class ChangeText(models.Model):
    """That the link of a change was sent from somebody's phone, as they say."""

    offer = models.ForeignKey(ChangeOffer, on_delete=models.CASCADE, related_name="texts")
    to = models.CharField(max_length=200)
    user = models.ForeignKey("jobs.User", null=True, on_delete=models.SET_NULL, related_name="+")
    name = models.CharField("who sent it", max_length=200)
    at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ["pk"]
        constraints = [models.CheckConstraint(condition=~Q(to=""), name="change_text_has_someone")]

    def __str__(self) -> str:
        return f"{self.offer}, texted to {self.to}"


class ChangeLink(models.Model):
    """The link of a change that was sent; of its secret word only the hash is kept.

    A link that is revoked goes on under its next version.
    """

    offer = models.OneToOneField(ChangeOffer, on_delete=models.CASCADE, related_name="link")
    version = models.PositiveIntegerField(default=1)
    token_hash = models.CharField(max_length=64, unique=True)
    revoked_at = models.DateTimeField(null=True, blank=True)

    def __str__(self) -> str:
        return f"Link of {self.offer}"

    @property
    def token(self) -> str:
        """The word of this link, computed afresh; it is kept nowhere."""
        secret = str(settings.SECRET_KEY)
        return link_token(secret, purpose=PURPOSE, link=self.pk, version=self.version)
