"""The estimates app: money."""

from __future__ import annotations

from collections.abc import Sequence

from django.apps import AppConfig
from django.db.migrations import Migration
from django.db.models.signals import post_migrate

_FIRST_REVIEWS = "returns_receipts_and_closed_reviews"
"""What the migration is called that made the table of frozen reviews."""
_FIRST_EDITIONS = "floor_passports_frozen"
"""What the migration is called that made the table of what passports told."""


class EstimatesConfig(AppConfig):
    """Prices, estimates, quotes, purchases and margin review."""

    name = "estimates"
    verbose_name = "Estimates"
    default_auto_field = "django.db.models.BigAutoField"

    def ready(self) -> None:
        """Give path, takeoff, first page and extra work what is money of them."""
        from estimates.readers import path_steps, roll_sizes
        from estimates.readers.draft.start import promised_weeks
        from estimates.readers.invoices import waiting as invoices_waiting
        from estimates.readers.orders import waiting as changes_waiting
        from estimates.readers.sending import waiting
        from estimates.readers.setup.sales import arrival
        from estimates.services.orders.drafts import (
            agreed_extras_of,
            draft_of_extra,
            give_up_extra,
        )
        from jobs.readers.board import promises
        from jobs.readers.crews_day import extras as agreed_work
        from jobs.readers.feeds import arrival as arrivals
        from jobs.services.extras import extras

        path_steps.register()
        roll_sizes.register()
        waiting.register()
        changes_waiting.register()
        invoices_waiting.register()
        extras.register(draft_of_extra, give_up=give_up_extra)
        agreed_work.register(agreed_extras_of)
        arrivals.register(arrival)
        promises.register(promised_weeks)
        post_migrate.connect(freeze_older, sender=self)


def freeze_older(*, plan: Sequence[tuple[Migration, bool]] = (), **_: object) -> None:
    """Freeze reviews and passports that are older than their tables, once the tables are there.

    Done after all migrations, since both are reckoned from tables of both apps as they are now.
    """
    from estimates.services.passport.editions import tell_older_passports
    from estimates.services.review.closing import freeze_closed_jobs

    made = {step.name for step, back in plan if not back}
    if any(name.endswith(_FIRST_REVIEWS) for name in made):
        freeze_closed_jobs()
    if any(name.endswith(_FIRST_EDITIONS) for name in made):
        tell_older_passports()
