from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ('jobs', '0005_doorway_heights_and_trim_stock'),
    ]

    operations = [
        migrations.AddField(
            model_name='room',
            name='edges',
            field=models.JSONField(blank=True, default=list),
        ),
    ]
