"""Links are kept by their hash; those already sent go on working."""

import secrets

import django.db.models.deletion
import django.utils.timezone
from django.conf import settings
from django.db import migrations, models

from jobs.domain.link_token import link_token, token_hash


def hash_links(apps, schema_editor):
    """Keep the hash of every word that was sent, and give each quote a link whose word is computed."""
    links = apps.get_model("estimates", "QuoteLink").objects
    for quote in apps.get_model("estimates", "Quote").objects.order_by("pk").iterator():
        links.create(quote=quote, version=0, token_hash=token_hash(quote.token), made_at=quote.issued_at)
        link = links.create(quote=quote, version=1, token_hash=secrets.token_hex(32))
        link.token_hash = token_hash(
            link_token(settings.SECRET_KEY, purpose="quote", link=link.pk, version=1)
        )
        link.save()


class Migration(migrations.Migration):

    dependencies = [
        ('estimates', '0012_quote_drafts_and_choices'),
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    ]

    operations = [
        migrations.CreateModel(
            name='QuoteEvent',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('kind', models.CharField(choices=[('mailed', 'Mailed'), ('texted', 'Texted'), ('seen', 'Seen'), ('asked', 'Asked'), ('answered', 'Answered'), ('accepted', 'Accepted'), ('declined', 'Declined'), ('link renewed', 'Link renewed')], max_length=12)),
                ('at', models.DateTimeField(default=django.utils.timezone.now)),
                ('name', models.CharField(blank=True, max_length=200)),
                ('text', models.TextField(blank=True)),
                ('choice', models.CharField(blank=True, max_length=60)),
                ('ip', models.CharField(blank=True, max_length=45, verbose_name='from the address')),
                ('agent', models.CharField(blank=True, max_length=300, verbose_name='with the browser')),
                ('noted_at', models.DateTimeField(blank=True, null=True)),
            ],
            options={
                'ordering': ['at', 'pk'],
            },
        ),
        migrations.CreateModel(
            name='QuoteLink',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('version', models.PositiveIntegerField(default=1)),
                ('token_hash', models.CharField(max_length=64, unique=True)),
                ('expires_on', models.DateField(blank=True, null=True, verbose_name='opens the quote until')),
                ('revoked_at', models.DateTimeField(blank=True, null=True)),
                ('made_at', models.DateTimeField(default=django.utils.timezone.now)),
            ],
            options={
                'ordering': ['pk'],
            },
        ),
        migrations.AddField(
            model_name='quoteevent',
            name='question',
            field=models.ForeignKey(null=True, on_delete=django.db.models.deletion.CASCADE, related_name='answers', to='estimates.quoteevent'),
        ),
        migrations.AddField(
            model_name='quoteevent',
            name='quote',
            field=models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='events', to='estimates.quote'),
        ),
        migrations.AddField(
            model_name='quoteevent',
            name='user',
            field=models.ForeignKey(null=True, on_delete=django.db.models.deletion.SET_NULL, related_name='+', to=settings.AUTH_USER_MODEL),
        ),
        migrations.AddField(
            model_name='quotelink',
            name='quote',
            field=models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='links', to='estimates.quote'),
        ),
        migrations.AddField(
            model_name='quoteevent',
            name='link',
            field=models.ForeignKey(null=True, on_delete=django.db.models.deletion.SET_NULL, related_name='+', to='estimates.quotelink'),
        ),
        migrations.AddConstraint(
            model_name='quotelink',
            constraint=models.UniqueConstraint(condition=models.Q(('version__gte', 1)), fields=('quote',), name='quote_link_that_counts'),
        ),
        migrations.AddConstraint(
            model_name='quotelink',
            constraint=models.CheckConstraint(condition=models.Q(('token_hash', ''), _negated=True), name='quote_link_has_a_hash'),
        ),
        migrations.AddIndex(
            model_name='quoteevent',
            index=models.Index(fields=['kind', 'noted_at'], name='quote_event_to_note'),
        ),
        migrations.AddConstraint(
            model_name='quoteevent',
            constraint=models.CheckConstraint(condition=models.Q(('kind__in', ['mailed', 'texted', 'seen', 'asked', 'answered', 'accepted', 'declined', 'link renewed'])), name='quote_event_known'),
        ),
        migrations.AddConstraint(
            model_name='quoteevent',
            constraint=models.UniqueConstraint(condition=models.Q(('kind__in', ['seen', 'accepted', 'declined'])), fields=('quote', 'kind'), name='quote_event_once'),
        ),
        migrations.AddConstraint(
            model_name='quoteevent',
            constraint=models.CheckConstraint(condition=models.Q(models.Q(('kind__in', ['asked', 'answered']), _negated=True), models.Q(('text', ''), _negated=True), _connector='OR'), name='quote_event_has_words'),
        ),
        migrations.RunPython(hash_links, migrations.RunPython.noop),
    ]
