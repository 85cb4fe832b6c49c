"""A company says what its new floors are planned for; floors that are there keep their own figure."""

from django.db import migrations, models

import jobs.models.base


class Migration(migrations.Migration):

    dependencies = [("jobs", "0008_spelled_as_the_trade_does")]

    operations = [
        migrations.AddField(
            "company",
            "wall_error_mm",
            jobs.models.base.MillimeterField(
                "walls of new floors may stand off by",
                max_digits=14,
                decimal_places=6,
                null=True,
                blank=True,
            ),
        ),
        migrations.AddConstraint(
            "company",
            models.CheckConstraint(
                condition=models.Q(
                    ("wall_error_mm__isnull", True), ("wall_error_mm__gte", 0), _connector="OR"
                ),
                name="company_wall_error_sane",
            ),
        ),
    ]
