"""Three columns in the spelling of the pages, and the source of a rule under its column's new name."""

from django.db import migrations, models


def renamed(old, new):
    """Return a step that keeps the sources of the rules under the new name of a column."""

    def rename(apps, schema_editor):
        for product in apps.get_model("jobs", "Product").objects.all():
            if old in product.rule_sources:
                product.rule_sources[new] = product.rule_sources.pop(old)
                product.save(update_fields=["rule_sources"])

    return rename


class Migration(migrations.Migration):

    dependencies = [("jobs", "0007_moisture_readings_in_a_list")]

    operations = [
        migrations.RenameField("company", "licence", "license"),
        migrations.AlterField(
            "company",
            "license",
            models.CharField("license number", max_length=80, blank=True),
        ),
        migrations.AlterField(
            "errand",
            "state",
            models.CharField(
                max_length=10,
                choices=[
                    ("waiting", "Waiting"),
                    ("running", "Running"),
                    ("done", "Done"),
                    ("failed", "Failed"),
                    ("cancelled", "Canceled"),
                ],
                default="waiting",
            ),
        ),
        migrations.RenameField("room", "leveller_bags", "leveler_bags"),
        migrations.RenameField("product", "acclimatise_hours", "acclimate_hours"),
        migrations.RunPython(
            renamed("acclimatise_hours", "acclimate_hours"),
            renamed("acclimate_hours", "acclimatise_hours"),
        ),
    ]
