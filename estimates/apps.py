"""The estimates app: money."""

from django.apps import AppConfig


class EstimatesConfig(AppConfig):
    """Prices, estimates, quotes, purchases and margin review."""

    name = "estimates"
    verbose_name = "Estimates"
    default_auto_field = "django.db.models.BigAutoField"

    def ready(self) -> None:
        """Give the path its steps about money, the takeoff its rolls, Home what waits of them."""
        from estimates.readers import path_steps, roll_sizes
        from estimates.readers.sending import waiting

        path_steps.register()
        roll_sizes.register()
        waiting.register()
