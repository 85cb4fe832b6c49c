"""Fill the book with the demo company: `manage.py demo [--fresh] [--sign-ins]`.

With `--date` and `--effort-iterations` two demos are alike: the same days, the same plans.
"""

from __future__ import annotations

import secrets
import shutil
from argparse import ArgumentTypeError
from collections.abc import Mapping
from datetime import date
from typing import Any

from django.conf import settings
from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.db import transaction

from installer_site.demo import story
from installer_site.demo.telling import tell
from jobs.models import Company, User

WORDS = ("larch", "plumb", "chalk", "level", "rowan", "miter", "cedar", "square", "birch", "tenon")
FIRST_DAY, LAST_DAY = date(2000, 1, 1), date(2099, 12, 31)
MOST_ITERATIONS = 1_000_000
TERMS = ("date", "effort_iterations")


def day(text: str) -> date:
    """Return the day written as 2026-10-21. Raises ArgumentTypeError for anything else."""
    try:
        parsed = date.fromisoformat(text)
    except ValueError:
        parsed = None
    if parsed is None or not FIRST_DAY <= parsed <= LAST_DAY:
        accepted = f"write a day from {FIRST_DAY} to {LAST_DAY}, like 2026-10-21"
        raise ArgumentTypeError(f"{text!r} can't be used: {accepted}")
    return parsed


def iterations(text: str) -> int:
    """Return a count of iterations. Raises ArgumentTypeError for what is none."""
    counted = text.isascii() and text.isdigit() and len(text) <= len(str(MOST_ITERATIONS))
    if not (counted and 1 <= int(text) <= MOST_ITERATIONS):
        accepted = f"write a whole number from 1 to {MOST_ITERATIONS}"
        raise ArgumentTypeError(f"{text!r} can't be used: {accepted}")
    return int(text)


class Command(BaseCommand):
    """Makes the demo company once; `--fresh` empties the whole database first."""

    help = "Fill the book with an invented company, or tell its sign-ins."

    def add_arguments(self, parser: CommandParser) -> None:
        """Choose between filling, starting over and telling; say how it is filled."""
        parser.add_argument("--fresh", action="store_true", help="empty the whole database first")
        parser.add_argument("--sign-ins", action="store_true", help="only tell who can sign in")
        parser.add_argument("--date", type=day, help="the day it is told on (today)")
        parser.add_argument(
            "--effort-iterations",
            type=iterations,
            help="the planner's effort for a floor, the same on every machine (8 seconds)",
        )

    # Any: each option has the type that its reader above returns.
    def handle(self, *_: object, **options: Any) -> None:
        """Fill, or tell."""
        if options["sign_ins"]:
            self._tell_sign_ins()
            return
        if options["fresh"]:
            self._refuse_strangers()
            call_command("flush", interactive=False, verbosity=0)
            shutil.rmtree(settings.MEDIA_ROOT, ignore_errors=True)
        if Company.objects.exists():
            self._refuse_late_terms(options)
            return
        effort = options["effort_iterations"]
        with transaction.atomic():
            tell(password(), today=options["date"], effort_iterations=effort)
        self.stdout.write("The demo company is in the book.")

    def _refuse_late_terms(self, options: Mapping[str, object]) -> None:
        """Refuse terms for a demo that is made already."""
        late = [f"--{name.replace('_', '-')}" for name in TERMS if options[name] is not None]
        if late:
            message = (
                f"{' and '.join(late)} can't be used: the book is filled already; add --fresh."
            )
            raise CommandError(message)

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
