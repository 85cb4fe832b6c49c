"""A column that a later release adds to jobs."""

from pathlib import Path

from django.db import migrations, models

import jobs.migrations

NEWEST = max(
    path.stem for folder in jobs.migrations.__path__ for path in Path(folder).glob("0*.py")
)


class Migration(migrations.Migration):
    """Adds a mark that every job of old gets."""

    dependencies = [("jobs", NEWEST)]

    operations = [
        migrations.AddField("job", "later_mark", models.CharField(max_length=9, default="of old")),
    ]
