from django.db import migrations, models

import jobs.models.user


def give_each_their_own(apps, schema_editor):
    """Give everybody who is there a seal of their own."""
    user = apps.get_model("jobs", "User")
    for key in user.objects.filter(log_seal="").values_list("pk", flat=True):
        user.objects.filter(pk=key).update(log_seal=jobs.models.user.fresh_seal())


class Migration(migrations.Migration):

    dependencies = [
        ("jobs", "0037_how_long_things_are_kept"),
    ]

    operations = [
        migrations.AddField(
            model_name="user",
            name="log_seal",
            field=models.CharField(default="", editable=False, max_length=44),
            preserve_default=False,
        ),
        migrations.RunPython(give_each_their_own, migrations.RunPython.noop),
        migrations.AlterField(
            model_name="user",
            name="log_seal",
            field=models.CharField(default=jobs.models.user.fresh_seal, editable=False, max_length=44),
        ),
    ]
