"""Production rates know how many closed jobs they were learned from, and what they were before."""

import re

import django.db.models.deletion
from django.conf import settings
from django.db import migrations, models


LEARNED = re.compile(r"learned from (\d{1,6}) jobs?")


def count_the_jobs_behind(apps, schema_editor):
    """A rate taken from the logs said in its source how many jobs taught it."""
    for rate in apps.get_model("jobs", "Rate").objects.filter(source__startswith="learned from"):
        said = LEARNED.fullmatch(rate.source)
        if said:
            rate.jobs = int(said[1])
            rate.save(update_fields=["jobs"])


class Migration(migrations.Migration):

    dependencies = [
        ('jobs', '0012_trim_beside_no_wall'),
    ]

    operations = [
        migrations.AddField(
            model_name='rate',
            name='jobs',
            field=models.PositiveIntegerField(default=0, verbose_name='closed jobs behind it'),
        ),
        migrations.CreateModel(
            name='PastRate',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('task', models.SlugField(max_length=40)),
                ('driver', models.SlugField(max_length=40)),
                ('item', models.CharField(blank=True, max_length=40)),
                ('hours', models.DecimalField(decimal_places=6, max_digits=11)),
                ('per', models.DecimalField(decimal_places=2, max_digits=8)),
                ('source', models.CharField(max_length=160)),
                ('jobs', models.PositiveIntegerField(default=0)),
                ('set_at', models.DateTimeField()),
                ('ended_at', models.DateTimeField(auto_now_add=True)),
                ('company', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='past_rates', to='jobs.company')),
                ('ended_by', models.ForeignKey(null=True, on_delete=django.db.models.deletion.SET_NULL, related_name='+', to=settings.AUTH_USER_MODEL)),
            ],
            options={
                'ordering': ['-ended_at', '-pk'],
                'indexes': [models.Index(fields=['company', 'task', 'driver', 'item'], name='past_rate_of')],
                'constraints': [models.CheckConstraint(condition=models.Q(('hours__gte', 0), ('per__gt', 0)), name='past_rate_not_negative')],
            },
        ),
        migrations.RunPython(count_the_jobs_behind, migrations.RunPython.noop),
    ]
