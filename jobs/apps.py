"""The jobs app: time and place."""

from django.apps import AppConfig


class JobsConfig(AppConfig):
    """Company, people, jobs, rooms, products, zones, plans, days, packets and logs."""

    name = "jobs"
    verbose_name = "Jobs"
    default_auto_field = "django.db.models.BigAutoField"

    def ready(self) -> None:
        """Give the job's path its steps of time and place, the first page what waits of them."""
        from jobs.readers import path_steps
        from jobs.readers.day_log import left_over, questions
        from jobs.readers.moisture import waiting as readings
        from jobs.readers.packets import waiting

        path_steps.register()
        waiting.register()
        questions.register()
        left_over.register()
        readings.register()
