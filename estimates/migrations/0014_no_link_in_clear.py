"""The words of links are kept no more: only their hashes are, in a table of their own."""

from django.db import migrations


class Migration(migrations.Migration):

    dependencies = [
        ('estimates', '0013_quote_links'),
    ]

    operations = [
        migrations.RemoveConstraint(
            model_name='quote',
            name='quote_has_a_token',
        ),
        migrations.RemoveField(
            model_name='quote',
            name='token',
        ),
    ]
