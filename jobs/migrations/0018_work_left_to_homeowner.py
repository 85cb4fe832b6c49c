"""What of a job the homeowner does, told to the crew's days."""

from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("jobs", "0017_material_supplied"),
    ]

    operations = [
        migrations.AddField(
            model_name="job",
            name="left_to_homeowner",
            field=models.JSONField(
                blank=True, default=list, verbose_name="work that the homeowner does"
            ),
        ),
    ]
