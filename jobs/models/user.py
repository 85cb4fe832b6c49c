"""People who sign in, and what they may see."""

from __future__ import annotations

import secrets
from base64 import urlsafe_b64encode
from typing import Any, ClassVar

from django.contrib.auth.base_user import BaseUserManager
from django.contrib.auth.models import AbstractUser
from django.db import models
from django.db.models import Q
from django.utils import timezone

from jobs.models.company import Company


class Role(models.TextChoices):
    """What a person may do: everything; prices and quotes; own days, packets and logs."""

    OWNER = "owner", "Owner"
    ESTIMATOR = "estimator", "Estimator"
    CREW = "crew", "Crew"


def fresh_seal() -> str:
    """Return a new key for what waits on a person's phone: 32 bytes, in base64."""
    return urlsafe_b64encode(secrets.token_bytes(32)).decode()


class UserManager(BaseUserManager["User"]):
    """Makes people by e-mail address."""

    # Any: values of the row by the names of its fields, as Django hands them on.
    def create_user(self, email: str, password: str | None = None, **extra: Any) -> User:
        """Return a saved person who signs in with ``email``."""
        user = self.model(email=self.normalize_email(email).lower(), **extra)
        user.set_password(password)
        user.save(using=self._db)
        return user

    def create_superuser(self, email: str, password: str | None = None, **extra: Any) -> User:
        """Return a saved person who may also use the site's admin."""
        extra |= {"is_staff": True, "is_superuser": True}
        extra.setdefault("role", Role.OWNER)
        return self.create_user(email, password, **extra)

    def get_by_natural_key(self, username: str | None) -> User:
        """Return the person with this e-mail address, however it was capitalized."""
        return self.get(email__iexact=username or "")


class User(AbstractUser):
    """A person of one company, with one role."""

    username = None  # type: ignore[assignment]
    first_name = None  # type: ignore[assignment]
    last_name = None  # type: ignore[assignment]
    email = models.EmailField("e-mail", unique=True)
    name = models.CharField(max_length=120)
    phone = models.CharField(max_length=40, blank=True)
    role = models.CharField(max_length=9, choices=Role.choices, default=Role.CREW)
    company = models.ForeignKey(
        Company, null=True, blank=True, on_delete=models.CASCADE, related_name="people"
    )
    # Made with the person, so that every backup that has the person has it: with another one, what
    # waits on their phone could be opened by nobody.
    log_seal = models.CharField(max_length=44, default=fresh_seal, editable=False)

    USERNAME_FIELD = "email"
    REQUIRED_FIELDS: ClassVar[list[str]] = ["name"]
    objects: ClassVar[UserManager] = UserManager()  # type: ignore[assignment]

    class Meta:
        ordering = ["name"]
        constraints = [
            models.CheckConstraint(condition=Q(role__in=Role.values), name="user_role_known"),
            models.CheckConstraint(condition=~Q(name=""), name="user_has_a_name"),
        ]

    def __str__(self) -> str:
        return self.name

    def get_full_name(self) -> str:
        """Return the person's name as entered."""
        return self.name

    def get_short_name(self) -> str:
        """Return the first word of the person's name."""
        return self.name.split(" ")[0]

    @property
    def is_owner(self) -> bool:
        """Whether the person may do everything."""
        return self.role == Role.OWNER

    @property
    def is_office(self) -> bool:
        """Whether the person may see prices: owner or estimator."""
        return self.role in (Role.OWNER, Role.ESTIMATOR)

    @property
    def is_crew(self) -> bool:
        """Whether the person sees own days, packets and logs, and never a price."""
        return self.role == Role.CREW


class OpenSession(models.Model):
    """A browser in which a person is signed in. No part of a backup, as the session itself."""

    person = models.ForeignKey(User, on_delete=models.CASCADE, related_name="open_sessions")
    session_key = models.CharField(max_length=40, unique=True)
    device = models.CharField(max_length=120, blank=True, help_text="What the browser calls itself")
    address = models.CharField("network address", max_length=64, blank=True)
    since = models.DateTimeField(default=timezone.now)
    seen_at = models.DateTimeField(default=timezone.now)

    class Meta:
        ordering = ["-seen_at", "-pk"]

    def __str__(self) -> str:
        return f"{self.device}, signed in {self.since:%Y-%m-%d %H:%M %Z}"
