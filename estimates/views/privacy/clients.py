"""Pages of the data of one client: what is kept, handed over, erased."""

from __future__ import annotations

from django.http import HttpResponse
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe

from estimates.services.privacy.erasing import erase_client, open_jobs
from estimates.services.privacy.handing_over import archive_of, handed_over
from jobs.access import SignedInRequest, owner, writable_client_for
from jobs.http import render_page
from jobs.views.edit_page import confirm_page, edits

_STAYS = (
    "Quotes, change orders, invoices, payments and completion slips stay as they were issued, with "
    "the names in them: tax law and the warranty may ask for them for years."
)
_GOES = (
    "Name, address, phone, e-mail and notes, the site facts with the way in, photographs and notes "
    "of rooms, packets, mails, what was asked and answered: all of it goes."
)
_LINKS = "Links to quotes, change orders and the floor passport open nothing any more."
_STAYS_ROOMS = "Rooms, plans, days and hours stay without a name."
_BACKUPS = (
    "Backups made before still have it until they are removed: the oldest are a year old. "
    "After a restore, erase again."
)


@require_safe
@owner
def client_data(request: SignedInRequest, pk: int) -> HttpResponse:
    """What is kept of a client, in numbers, to be handed over or erased."""
    client = writable_client_for(request, pk)
    kinds = [(one.title.capitalize(), one.rows.count()) for one in handed_over(client)]
    context = {
        "client": client,
        "kinds": [(title, count) for title, count in kinds if count],
        "open_jobs": open_jobs(client),
    }
    return render_page(request, "estimates/privacy/client.html", context)


@require_POST
@owner
def client_data_file(request: SignedInRequest, pk: int) -> HttpResponse:
    """Hand out the file with all that is kept of a client."""
    client = writable_client_for(request, pk)
    answer = HttpResponse(
        archive_of(client=client, user=request.user), content_type="application/zip"
    )
    answer["Content-Disposition"] = f'attachment; filename="client-{client.pk}.zip"'
    return answer


@edits
@owner
def client_erase(request: SignedInRequest, pk: int) -> HttpResponse:
    """Erase a client, after saying what goes and what stays."""
    client = writable_client_for(request, pk)
    return confirm_page(
        request,
        title=f"Erase {client.name}",
        sentence="This can't be undone.",
        consequences=(_GOES, _LINKS, _STAYS_ROOMS, _STAYS, _BACKUPS),
        action=f"Erase {client.name}",
        write=lambda: erase_client(client=client, user=request.user),
        done="The client is erased.",
        to=reverse("client-list"),
        back=reverse("client-data", args=[pk]),
    )
