"""The estimates app: money."""

from django.apps import AppConfig


class EstimatesConfig(AppConfig):
    """Prices, estimates, quotes, purchases and margin review."""

    name = "estimates"
    verbose_name = "Estimates"
    default_auto_field = "django.db.models.BigAutoField"

    def ready(self) -> None:
        """Give the job's path the steps that are about money, and the takeoff its rolls."""
        from estimates.readers import path_steps, roll_sizes

        path_steps.register()
        roll_sizes.register()
