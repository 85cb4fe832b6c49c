"""Forms of clients, people, crews and the company."""

from __future__ import annotations

import hashlib
from decimal import Decimal
from typing import Unpack

from django import forms
from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.http import QueryDict

from jobs.calendar import HolidayPlace
from jobs.clock import is_time_zone
from jobs.domain.checks import BadValueError, as_sentence
from jobs.domain.floors.walls import MOST_WALL_ERROR_MM
from jobs.forms.base import (
    OVERTAKEN,
    Data,
    FormOptions,
    LengthField,
    OnceForm,
    VersionedForm,
    VersionedOptions,
    text_field,
)
from jobs.forms.rows import RowsField
from jobs.models import (
    ClientKind,
    Company,
    Crew,
    Paper,
    Role,
    UnitSystem,
    User,
)
from jobs.services.records import written_before


def check_time_zone(name: str) -> None:
    """Raise ValidationError for a name that is in no list of time zones."""
    if not is_time_zone(name):
        message = f"“{name}” is no time zone; accepted: a name such as America/Chicago."
        raise ValidationError(message)


class ClientForm(VersionedForm):
    """A homeowner, store or builder."""

    name = text_field("Name", 120, required=True)
    kind = forms.ChoiceField(
        label="Kind", choices=ClientKind.choices, initial=ClientKind.HOMEOWNER, required=False
    )
    phone = text_field("Phone", 40)
    email = forms.EmailField(label="E-mail", required=False)
    address = text_field("Address", 400, rows=3)
    note = text_field("Note", 2000, rows=3)

    def clean_kind(self) -> str:
        """Return the kind; a form that says none is of a homeowner."""
        return self.cleaned_data["kind"] or ClientKind.HOMEOWNER


class PersonForm(OnceForm):
    """A person who signs in. The password may stay empty: it stays, or is set by a link."""

    seen = forms.CharField(required=False, widget=forms.HiddenInput, max_length=16)
    name = text_field("Name", 120, required=True)
    email = forms.EmailField(label="E-mail, to sign in with")
    phone = text_field("Phone", 40)
    role = forms.ChoiceField(label="Role", choices=Role.choices)
    is_active = forms.BooleanField(label="May sign in", required=False, initial=True)
    password = forms.CharField(
        label="Password",
        required=False,
        strip=False,
        help_text="Left empty, it stays; somebody new sets one by a link.",
        widget=forms.PasswordInput(attrs={"autocomplete": "new-password"}),
    )

    def __init__(
        self,
        data: Data = None,
        *,
        company: Company,
        person: User | None = None,
        **options: Unpack[FormOptions],
    ) -> None:
        super().__init__(data, **options)
        self.company, self.person = company, person
        self.fields["seen"].initial = self._now

    @property
    def _now(self) -> str:
        """What stands in the book, in short: whoever saw something else is overtaken."""
        row = self.person
        stands = (row.name, row.email, row.phone, row.role, row.is_active) if row else ()
        return hashlib.sha256(repr(stands).encode()).hexdigest()[:16]

    def clean_seen(self) -> str:
        """Refuse a page that shows what somebody else has changed since."""
        if self.cleaned_data["seen"] in ("", self._now):
            return self._now
        self.overtaken = True
        again = QueryDict(mutable=True)
        again.update(self.data)
        again[self.add_prefix("seen")] = self._now
        self.data = again
        raise ValidationError(OVERTAKEN)

    def clean_email(self) -> str:
        """Refuse an address that somebody signs in with already."""
        email = str(self.cleaned_data["email"]).lower()
        sent_before = written_before(company=self.company, key=self.once_key)
        kept_pk = self.person.pk if self.person else sent_before or 0
        if User.objects.filter(email__iexact=email).exclude(pk=kept_pk).exists():
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
    def values(self) -> dict[str, object]:
        """The cleaned values under the names of the person's fields."""
        names = ("name", "email", "phone", "role", "is_active")
        return {name: self.cleaned_data[name] for name in names}


LEAST_DAY, MOST_DAY = 1, 12
"""Hours that one person works in a day; common practice, no source."""


