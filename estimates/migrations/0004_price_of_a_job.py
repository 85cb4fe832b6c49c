"""Sales tax by state, county and city, and what one job's price has of its own.

A company's one rate of tax becomes its state's: together they come to what they came to before.
"""

import django.db.models.deletion
from django.db import migrations, models

class Migration(migrations.Migration):

    dependencies = [
        ('estimates', '0003_price_book'),
        ('jobs', '0011_shades_and_piles'),
    ]

    operations = [
        migrations.RemoveConstraint(
            model_name='priceterms',
            name='terms_tax_sane',
        ),
        migrations.RenameField(
            model_name='priceterms',
            old_name='tax_percent',
            new_name='state_percent',
        ),
        migrations.CreateModel(
            name='JobLine',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('version', models.PositiveIntegerField(default=1, editable=False)),
                ('created_at', models.DateTimeField(auto_now_add=True)),
                ('changed_at', models.DateTimeField(auto_now=True)),
                ('label', models.CharField(max_length=120)),
                ('quantity', models.DecimalField(decimal_places=2, max_digits=9)),
                ('unit', models.CharField(max_length=20)),
                ('unit_cost', models.DecimalField(decimal_places=2, default=0, max_digits=10, verbose_name='cost of one')),
                ('unit_price', models.DecimalField(blank=True, decimal_places=2, max_digits=10, null=True, verbose_name='price of one')),
                ('taxable', models.BooleanField(default=False, verbose_name='taxed as material')),
            ],
            options={
                'ordering': ['pk'],
            },
        ),
        migrations.CreateModel(
            name='JobPrice',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('version', models.PositiveIntegerField(default=1, editable=False)),
                ('created_at', models.DateTimeField(auto_now_add=True)),
                ('changed_at', models.DateTimeField(auto_now=True)),
                ('discount_percent', models.DecimalField(decimal_places=2, default=0, max_digits=5)),
                ('discount_amount', models.DecimalField(decimal_places=2, default=0, max_digits=10)),
                ('discount_reason', models.CharField(blank=True, max_length=120)),
                ('round_to', models.PositiveSmallIntegerField(choices=[(0, 'Not rounded'), (5, 'To the nearest 5'), (10, 'To the nearest 10')], default=0)),
                ('labor_only', models.BooleanField(default=False, verbose_name='the client buys all material')),
            ],
        ),
        migrations.CreateModel(
            name='JobTax',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('version', models.PositiveIntegerField(default=1, editable=False)),
                ('created_at', models.DateTimeField(auto_now_add=True)),
                ('changed_at', models.DateTimeField(auto_now=True)),
                ('state_percent', models.DecimalField(decimal_places=3, default=0, max_digits=6, verbose_name='state tax')),
                ('county_percent', models.DecimalField(decimal_places=3, default=0, max_digits=6, verbose_name='county tax')),
                ('city_percent', models.DecimalField(decimal_places=3, default=0, max_digits=6, verbose_name='city tax')),
                ('labor_taxed', models.BooleanField(default=False, verbose_name='labor on the bill is taxed')),
                ('tax_mode', models.CharField(blank=True, choices=[('consumer', 'Paid when we buy the materials'), ('seller', 'On the bill, on materials'), ('all', 'On the bill, on everything'), ('exempt', 'Exempt, with a certificate')], max_length=8)),
                ('certificate', models.CharField(blank=True, max_length=60, verbose_name='certificate number')),
            ],
            options={
                'verbose_name_plural': 'job taxes',
            },
        ),
        migrations.AddField(
            model_name='priceterms',
            name='city_percent',
            field=models.DecimalField(decimal_places=3, default=0, max_digits=6, verbose_name='city tax'),
        ),
        migrations.AddField(
            model_name='priceterms',
            name='county_percent',
            field=models.DecimalField(decimal_places=3, default=0, max_digits=6, verbose_name='county tax'),
        ),
        migrations.AddField(
            model_name='priceterms',
            name='labor_taxed',
            field=models.BooleanField(default=False, verbose_name='labor on the bill is taxed'),
        ),
        migrations.AlterField(
            model_name='priceterms',
            name='state_percent',
            field=models.DecimalField(decimal_places=3, default=0, max_digits=6, verbose_name='state tax'),
        ),
        migrations.AlterField(
            model_name='priceterms',
            name='tax_mode',
            field=models.CharField(choices=[('consumer', 'Paid when we buy the materials'), ('seller', 'On the bill, on materials'), ('all', 'On the bill, on everything')], default='consumer', max_length=8),
        ),
        migrations.AddConstraint(
            model_name='priceterms',
            constraint=models.CheckConstraint(condition=models.Q(('city_percent__gte', 0), ('city_percent__lte', 30), ('county_percent__gte', 0), ('county_percent__lte', 30), ('state_percent__gte', 0), ('state_percent__lte', 40)), name='terms_tax_sane'),
        ),
        migrations.AddField(
            model_name='jobline',
            name='job',
            field=models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='price_lines', to='jobs.job'),
        ),
        migrations.AddField(
            model_name='jobprice',
            name='job',
            field=models.OneToOneField(on_delete=django.db.models.deletion.CASCADE, related_name='job_price', to='jobs.job'),
        ),
        migrations.AddField(
            model_name='jobtax',
            name='job',
            field=models.OneToOneField(on_delete=django.db.models.deletion.CASCADE, related_name='job_tax', to='jobs.job'),
        ),
        migrations.AddConstraint(
            model_name='jobline',
            constraint=models.CheckConstraint(condition=models.Q(('label', ''), _negated=True), name='line_has_a_name'),
        ),
        migrations.AddConstraint(
            model_name='jobline',
            constraint=models.CheckConstraint(condition=models.Q(('quantity__gt', 0)), name='line_of_something'),
        ),
        migrations.AddConstraint(
            model_name='jobline',
            constraint=models.CheckConstraint(condition=models.Q(('unit_cost__gte', 0)), name='line_cost_not_negative'),
        ),
        migrations.AddConstraint(
            model_name='jobline',
            constraint=models.CheckConstraint(condition=models.Q(('unit_price__isnull', True), ('unit_price__gte', 0), _connector='OR'), name='line_price_not_negative'),
        ),
        migrations.AddConstraint(
            model_name='jobprice',
            constraint=models.CheckConstraint(condition=models.Q(('discount_percent__gte', 0), ('discount_percent__lte', 100)), name='discount_percent_sane'),
        ),
        migrations.AddConstraint(
            model_name='jobprice',
            constraint=models.CheckConstraint(condition=models.Q(('discount_amount__gte', 0)), name='discount_not_negative'),
        ),
        migrations.AddConstraint(
            model_name='jobprice',
            constraint=models.CheckConstraint(condition=models.Q(('discount_percent', 0), ('discount_amount', 0), _connector='OR'), name='discount_said_once'),
        ),
        migrations.AddConstraint(
            model_name='jobprice',
            constraint=models.CheckConstraint(condition=models.Q(models.Q(('discount_amount', 0), ('discount_percent', 0)), models.Q(('discount_reason', ''), _negated=True), _connector='OR'), name='discount_has_a_reason'),
        ),
        migrations.AddConstraint(
            model_name='jobprice',
            constraint=models.CheckConstraint(condition=models.Q(('round_to__in', [0, 5, 10])), name='rounding_known'),
        ),
        migrations.AddConstraint(
            model_name='jobtax',
            constraint=models.CheckConstraint(condition=models.Q(('city_percent__gte', 0), ('city_percent__lte', 30), ('county_percent__gte', 0), ('county_percent__lte', 30), ('state_percent__gte', 0), ('state_percent__lte', 40)), name='job_tax_sane'),
        ),
        migrations.AddConstraint(
            model_name='jobtax',
            constraint=models.CheckConstraint(condition=models.Q(('tax_mode__in', ['', 'consumer', 'seller', 'all', 'exempt'])), name='job_tax_mode_known'),
        ),
        migrations.AddConstraint(
            model_name='jobtax',
            constraint=models.CheckConstraint(condition=models.Q(models.Q(('tax_mode', 'exempt'), _negated=True), models.Q(('certificate', ''), _negated=True), _connector='OR'), name='exempt_by_a_certificate'),
        ),
    ]
