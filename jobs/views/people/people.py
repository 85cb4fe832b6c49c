"""Clients, the company, people and crews."""

from __future__ import annotations

from django.http import HttpResponse
from django.urls import reverse
from django.views.decorators.http import require_safe

from jobs.access import (
    SignedInRequest,
    company_of,
    office,
    owner,
    person_for,
    writable_client_for,
    writable_crew_for,
)
from jobs.domain.days.overtime import overtime_sentences
from jobs.forms.base import sent
from jobs.forms.people import ClientForm, CompanyForm, CrewForm, PersonForm
from jobs.forms.products.carton import sheet_units
from jobs.http import render_page
from jobs.models import User
from jobs.services import people as services
from jobs.services.sign_in.links import LIFE_DAYS
from jobs.views.edit_page import edit_page, edits, initial_of, picked
from jobs.views.list_page import page_of


@require_safe
@office
def client_list(request: SignedInRequest) -> HttpResponse:
    """Every client with the numbers of their jobs, by name."""
    clients = page_of(request, company_of(request).clients.prefetch_related("jobs"))
    return render_page(request, "jobs/people/clients.html", {"clients": clients})


@edits
@office
def client_add(request: SignedInRequest) -> HttpResponse:
    """Take down a new client."""
    company = company_of(request)
    form = ClientForm(sent(request))
    return edit_page(
        request,
        form=form,
        write=lambda: services.add_client(
            company=company,
            user=request.user,
            key=form.once_key,
            values=picked(form, services.CLIENT_FIELDS),
        ),
        done="The client is in the book.",
        to=lambda client: f"{reverse('job-add')}?client={client.pk}",
        context={"title": "New client", "button": "Save the client", "back": "client-list"},
    )


@edits
@office
def client_edit(request: SignedInRequest, pk: int) -> HttpResponse:
    """Change a client."""
    client = writable_client_for(request, pk)
    initial = initial_of(client, services.CLIENT_FIELDS)
    form = ClientForm(sent(request), initial=initial, version=client.version)
    return edit_page(
        request,
        form=form,
        write=lambda: services.change_client(
            client=client,
            user=request.user,
            key=form.once_key,
            expected=form.cleaned_data["version"],
            values=picked(form, services.CLIENT_FIELDS),
        ),
        done="The client is changed.",
        to=lambda _: reverse("client-list"),
        context={"client": client, "any_job": client.jobs.exists()},
        template="jobs/people/client.html",
    )


@edits
@owner
def company(request: SignedInRequest) -> HttpResponse:
    """The particulars of the company, and who works there."""
    company = company_of(request)
    names = tuple(name for name in services.COMPANY_FIELDS if name not in services.MEASURES)
    initial = initial_of(company, names)
    initial |= {"measured_in": company.units, "wall_error": company.wall_error_mm}
    units = sheet_units(sent(request), company.units)
    form = CompanyForm(sent(request), initial=initial, units=units, version=company.version)
    return edit_page(
        request,
        form=form,
        write=lambda: services.change_company(
            company=company,
            user=request.user,
            key=form.once_key,
            expected=form.cleaned_data["version"],
            values=picked(form, names) | form.measures,
        ),
        done="The particulars are changed.",
        to=lambda _: reverse("company"),
        context={"people": company.people.all(), "lines": company.audit_lines.all()[:20]},
        template="jobs/people/company.html",
    )


@edits
@owner
def person_add(request: SignedInRequest) -> HttpResponse:
    """Give a new person a sign-in."""
    company = company_of(request)
    form = PersonForm(sent(request), company=company)
    return edit_page(
        request,
        form=form,
        write=lambda: services.add_person(
            company=company,
            user=request.user,
            key=form.once_key,
            password=form.cleaned_data["password"],
            values=form.values,
        ),
        done="The person is in the book.",
        to=_after_adding,
        context={"title": "New person", "button": "Save the person", "back": "company"},
    )


def _after_adding(person: User) -> str:
    """Return where a new person's page leads: whoever has no password yet needs a link."""
    if person.has_usable_password():
        return reverse("company")
    return reverse("person-edit", args=[person.pk])


@edits
@owner
def person_edit(request: SignedInRequest, pk: int) -> HttpResponse:
    """Change a person, or the person's password."""
    person = person_for(request, pk)
    initial = initial_of(person, services.PERSON_FIELDS)
    form = PersonForm(sent(request), initial=initial, company=company_of(request), person=person)
    return edit_page(
        request,
        form=form,
        write=lambda: services.change_person(
            company=company_of(request),
            person=person,
            user=request.user,
            password=form.cleaned_data["password"],
            values=form.values,
        ),
        done="The person is changed.",
        to=lambda _: reverse("company"),
        context={
            "title": person.name,
            "button": "Save the person",
            "back": "company",
            "person": person,
            "days": LIFE_DAYS,
        },
        template="jobs/people/person.html",
    )


@require_safe
@office
def crew_list(request: SignedInRequest) -> HttpResponse:
    """Every crew and its people."""
    crews = company_of(request).crews.prefetch_related("members")
    return render_page(request, "jobs/people/crews.html", {"crews": crews})


@edits
@office
def crew_add(request: SignedInRequest) -> HttpResponse:
    """Put a new crew together."""
    company = company_of(request)
    form = CrewForm(sent(request), company=company)
    return edit_page(
        request,
        form=form,
        write=lambda: services.add_crew(
            company=company,
            user=request.user,
            key=form.once_key,
            values=picked(form, services.CREW_FIELDS),
            members=form.cleaned_data["members"],
        ),
        done="The crew stands.",
        to=lambda _: reverse("crew-list"),
        context={"title": "New crew", "button": "Save the crew", "back": "crew-list"},
    )


@edits
@office
def crew_edit(request: SignedInRequest, pk: int) -> HttpResponse:
    """Change a crew."""
    crew = writable_crew_for(request, pk)
    initial = initial_of(crew, services.CREW_FIELDS) | {"members": crew.members.all()}
    form = CrewForm(
        sent(request),
        initial=initial,
        version=crew.version,
        company=company_of(request),
        crew=crew,
    )
    return edit_page(
        request,
        form=form,
        write=lambda: services.change_crew(
            crew=crew,
            user=request.user,
            key=form.once_key,
            expected=form.cleaned_data["version"],
            values=picked(form, services.CREW_FIELDS),
            members=form.cleaned_data["members"],
        ),
        done="The crew is changed.",
        to=lambda _: reverse("crew-list"),
        context={
            "title": crew.name,
            "button": "Save the crew",
            "back": "crew-list",
            "sentences": overtime_sentences(crew.hours_per_day),
        },
    )
