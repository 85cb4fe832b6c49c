"""What the homeowner takes on of a job. A row."""

from __future__ import annotations

from django.db import models

from jobs.models import Job, Versioned


class WorkSplit(Versioned):
    """The work of a job that its homeowner does: codes of tasks, or all of it.

    ``left_out``: codes of tasks, each once. ``everything``: all work, the laying too; what is sold
    is the material, the plan and the cut sheet.
    """

    job = models.OneToOneField(Job, on_delete=models.CASCADE, related_name="work_split")
    left_out = models.JSONField("work that the homeowner does", default=list, blank=True)
    everything = models.BooleanField("all the work, the laying too", default=False)

    def __str__(self) -> str:
        return f"Work split of job {self.job_id}"
