"""The estimates app: money."""

from django.apps import AppConfig


class EstimatesConfig(AppConfig):
    """Prices, estimates, quotes, purchases and margin review."""

    name = "estimates"
    verbose_name = "Estimates"
    default_auto_field = "django.db.models.BigAutoField"

    def ready(self) -> None:
        """Give the job's path the steps that are about money."""
        from estimates.readers import path_steps

        path_steps.register()
