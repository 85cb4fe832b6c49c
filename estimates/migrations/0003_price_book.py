"""What a price book row is packed in, covers and is priced by; an old row keeps its meaning.

Until here every price was for one unit of the catalog: for a whole carton, roll, stick, tube or
bag, or for one piece or square foot of what is sold loose.
"""

from django.db import migrations, models

SOLD_LOOSE = ("each", "ft2")


def say_how_packed(apps, schema_editor):
    materials = apps.get_model("estimates", "PriceItem").objects.filter(kind="material")
    materials.filter(unit__in=SOLD_LOOSE).update(per="measure")
    materials.exclude(unit__in=SOLD_LOOSE).update(pack=models.F("unit"))


class Migration(migrations.Migration):

    dependencies = [
        ('estimates', '0002_initial'),
        ('jobs', '0008_spelled_as_the_trade_does'),
    ]

    operations = [
        migrations.AddField(
            model_name='priceitem',
            name='covers',
            field=models.DecimalField(blank=True, decimal_places=3, max_digits=8, null=True, verbose_name='a pack covers or holds'),
        ),
        migrations.AddField(
            model_name='priceitem',
            name='last_seen',
            field=models.DateField(blank=True, null=True),
        ),
        migrations.AddField(
            model_name='priceitem',
            name='our_code',
            field=models.CharField(blank=True, max_length=40, verbose_name='our own code'),
        ),
        migrations.AddField(
            model_name='priceitem',
            name='pack',
            field=models.CharField(blank=True, help_text='such as carton or box', max_length=20),
        ),
        migrations.AddField(
            model_name='priceitem',
            name='per',
            field=models.CharField(choices=[('pack', 'Pack'), ('measure', 'What a pack covers')], default='pack', max_length=8),
        ),
        migrations.AddField(
            model_name='priceitem',
            name='returnable',
            field=models.BooleanField(default=True, verbose_name='full packs can be returned'),
        ),
        migrations.AddField(
            model_name='priceitem',
            name='special_order',
            field=models.BooleanField(default=False),
        ),
        migrations.AddField(
            model_name='priceitem',
            name='supplier',
            field=models.CharField(blank=True, max_length=120),
        ),
        migrations.AddField(
            model_name='priceitem',
            name='tax_class',
            field=models.CharField(blank=True, max_length=60),
        ),
        migrations.AlterField(
            model_name='priceitem',
            name='amount',
            field=models.DecimalField(decimal_places=4, max_digits=12, verbose_name='price'),
        ),
        migrations.AlterField(
            model_name='priceitem',
            name='effective_from',
            field=models.DateField(verbose_name='in force from'),
        ),
        migrations.AddConstraint(
            model_name='priceitem',
            constraint=models.CheckConstraint(condition=models.Q(('covers__isnull', True), ('covers__gt', 0), _connector='OR'), name='price_covers_something'),
        ),
        migrations.AddConstraint(
            model_name='priceitem',
            constraint=models.CheckConstraint(condition=models.Q(('per__in', ['pack', 'measure'])), name='price_per_known'),
        ),
        migrations.RunPython(say_how_packed, migrations.RunPython.noop),
    ]
