"""The estimates app: money."""

from django.apps import AppConfig


class EstimatesConfig(AppConfig):
    """Prices, estimates, quotes, purchases and margin review."""

    name = "estimates"
    verbose_name = "Estimates"
    default_auto_field = "django.db.models.BigAutoField"

    def ready(self) -> None:
        """Give the job's path its money steps, and extra work its draft of a change order."""
        from estimates.readers import path_steps
        from estimates.services.orders.drafts import draft_of_extra
        from jobs.services.extras import extras

        path_steps.register()
        extras.register(draft_of_extra)
