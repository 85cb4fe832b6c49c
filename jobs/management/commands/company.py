"""Open the book for a company: `manage.py company NAME --owner PERSON --email ADDRESS`."""

from __future__ import annotations

import getpass
from typing import Any

from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.core.validators import validate_email
from django.db import transaction

from jobs.models import Company, Role, User
from jobs.services.records import audit


class Command(BaseCommand):
    """Makes a company and its first owner; the password is asked for, or read from a pipe."""

    help = "Open the book for a new company with its first owner."

    def add_arguments(self, parser: CommandParser) -> None:
        """Name the company and its owner."""
        parser.add_argument("name")
        parser.add_argument("--owner", required=True)
        parser.add_argument("--email", required=True)

    def handle(self, *_: object, **options: Any) -> None:
        """Make both, or neither."""
        password = getpass.getpass("Password for the owner: ")
        try:
            validate_email(options["email"])
            validate_password(password)
        except ValidationError as refused:
            raise CommandError(" ".join(refused.messages)) from None
        if User.objects.filter(email__iexact=options["email"]).exists():
            message = f"Somebody signs in with {options['email']} already."
            raise CommandError(message)
        open_company(options["name"], options["owner"], options["email"], password)
        self.stdout.write(f"{options['name']} is open. {options['email']} can sign in.")


@transaction.atomic
def open_company(name: str, owner: str, email: str, password: str) -> Company:
    """Return the new company with its first owner."""
    company = Company.objects.create(name=name)
    person = User.objects.create_user(email, password, name=owner, role=Role.OWNER, company=company)
    audit(user=person, company=company, subject="company", act=f"Opened the book of {name}")
    return company
