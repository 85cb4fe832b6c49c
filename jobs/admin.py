"""The site's own back door for whoever runs the server: look and repair, never issue."""

from __future__ import annotations

from typing import Any

from django.contrib import admin
from django.db.models import Field
from django.forms import Field as FormField
from django.http import HttpRequest

from jobs.forms.people import check_time_zone
from jobs.models import AuditLine, Client, Company, Crew, Document, Errand, Job, Product, User


class ReadOnly(admin.ModelAdmin):  # type: ignore[type-arg]
    """Rows that are facts: shown, never changed."""

    def has_add_permission(self, request: HttpRequest, *_: object) -> bool:
        """Whether anybody may: nobody adds."""
        return False

    def has_change_permission(self, request: HttpRequest, obj: object = None) -> bool:
        """Whether anybody may: nobody changes."""
        return False

    def has_delete_permission(self, request: HttpRequest, obj: object = None) -> bool:
        """Whether anybody may: nobody deletes."""
        return False


@admin.register(User)
class UserAdmin(admin.ModelAdmin):  # type: ignore[type-arg]
    """People; passwords are set on the company's own pages."""

    list_display = ("email", "name", "role", "company", "is_active")
    exclude = ("password", "groups", "user_permissions")
    readonly_fields = ("last_login", "date_joined")


@admin.register(Client, Job, Product, Crew)
class PlainAdmin(admin.ModelAdmin):  # type: ignore[type-arg]
    """Rows that people edit on the pages."""


@admin.register(Company)
class CompanyAdmin(PlainAdmin):
    """Companies; their time zone is one that the clock knows."""

    def formfield_for_dbfield(
        self, db_field: Field[Any, Any], request: HttpRequest, **kwargs: Any
    ) -> FormField | None:
        """Return the field of a form, that of the time zone with the check of the own page."""
        field = super().formfield_for_dbfield(db_field, request, **kwargs)
        if field is not None and db_field.name == "time_zone":
            field.validators.append(check_time_zone)
        return field


@admin.register(Document)
class DocumentAdmin(ReadOnly):
    """Frozen documents."""

    list_display = ("kind", "sha256", "company", "made_at", "made_by")


@admin.register(AuditLine)
class AuditAdmin(ReadOnly):
    """Who did what."""

    list_display = ("at", "company", "who", "subject", "act")


@admin.register(Errand)
class ErrandAdmin(ReadOnly):
    """Long work and how it went."""

    list_display = ("kind", "subject", "state", "attempts", "company")
