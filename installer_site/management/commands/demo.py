"""Fill the book with the demo company: `manage.py demo [--fresh] [--sign-ins]`."""

from __future__ import annotations

import secrets
import shutil
from typing import Any

from django.conf import settings
from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.db import transaction

from installer_site.demo import story
from installer_site.demo.telling import tell
from jobs.models import Company, User

WORDS = ("larch", "plumb", "chalk", "level", "rowan", "miter", "cedar", "square", "birch", "tenon")


class Command(BaseCommand):
    """Makes the demo company once; `--fresh` empties the whole database first."""

    help = "Fill the book with an invented company, or tell its sign-ins."

    def add_arguments(self, parser: CommandParser) -> None:
        """Choose between filling, starting over and telling."""
        parser.add_argument("--fresh", action="store_true", help="empty the whole database first")
        parser.add_argument("--sign-ins", action="store_true", help="only tell who can sign in")

    def handle(self, *_: Any, **options: Any) -> None:
        """Fill, or tell."""
        if options["sign_ins"]:
            self._tell_sign_ins()
            return
        if options["fresh"]:
            self._refuse_strangers()
            call_command("flush", interactive=False, verbosity=0)
            shutil.rmtree(settings.MEDIA_ROOT, ignore_errors=True)
        if Company.objects.exists():
            return
        with transaction.atomic():
            tell(password())
        self.stdout.write("The demo company is in the book.")

    def _refuse_strangers(self) -> None:
        """Refuse to empty a database that holds any other company."""
        others = Company.objects.exclude(name=story.COMPANY["name"])
        if others.exists():
            names = ", ".join(others.values_list("name", flat=True)[:3])
            message = f"This database holds other companies ({names}); nothing was emptied."
            raise CommandError(message)

    def _tell_sign_ins(self) -> None:
        """Write one line a person of the demo company."""
        emails = [person.email for person in story.PEOPLE]
        for person in User.objects.filter(email__in=emails).order_by("pk"):
            role = person.get_role_display().lower()
            self.stdout.write(f"  {role:<10} {person.email:<20} {password()}")


def password() -> str:
    """Return this demo's password for all its people: made once, kept beside the data."""
    kept = settings.VAR / "demo-password"
    if not kept.exists():
        kept.touch(mode=0o600)
        kept.write_text(
            "-".join([*(secrets.choice(WORDS) for _ in range(2)), secrets.token_hex(3)])
        )
    return str(kept.read_text()).strip()
