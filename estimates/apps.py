"""The estimates app: money."""

from django.apps import AppConfig


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
        from estimates.services.orders.drafts import draft_of_extra
        from jobs.readers.board import promises
        from jobs.readers.feeds import arrival as arrivals
        from jobs.services.extras import extras

        path_steps.register()
        roll_sizes.register()
        waiting.register()
        changes_waiting.register()
        invoices_waiting.register()
        extras.register(draft_of_extra)
        arrivals.register(arrival)
        promises.register(promised_weeks)
