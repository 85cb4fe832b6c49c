"""Mail on its way, and work that waits for a moment."""

import django.db.models.deletion
import django.utils.timezone
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ('jobs', '0019_company_letterhead'),
    ]

    operations = [
        migrations.AddField(
            model_name='errand',
            name='not_before',
            field=models.DateTimeField(blank=True, help_text='It waits until then; None: it may begin at once.', null=True),
        ),
        migrations.CreateModel(
            name='Mail',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('kind', models.SlugField(help_text='such as quote or quote-accepted', max_length=40)),
                ('about', models.CharField(help_text='such as quote:12', max_length=80)),
                ('key', models.CharField(max_length=120)),
                ('to', models.EmailField(max_length=254)),
                ('reply_to', models.EmailField(blank=True, max_length=254)),
                ('subject', models.CharField(max_length=200)),
                ('text', models.TextField()),
                ('link_kind', models.SlugField(blank=True, max_length=20)),
                ('link', models.PositiveBigIntegerField(blank=True, null=True, verbose_name='number of the link')),
                ('state', models.CharField(choices=[('queued', 'Queued'), ('sending', 'Sending'), ('sent', 'Sent'), ('failed', 'Failed'), ('unsure', 'Not sure')], default='queued', max_length=8)),
                ('tries', models.PositiveSmallIntegerField(default=0)),
                ('fence', models.PositiveIntegerField(default=0)),
                ('next_try_at', models.DateTimeField(blank=True, null=True)),
                ('error', models.TextField(blank=True, help_text='why it did not go out, for a person')),
                ('posted_at', models.DateTimeField(default=django.utils.timezone.now)),
                ('sent_at', models.DateTimeField(blank=True, null=True)),
                ('noted_at', models.DateTimeField(blank=True, null=True, verbose_name='failure put aside')),
                ('attachment', models.ForeignKey(blank=True, null=True, on_delete=django.db.models.deletion.PROTECT, related_name='+', to='jobs.storedfile')),
                ('company', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='mails', to='jobs.company')),
                ('posted_by', models.ForeignKey(blank=True, null=True, on_delete=django.db.models.deletion.SET_NULL, related_name='+', to=settings.AUTH_USER_MODEL)),
            ],
            options={
                'ordering': ['pk'],
                'indexes': [models.Index(fields=['company', 'about'], name='mail_by_about')],
                'constraints': [models.UniqueConstraint(fields=('company', 'key'), name='mail_posted_once'), models.CheckConstraint(condition=models.Q(('state__in', ['queued', 'sending', 'sent', 'failed', 'unsure'])), name='mail_state_known'), models.CheckConstraint(condition=models.Q(('to', ''), _negated=True), name='mail_has_an_address'), models.CheckConstraint(condition=models.Q(models.Q(('link', None), ('link_kind', '')), models.Q(models.Q(('link_kind', ''), _negated=True), ('link__isnull', False)), _connector='OR'), name='mail_link_whole'), models.CheckConstraint(condition=models.Q(models.Q(('state', 'sent'), _negated=True), ('sent_at__isnull', False), _connector='OR'), name='mail_sent_has_time')],
            },
        ),
    ]
