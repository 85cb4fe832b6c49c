"""What a rip takes beside what a crosscut takes; products that are there lose the same either way."""

from django.db import migrations, models

import jobs.models.base


class Migration(migrations.Migration):

    dependencies = [("jobs", "0009_walls_of_new_floors")]

    operations = [
        migrations.AddField(
            "product",
            "rip_kerf_mm",
            jobs.models.base.MillimeterField(
                "rip kerf", max_digits=14, decimal_places=6, null=True, blank=True
            ),
        ),
        migrations.AddConstraint(
            "product",
            models.CheckConstraint(
                condition=models.Q(
                    ("rip_kerf_mm__isnull", True),
                    ("rip_kerf_mm__gte", models.F("saw_kerf_mm")),
                    _connector="OR",
                ),
                name="product_rip_takes_no_less",
            ),
        ),
    ]
