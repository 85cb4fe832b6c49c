"""Forms of clients, jobs, site facts, people, crews and the company."""

from __future__ import annotations

import zoneinfo
from datetime import date
from decimal import Decimal
from typing import Any

from django import forms
from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError

from jobs.forms.base import NumberField, OnceForm, VersionedForm
from jobs.models import (
    Client,
    Company,
    Crew,
    ExistingFloor,
    Job,
    Paper,
    Role,
    Subfloor,
    UnitSystem,
    User,
)
from jobs.services.told import written_before


def _text(label: str, limit: int, *, rows: int = 0, required: bool = False) -> forms.CharField:
    """Return a field of at most ``limit`` characters, of several ``rows`` where given."""
    widget = forms.Textarea(attrs={"rows": rows}) if rows else forms.TextInput()
    return forms.CharField(label=label, max_length=limit, required=required, widget=widget)


class ClientForm(VersionedForm):
    """A homeowner, store or builder."""

    name = _text("Name", 120, required=True)
    phone = _text("Phone", 40)
    email = forms.EmailField(label="E-mail", required=False)
    address = _text("Address", 400, rows=3)
    note = _text("Note", 2000, rows=3)


class JobForm(VersionedForm):
    """A job: for whom, what, where, in which units."""

    client = forms.ModelChoiceField(queryset=Client.objects.none(), label="Client")
    title = _text("What it is", 120, required=True)
    address = _text("Site address", 400, rows=3, required=True)
    # Not called `units`: the form itself keeps the unit system under that name.
    measured_in = forms.ChoiceField(label="Measured in", choices=UnitSystem.choices)

    def __init__(self, *args: Any, company: Company, job: Job | None = None, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.job = job
        clients = self.fields["client"]
        if isinstance(clients, forms.ModelChoiceField):
            clients.queryset = company.clients.all()

    def clean_measured_in(self) -> str:
        """Refuse to change the units under rooms that were measured in the old ones."""
        units: str = self.cleaned_data["measured_in"]
        if self.job and units != self.job.units and self.job.rooms.exists():
            now = self.job.get_units_display()
            message = f"Rooms are measured already; accepted: {now}, or remove the rooms first."
            raise ValidationError(message)
        return units

    @property
    def values(self) -> dict[str, Any]:
        """The cleaned values under the names of the job's fields."""
        data = self.cleaned_data
        return {
            "client": data["client"],
            "title": data["title"],
            "address": data["address"],
            "units": data["measured_in"],
        }


class SiteForm(VersionedForm):
    """What the visit found."""

    year_built = forms.IntegerField(label="Year built", required=False, min_value=1600)
    existing_floor = forms.ChoiceField(
        label="Floor that is down now", choices=ExistingFloor.choices
    )
    floor_year = forms.IntegerField(
        label="Year that floor was put in", required=False, min_value=1600
    )
    tear_out = forms.BooleanField(label="Take the old floor out", required=False)
    subfloor = forms.ChoiceField(label="Subfloor", choices=Subfloor.choices)
    accessible_route = forms.BooleanField(
        label="An accessible route passes here",
        required=False,
        help_text="Level changes are then held to the accessible limits.",
    )
    bag_fills_ft3 = NumberField(
        label="A bag of leveler fills",
        least=Decimal("0.05"),
        most=Decimal(5),
        help_text="The bag says it.",
    )
    heated_floor = forms.BooleanField(label="Heated floor", required=False)
    painted_ft2_per_room = forms.DecimalField(
        label="Painted surface disturbed in one room", min_value=0, max_digits=7, decimal_places=2
    )
    flights = forms.IntegerField(label="Flights of stairs to carry", min_value=0, max_value=60)
    fire_door = forms.BooleanField(label="Fire-rated or self-closing door", required=False)
    gas_appliance = forms.BooleanField(label="Gas appliance on this floor", required=False)
    grinding = forms.BooleanField(
        label="Concrete, stone or tile will be cut or ground", required=False
    )
    access = _text("Parking, door code, saw spot, pets", 2000, rows=3)

    def __init__(self, *args: Any, today: date, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.today = today

    def clean_year_built(self) -> int | None:
        """Refuse a house from the future."""
        return self._not_ahead("year_built")

    def clean_floor_year(self) -> int | None:
        """Refuse a floor from the future."""
        return self._not_ahead("floor_year")

    def _not_ahead(self, name: str) -> int | None:
        year: int | None = self.cleaned_data[name]
        if year is not None and year > self.today.year + 1:
            message = f"{year} lies ahead; accepted: 1600 to {self.today.year + 1}."
            raise ValidationError(message)
        return year


class PersonForm(OnceForm):
    """A person who signs in. The password may stay empty for one who has it already."""

    name = _text("Name", 120, required=True)
    email = forms.EmailField(label="E-mail, to sign in with")
    phone = _text("Phone", 40)
    role = forms.ChoiceField(label="Role", choices=Role.choices)
    is_active = forms.BooleanField(label="May sign in", required=False, initial=True)
    password = forms.CharField(
        label="Password",
        required=False,
        strip=False,
        widget=forms.PasswordInput(attrs={"autocomplete": "new-password"}),
    )

    def __init__(
        self, *args: Any, company: Company, person: User | None = None, **kwargs: Any
    ) -> None:
        super().__init__(*args, **kwargs)
        self.company, self.person = company, person
        self.fields["password"].required = person is None

    def clean_email(self) -> str:
        """Refuse an address that somebody signs in with already."""
        email = str(self.cleaned_data["email"]).lower()
        sent_before = written_before(company=self.company, key=self.once_key)
        own = self.person.pk if self.person else sent_before or 0
        if User.objects.filter(email__iexact=email).exclude(pk=own).exists():
            message = f"Somebody signs in with {email} already; accepted: another address."
            raise ValidationError(message)
        return email

    def clean_password(self) -> str:
        """Refuse a password that is easily guessed."""
        password: str = self.cleaned_data["password"]
        if password:
            validate_password(password, self.person)
        return password

    @property
    def values(self) -> dict[str, Any]:
        """The cleaned values under the names of the person's fields."""
        names = ("name", "email", "phone", "role", "is_active")
        return {name: self.cleaned_data[name] for name in names}


class CrewForm(VersionedForm):
    """A crew: its name, its people, the hours of its day."""

    name = _text("Name", 80, required=True)
    hours_per_day = forms.DecimalField(
        label="Hours a day", min_value=1, max_value=24, decimal_places=2, initial=8
    )
    members = forms.ModelMultipleChoiceField(
        label="People",
        queryset=User.objects.none(),
        required=False,
        widget=forms.CheckboxSelectMultiple,
    )

    def __init__(
        self, *args: Any, company: Company, crew: Crew | None = None, **kwargs: Any
    ) -> None:
        super().__init__(*args, **kwargs)
        self.company, self.crew = company, crew
        members = self.fields["members"]
        if isinstance(members, forms.ModelMultipleChoiceField):
            members.queryset = company.people.filter(is_active=True)

    def clean_name(self) -> str:
        """Refuse a name that another crew has."""
        name: str = self.cleaned_data["name"]
        sent_before = written_before(company=self.company, key=self.once_key)
        own = self.crew.pk if self.crew else sent_before or 0
        if self.company.crews.filter(name=name).exclude(pk=own).exists():
            message = f"Another crew is called {name}; accepted: a name of its own."
            raise ValidationError(message)
        return name


class CompanyForm(VersionedForm):
    """The particulars that stand on quotes and packets."""

    name = _text("Company", 120, required=True)
    address = _text("Address", 400, rows=3)
    phone = _text("Phone", 40)
    email = forms.EmailField(label="E-mail", required=False)
    licence = _text("License number", 80)
    insurance = _text("Insurance", 160)
    measured_in = forms.ChoiceField(label="Units of new jobs", choices=UnitSystem.choices)
    paper = forms.ChoiceField(label="Paper", choices=Paper.choices)
    currency = forms.RegexField(
        label="Currency, three letters",
        regex=r"^[A-Z]{3}$",
        error_messages={"invalid": "Accepted: a three-letter code in capitals, such as USD."},
    )
    time_zone = _text("Time zone", 64, required=True)

    crew_day_hours = forms.DecimalField(
        label="Working hours of a crew's day, all people together",
        min_value=1,
        max_value=200,
        decimal_places=2,
        initial=16,
    )
    trip_hours = forms.DecimalField(
        label="Travel and set-up of one trip, all people together",
        min_value=0,
        max_value=24,
        decimal_places=2,
        initial=1,
    )

    def clean_trip_hours(self) -> Decimal:
        """Refuse a trip that eats the day."""
        trip: Decimal = self.cleaned_data["trip_hours"]
        day = self.cleaned_data.get("crew_day_hours")
        if day is not None and trip >= day:
            message = f"{trip} h leaves no work in a day of {day} h; accepted: less than {day}."
            raise ValidationError(message)
        return trip

    def clean_time_zone(self) -> str:
        """Refuse a name that is in no list of time zones."""
        name: str = self.cleaned_data["time_zone"]
        if name not in zoneinfo.available_timezones():
            message = f"“{name}” is no time zone; accepted: a name such as America/Chicago."
            raise ValidationError(message)
        return name


class ClearHoldForm(OnceForm):
    """The word of a named person that work may go on."""

    by = _text("Cleared by, name", 120, required=True)
    note = _text("What was found, certificate or test number", 1000, rows=3, required=True)
