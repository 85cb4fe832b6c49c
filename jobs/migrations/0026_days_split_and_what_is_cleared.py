
from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ('jobs', '0025_living_in_the_house'),
    ]

    operations = [
        migrations.RemoveConstraint(
            model_name='dayschange',
            name='days_change_kind_known',
        ),
        migrations.AddField(
            model_name='dayschange',
            name='split',
            field=models.JSONField(blank=True, default=dict),
        ),
        migrations.AddField(
            model_name='sitefacts',
            name='aquarium',
            field=models.CharField(blank=True, max_length=120, verbose_name='aquarium: which and where'),
        ),
        migrations.AddField(
            model_name='sitefacts',
            name='electronics',
            field=models.CharField(blank=True, max_length=200, verbose_name='electronics: which and where'),
        ),
        migrations.AddField(
            model_name='sitefacts',
            name='pets',
            field=models.CharField(blank=True, max_length=200, verbose_name='pets: which and where kept'),
        ),
        migrations.AddField(
            model_name='sitefacts',
            name='piano',
            field=models.CharField(blank=True, max_length=120, verbose_name='piano: which and where'),
        ),
        migrations.AlterField(
            model_name='dayschange',
            name='kind',
            field=models.CharField(choices=[('lost', 'Lost day'), ('moved', 'Move'), ('held', 'Hold to a date'), ('split', 'Split')], max_length=5),
        ),
        migrations.AlterField(
            model_name='sitefacts',
            name='access',
            field=models.TextField(blank=True, verbose_name='door code, keys'),
        ),
        migrations.AddConstraint(
            model_name='dayschange',
            constraint=models.CheckConstraint(condition=models.Q(('kind__in', ['lost', 'moved', 'held', 'split'])), name='days_change_kind_known'),
        ),
    ]
