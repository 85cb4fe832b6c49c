"""Shades of several widths, shades whose mix nobody knows, and planks counted in open cartons."""

from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [("jobs", "0010_rip_kerf")]

    operations = [
        migrations.AddField(
            "product",
            "shades",
            models.PositiveSmallIntegerField(
                "shades mixed in a carton, how many", null=True, blank=True
            ),
        ),
        migrations.AddConstraint(
            "product",
            models.CheckConstraint(
                condition=models.Q(
                    ("shades__isnull", True), ("shades__range", (2, 26)), _connector="OR"
                ),
                name="product_shades_by_letter",
            ),
        ),
        migrations.AlterField(
            "floorzone",
            "prefer",
            models.CharField(
                choices=[
                    ("planks", "Fewest planks"),
                    ("cartons", "Looks, then fewer cuts, with what the last carton leaves"),
                ],
                default="planks",
                max_length=7,
            ),
        ),
        migrations.AddField(
            "floorzone",
            "piles",
            models.JSONField("counted piles", default=list, blank=True),
        ),
    ]
