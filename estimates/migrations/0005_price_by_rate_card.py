"""What makes a price, by company and by job; a rate of the card may begin with a material's price.

A bag of leveler has a price that we pay and one that we charge, both from the same day.
"""

from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ('estimates', '0004_price_of_a_job'),
        ('jobs', '0011_shades_and_piles'),
    ]

    operations = [
        migrations.RemoveConstraint(
            model_name='priceitem',
            name='price_once_a_date',
        ),
        migrations.AddField(
            model_name='jobprice',
            name='method',
            field=models.CharField(blank=True, choices=[('cost', 'Hours and material, with overhead and margin'), ('rates', 'The rate card')], max_length=5, verbose_name='priced by'),
        ),
        migrations.AddField(
            model_name='priceterms',
            name='method',
            field=models.CharField(choices=[('cost', 'Hours and material, with overhead and margin'), ('rates', 'The rate card')], default='cost', max_length=5, verbose_name='jobs are priced by'),
        ),
        migrations.AddConstraint(
            model_name='jobprice',
            constraint=models.CheckConstraint(condition=models.Q(('method__in', ['', 'cost', 'rates'])), name='job_method_known'),
        ),
        migrations.AddConstraint(
            model_name='priceitem',
            constraint=models.UniqueConstraint(fields=('company', 'kind', 'code', 'item', 'effective_from'), name='price_once_a_date'),
        ),
        migrations.AddConstraint(
            model_name='priceterms',
            constraint=models.CheckConstraint(condition=models.Q(('method__in', ['cost', 'rates'])), name='terms_method_known'),
        ),
    ]
