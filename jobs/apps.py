"""The jobs app: time and place."""

from django.apps import AppConfig


class JobsConfig(AppConfig):
    """Company, people, jobs, rooms, products, zones, plans, days, packets and logs."""

    name = "jobs"
    verbose_name = "Jobs"
    default_auto_field = "django.db.models.BigAutoField"