class CrewForm(VersionedForm):
    """A crew: its name, its people, the hours of its day."""

    name = text_field("Name", 80, required=True)
    hours_per_day = forms.DecimalField(
        label="Hours a day of each person", decimal_places=2, max_digits=4, initial=8
    )
    members = RowsField(
        label="People",
        queryset=User.objects.none(),
        required=False,
        widget=forms.CheckboxSelectMultiple,
    )

    def __init__(
        self,
        data: Data = None,
        *,
        company: Company,
        crew: Crew | None = None,
        **options: Unpack[VersionedOptions],
    ) -> None:
        super().__init__(data, **options)
        self.company, self.crew = company, crew
        members = self.fields["members"]
        if isinstance(members, forms.ModelMultipleChoiceField):
            members.queryset = company.people.filter(is_active=True)

    def clean_hours_per_day(self) -> Decimal:
        """Refuse what nobody works in a day, as the hours of all people together.

        Twelve hours are the most; common practice, no source.
        """
        hours: Decimal = self.cleaned_data["hours_per_day"]
        if not LEAST_DAY <= hours <= MOST_DAY:
            accepted = f"{LEAST_DAY} to {MOST_DAY} hours of one person, not of all together"
            raise ValidationError(f"{hours} h a day can’t be worked; accepted: {accepted}.")
        return hours

    def clean_name(self) -> str:
        """Refuse a name that another crew has."""
        name: str = self.cleaned_data["name"]
        sent_before = written_before(company=self.company, key=self.once_key)
        kept_pk = self.crew.pk if self.crew else sent_before or 0
        if self.company.crews.filter(name=name).exclude(pk=kept_pk).exists():
            message = f"Another crew is called {name}; accepted: a name of its own."
            raise ValidationError(message)
        return name


class CompanyForm(VersionedForm):
    """The particulars that stand on quotes and packets."""

    name = text_field("Company", 120, required=True)
    address = text_field("Address", 400, rows=3)
    phone = text_field("Phone", 40)
    email = forms.EmailField(label="E-mail", required=False)
    license = text_field("License number", 80)
    insurance = text_field("Insurance", 160)
    measured_in = forms.ChoiceField(label="Units of new jobs", choices=UnitSystem.choices)
    paper = forms.ChoiceField(label="Paper", choices=Paper.choices)
    currency = forms.RegexField(
        label="Currency, three letters",
        regex=r"^[A-Z]{3}$",
        error_messages={"invalid": "Accepted: a three-letter code in capitals, such as USD."},
    )
    time_zone = text_field("Time zone", 64, required=True)
    country = forms.CharField(
        label="Holidays of the country",
        max_length=2,
        required=False,
        initial="US",
        help_text="Two letters, such as US or CA. Crews do not work on them.",
    )
    state = forms.CharField(
        label="And of the state or province",
        max_length=8,
        required=False,
        help_text="Its letters, such as TX. Left empty: the holidays of the whole country only.",
    )

    crew_day_hours = forms.DecimalField(
        label="Working hours of a crew's day, all people together",
        min_value=1,
        max_value=200,
        decimal_places=2,
        initial=16,
    )
    trip_hours = forms.DecimalField(
        label="One trip out and home, all people together",
        min_value=0,
        max_value=24,
        decimal_places=2,
        initial=1,
    )
    wall_error = LengthField(
        label="Walls of new floors may stand off by",
        required=False,
        least_mm=Decimal(0),
        most_mm=MOST_WALL_ERROR_MM,
        help_text='Left empty: 1/4", in a metric job 6 mm. Common practice, no source. Floors '
        "that are there keep theirs.",
    )

    @property
    def measures(self) -> dict[str, object]:
        """The unit system and what is measured in it, under the names of the company's fields."""
        wall_error = self.cleaned_data["wall_error"]
        return {
            "units": self.cleaned_data["measured_in"],
            "wall_error_mm": wall_error.mm if wall_error else None,
        }

    def clean_trip_hours(self) -> Decimal:
        """Refuse a trip that eats the day."""
        trip: Decimal = self.cleaned_data["trip_hours"]
        day = self.cleaned_data.get("crew_day_hours")
        if day is not None and trip >= day:
            message = f"{trip} h leaves no work in a day of {day} h; accepted: less than {day}."
            raise ValidationError(message)
        return trip

    def clean_country(self) -> str:
        """Return the country in capitals; nothing typed is the US."""
        return (self.cleaned_data["country"] or "US").strip().upper()

    def clean_state(self) -> str:
        """Return the state in capitals. Refuses a calendar of nowhere, at its field."""
        state: str = self.cleaned_data["state"].strip().upper()
        try:
            HolidayPlace(country=self.cleaned_data.get("country", "US"), state=state)
        except BadValueError as nowhere:
            field = nowhere.field if nowhere.field in self.fields else "state"
            self.add_error(field, as_sentence(nowhere))
        return state

    def clean_time_zone(self) -> str:
        """Refuse a name that is in no list of time zones."""
        name: str = self.cleaned_data["time_zone"]
        check_time_zone(name)
        return name
