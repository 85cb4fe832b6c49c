"""What a rip takes beside what a crosscut takes; products that are there lose the same either way."""

from django.db import migrations, models

import jobs.models.base


def with_its_source(apps, schema_editor):
    """Let the rip of a product come from where its cut across comes from."""
    for product in apps.get_model("jobs", "Product").objects.all():
        if source := product.rule_sources.get("saw_kerf_mm"):
            product.rule_sources["rip_kerf_mm"] = source
            product.save(update_fields=["rule_sources"])


def without_source(apps, schema_editor):
    """Take the sources of rips away again."""
    for product in apps.get_model("jobs", "Product").objects.all():
        if product.rule_sources.pop("rip_kerf_mm", ""):
            product.save(update_fields=["rule_sources"])


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
        migrations.RunPython(with_its_source, without_source),
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
