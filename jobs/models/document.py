"""What was issued: frozen documents and the files they were printed to."""

from __future__ import annotations

from django.db import models
from django.db.models import Q

from jobs.models.company import Company


class Document(models.Model):
    """A frozen document: canonical text with its sha256. Written once, never edited."""

    company = models.ForeignKey(Company, on_delete=models.CASCADE, related_name="documents")
    kind = models.SlugField(max_length=20, help_text="plan, scope, estimate, quote, packet, ...")
    format = models.PositiveSmallIntegerField(default=1)
    text = models.TextField()
    sha256 = models.CharField(max_length=64)
    inputs_sha256 = models.CharField(max_length=64, blank=True)
    made_at = models.DateTimeField(auto_now_add=True)
    made_by = models.ForeignKey("jobs.User", null=True, on_delete=models.SET_NULL, related_name="+")

    class Meta:
        indexes = [models.Index(fields=["company", "kind"], name="document_by_kind")]
        constraints = [models.CheckConstraint(condition=~Q(text=""), name="document_has_text")]

    def __str__(self) -> str:
        return f"{self.kind} {self.sha256[:12]}"


class StoredFile(models.Model):
    """A file kept under its digest in the media folder; the name is only what people call it."""

    company = models.ForeignKey(Company, on_delete=models.CASCADE, related_name="files")
    sha256 = models.CharField(max_length=64)
    name = models.CharField(max_length=120)
    content_type = models.CharField(max_length=40)
    size = models.PositiveIntegerField()
    stored_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["company", "sha256", "name"], name="file_stored_once"),
            models.CheckConstraint(condition=Q(size__gt=0), name="file_not_empty"),
        ]

    def __str__(self) -> str:
        return self.name
