"""`manage.py work`: the worker that plans floors and makes documents."""

from argparse import ArgumentParser
from datetime import timedelta

from django.core.management.base import BaseCommand, CommandError

from jobs.worker import worker

SHORTEST_LEASE_SECONDS = 1.0


class Command(BaseCommand):
    """Run one worker until it is stopped; several may run side by side."""

    help = "Do long work: floor plans, quotes, packets. SIGTERM or Ctrl-C stops it in good order."
    # The site checks itself when it starts; a worker serves no address and starts at once.
    requires_system_checks = ()

    def add_arguments(self, parser: ArgumentParser) -> None:
        """Add the worker's options."""
        parser.add_argument("--once", action="store_true", help="end when no errand waits")
        parser.add_argument(
            "--poll",
            type=float,
            default=worker.POLL_SECONDS,
            metavar="SECONDS",
            help="pause between two looks for work (default %(default)s)",
        )
        parser.add_argument(
            "--lease",
            type=float,
            default=worker.LEASE.total_seconds(),
            metavar="SECONDS",
            help="how long work stays with a worker that is not heard of (default %(default)s)",
        )

    def handle(self, *, once: bool, poll: float, lease: float, **_options: object) -> None:
        """Run the loop."""
        if not poll > 0:
            message = f"--poll {poll}: a number of seconds above 0 is needed"
            raise CommandError(message)
        if not lease >= SHORTEST_LEASE_SECONDS:
            message = f"--lease {lease}: at least {SHORTEST_LEASE_SECONDS} s is needed"
            raise CommandError(message)
        worker.Worker(lease=timedelta(seconds=lease), poll_seconds=poll, once=once).run()
