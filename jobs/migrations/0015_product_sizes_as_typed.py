"""Sizes of a product as they were typed, what its carton prints, and sources by the step."""

from django.db import migrations, models

import jobs.models.base


class Migration(migrations.Migration):
    dependencies = [
        ("jobs", "0014_archive_removals_and_room_notes"),
    ]

    operations = [
        migrations.AddField(
            model_name="product",
            name="covers_ft2",
            field=models.DecimalField(
                blank=True,
                decimal_places=4,
                max_digits=9,
                null=True,
                verbose_name="coverage as printed on the carton, ft2",
            ),
        ),
        migrations.AddField(
            model_name="product",
            name="step_sources",
            field=models.JSONField(blank=True, default=dict),
        ),
        migrations.AddField(
            model_name="product",
            name="typed_sizes",
            field=models.JSONField(blank=True, default=dict, verbose_name="sizes as typed"),
        ),
        migrations.AddField(
            model_name="product",
            name="weight_assumed",
            field=models.BooleanField(
                default=False, verbose_name="carton weight is common practice"
            ),
        ),
        migrations.AlterField(
            model_name="product",
            name="gap_mm",
            field=jobs.models.base.MillimeterField(
                decimal_places=6, max_digits=14, verbose_name="expansion gap"
            ),
        ),
        migrations.AlterField(
            model_name="product",
            name="min_end_mm",
            field=jobs.models.base.MillimeterField(
                decimal_places=6, max_digits=14, verbose_name="minimum end piece"
            ),
        ),
        migrations.AlterField(
            model_name="product",
            name="min_offset_mm",
            field=jobs.models.base.MillimeterField(
                decimal_places=6, max_digits=14, verbose_name="minimum stagger"
            ),
        ),
        migrations.AlterField(
            model_name="product",
            name="min_row_mm",
            field=jobs.models.base.MillimeterField(
                decimal_places=6, max_digits=14, verbose_name="minimum row width"
            ),
        ),
        migrations.AddConstraint(
            model_name="product",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    ("covers_ft2__isnull", True), ("covers_ft2__gt", 0), _connector="OR"
                ),
                name="product_carton_covers_something",
            ),
        ),
    ]
