from __future__ import annotations

from django.apps.registry import Apps
from django.db import migrations, models
from django.db.backends.base.schema import BaseDatabaseSchemaEditor

import jobs.models.base


def chosen_so_far(apps: Apps, schema_editor: BaseDatabaseSchemaEditor) -> None:
    """Until now a person chose every treatment: none of them may turn into a proposal."""
    apps.get_model("jobs", "Doorway").objects.update(chosen_by_hand=True)


class Migration(migrations.Migration):
    dependencies = [
        ("jobs", "0004_measuring_on_screen"),
    ]

    operations = [
        migrations.AddField(
            model_name="doorway",
            name="beyond_high_mm",
            field=jobs.models.base.MillimeterField(
                blank=True,
                decimal_places=6,
                max_digits=14,
                null=True,
                verbose_name="height of the floor beyond above the subfloor here",
            ),
        ),
        migrations.AddField(
            model_name="job",
            name="trim_stock",
            field=models.JSONField(
                blank=True, default=list, verbose_name="lengths that trim is bought in"
            ),
        ),
        migrations.RunPython(chosen_so_far, migrations.RunPython.noop),
    ]
