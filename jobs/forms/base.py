"""What every form shares: lengths as typed, a key that writes once, a version that is checked.

    form = RoomForm(sent(request), units=job.units, version=room.version)
    if form.is_valid():
        saved = form.carry_out(lambda: measure.save_room(..., key=form.once_key))
        if saved is not None:
            return go_to(request, "room-list", job.pk)
    return render_page(request, "jobs/rooms/room.html", {"form": form}, status=form.status)

`carry_out` runs the service and turns its refusal into errors beside the fields, so what was typed
stays; `status` is 200 fresh, 422 refused, 409 overtaken by another save, 503 not written.
"""

from __future__ import annotations

import hashlib
import re
import secrets
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any, TypeAlias, TypedDict, TypeVar, Unpack

from django import forms
from django.core.exceptions import ValidationError
from django.core.files.uploadedfile import UploadedFile
from django.db import DatabaseError, IntegrityError, InterfaceError
from django.http import HttpRequest, QueryDict
from django.utils.datastructures import MultiValueDict

from jobs.domain.checks import BadValueError
from jobs.domain.lengths import length_typed, length_words, millimeters
from jobs.domain.plans.refused import refusal_words
from jobs.forms.refusals import say_plainly
from jobs.forms.versions import version_field
from jobs.models.base import UnitSystem
from jobs.services.records import StaleError
from jobs.unwritten import is_unwritten, trouble_words
from layout.values import units
from layout.values.errors import InputError, LayoutError

T = TypeVar("T")
Data = Mapping[str, object] | None
Files: TypeAlias = "MultiValueDict[str, UploadedFile[bytes]] | None"
# By field what a form made of what was sent: what it is of, each field's own class decides.
Cleaned = dict[str, Any]

_LEAST_MM = Decimal(3)
LONGEST_WALL_MM = Decimal("100000")
_MINUS = ("-", "\u2212")
_ZERO_TYPED = re.compile(r"\s*0+(?:\.0*)?\s*(?:'|\"|[a-z]{0,6})\s*", re.IGNORECASE)


@dataclass(frozen=True, slots=True, kw_only=True)
class TypedLength:
    """A length as it was typed, and what it means in millimeters."""

    text: str
    mm: Decimal


class FieldOptions(TypedDict, total=False):
    """What any field may be given; the framework says what it means."""

    required: bool
    label: str
    help_text: str
    initial: object
    widget: forms.Widget | type[forms.Widget]
    error_messages: dict[str, str]


class FormOptions(TypedDict, total=False):
    """What any form may be given beside what was sent."""

    initial: Mapping[str, object]
    prefix: str | None
    units: str


class VersionedOptions(FormOptions, total=False):
    """What a form that edits a row may be given beside what was sent."""

    version: int


def sent(request: HttpRequest) -> QueryDict | None:
    """Return what a form is bound to: the fields of a POST, also of an empty one, else nothing."""
    return request.POST if request.method == "POST" else None


def files_sent(request: HttpRequest) -> MultiValueDict[str, UploadedFile[bytes]] | None:
    """Return the files that came with a form, None where none was sent."""
    return request.FILES if request.method == "POST" else None


class LengthField(forms.CharField):
    """A length typed in feet and inches or in metric; cleans to a `TypedLength`.

    A bare number is in the unit of ``system``: inches, or millimeters. ``least_mm`` and
    ``most_mm`` are accepted themselves; ``least_mm`` None leaves the sign free. An optional field
    left empty cleans to None. An initial value is typed text, or millimeters as a Decimal.
    """

    def __init__(
        self,
        *,
        system: str = UnitSystem.IMPERIAL,
        least_mm: Decimal | None = _LEAST_MM,
        most_mm: Decimal = LONGEST_WALL_MM,
        **options: Unpack[FieldOptions],
    ) -> None:
        self.least_mm = least_mm
        self.most_mm = most_mm
        super().__init__(max_length=40, **options)
        self.use(system)

    def use(self, system: str) -> None:
        """Take bare numbers in the unit of ``system``, and say so."""
        self.system = system
        self.error_messages["required"] = f"Nothing was typed; {self.accepted()}."

    def accepted(self) -> str:
        """Return what can be typed, in words."""
        if self.system == UnitSystem.METRIC:
            return "accepted: 3.76 m, 376 cm, 3760 (millimeters), or 12' 4 1/2\""
        return "accepted: 12' 4 1/2\", 148.5 (inches), 3.76 m or 376 cm"

    def prepare_value(self, value: object) -> object:
        """Return text for the control: typed text as it is, millimeters as if they were typed."""
        return length_typed(value, self.system) if isinstance(value, Decimal) else value

    def clean(self, value: object) -> TypedLength | None:
        """Return the typed length. Raises ValidationError with the value and what is accepted."""
        text = super().clean(value)
        return self._measured(text) if text else None

    def _measured(self, text: str) -> TypedLength:
        mm = self._millimeters(text)
        if self.least_mm is not None and mm < self.least_mm:
            least = length_words(self.least_mm, self.system)
            raise ValidationError(f"“{text}” is too short; accepted: {least} or more.")
        if abs(mm) > self.most_mm:
            most = length_words(self.most_mm, self.system)
            raise ValidationError(f"“{text}” is too long; accepted: up to {most}.")
        return TypedLength(text=text, mm=mm)

    def _millimeters(self, text: str) -> Decimal:
        """Return what a text means, zero and less than zero included."""
        sign, size = (-1, text[1:]) if text[:1] in _MINUS else (1, text)
        if _ZERO_TYPED.fullmatch(size):
            return Decimal(0)
        bare = units.Unit("mm" if self.system == UnitSystem.METRIC else "in")
        try:
            return sign * millimeters(units.parse_length(size, bare=bare).mm)
        except InputError as bad:
            if bad.accepted.startswith("more than"):
                raise ValidationError(f"“{text}” is too long; accepted: {bad.accepted}.") from None
            raise ValidationError(f"“{text}” is no length; {self.accepted()}.") from None


class NameField(forms.CharField):
    """A short text that must not be empty; blanks at its ends are dropped."""

    def __init__(self, *, max_length: int = 80, **options: Unpack[FieldOptions]) -> None:
        accepted = f"accepted: a text of up to {max_length} characters."
        super().__init__(max_length=max_length, **options)
        self.error_messages["required"] = f"Nothing was typed; {accepted}"


class WholeField(forms.IntegerField):
    """A whole number within bounds, refused with what was typed and what is accepted."""

    def __init__(
        self,
        *,
        least: int,
        most: int,
        of: str = "a whole number",
        **options: Unpack[FieldOptions],
    ) -> None:
        super().__init__(**options)
        self.least, self.most, self.of = least, most, of
        self.error_messages["required"] = f"Nothing was typed; {self.accepted()}."

    def accepted(self) -> str:
        """Return what can be typed, in words."""
        return f"accepted: {self.of} from {self.least} to {self.most}"

    def to_python(self, value: object) -> int | None:
        """Return the number, or None. Raises ValidationError naming what was typed."""
        try:
            number = super().to_python(value)
        except ValidationError:
            raise ValidationError(f"“{value}” can't be used; {self.accepted()}.") from None
        if number is not None and not self.least <= number <= self.most:
            raise ValidationError(f"{number} can't be used; {self.accepted()}.")
        return number


class NumberField(forms.DecimalField):
    """A decimal number within bounds, refused with what was typed and what is accepted."""

    widget = forms.TextInput

    def __init__(
        self,
        *,
        least: Decimal,
        most: Decimal,
        places: int = 2,
        **options: Unpack[FieldOptions],
    ) -> None:
        super().__init__(**options)
        self.least, self.most, self.places = least, most, places
        self.error_messages["required"] = f"Nothing was typed; {self.accepted()}."

    def accepted(self) -> str:
        """Return what can be typed, in words."""
        return f"accepted: a number from {self.least} to {self.most}"

    # Any: the stubs take the framework's field for one of whole numbers.
    def to_python(self, value: object) -> Any:
        """Return the number to so many places, or None. Raises ValidationError naming the text."""
        try:
            number = super().to_python(value)
        except ValidationError:
            number = Decimal("NaN")
        if number is None:
            return None
        if not number.is_finite() or not self.least <= number <= self.most:
            raise ValidationError(f"“{value}” can't be used; {self.accepted()}.")
        return round(number, self.places)


class PlainForm(forms.Form):
    """A form that knows the unit system and can carry out a write or tell why it was refused."""

    overtaken = unwritten = False

    def __init__(
        self,
        data: Data = None,
        files: Files = None,
        *,
        initial: Mapping[str, object] | None = None,
        prefix: str | None = None,
        units: str = UnitSystem.IMPERIAL,
    ) -> None:
        super().__init__(data, files, initial=dict(initial or {}), prefix=prefix, label_suffix="")
        self.units = units
        for field in self.fields.values():
            say_plainly(field)
            if isinstance(field, LengthField):
                field.use(units)

    @property
    def status(self) -> int:
        """Status of the page with this form: 200, 409 overtaken, 422 refused, 503 not written."""
        if self.overtaken or self.unwritten:
            return 409 if self.overtaken else 503
        return 422 if self.is_bound and self.errors else 200

    def carry_out(self, write: Callable[[], T]) -> T | None:
        """Return what ``write`` returns, or None where it refused; the form then says why."""
        try:
            return write()
        except StaleError as stale:
            self._note_overtaken(stale)
        except BadValueError as bad:
            self._refuse(bad.field, str(bad))
        except LayoutError as bad:
            field = bad.field if isinstance(bad, InputError) else ""
            said = str(bad) if field in self.fields else refusal_words(bad)
            self._refuse(field, said)
        except ValidationError as bad:
            self.add_error(None, bad)
        except IntegrityError:
            self.add_error(None, _EXCLUDED)
        except (DatabaseError, InterfaceError, OSError) as trouble:
            if not is_unwritten(trouble):
                raise
            self.unwritten = True
            self.add_error(None, trouble_words(trouble))
        return None

    def _refuse(self, field: str, sentence: str) -> None:
        self.add_error(field if field in self.fields else None, sentence)

    def _note_overtaken(self, stale: StaleError) -> None:
        """Say what changed, and let the next sending of this form be the one that counts."""
        self.overtaken = True
        self.add_error(None, ValidationError([OVERTAKEN, *stale.changes]))
        if "version" in self.fields:
            data = QueryDict(mutable=True)
            data.update(self.data)
            data[self.add_prefix("version")] = str(stale.current.version)
            self.data = data


class OnceForm(PlainForm):
    """A form with a hidden key: sent twice, it writes once (`once_key` goes to the service)."""

    key = forms.CharField(
        max_length=64,
        widget=forms.HiddenInput,
        initial=lambda: secrets.token_urlsafe(16),
        error_messages={"required": "This form came without its key; open the page again."},
    )

    @property
    def once_key(self) -> str:
        """The key of this very content: changed and sent again, the form is another write."""
        sent = self.data if isinstance(self.data, QueryDict) else MultiValueDict()
        content = sorted((name, sent.getlist(name)) for name in sent if name not in _UNTOLD)
        return hashlib.sha256(repr(content).encode()).hexdigest()


class VersionedForm(OnceForm):
    """A form that edits a row: carries the version the person saw."""

    version = version_field()

    def __init__(
        self,
        data: Data = None,
        files: Files = None,
        *,
        version: int = 1,
        **options: Unpack[FormOptions],
    ) -> None:
        super().__init__(data, files, **options)
        self.fields["version"].initial = version


OVERTAKEN = (
    "Somebody else saved this meanwhile. What you typed is still here; "
    "save again to put it in place of theirs."
)
_EXCLUDED = (
    "Somebody saved something at the same moment that excludes this. Open the page again to see "
    "it; what you typed is still here."
)
_UNTOLD = frozenset({"csrfmiddlewaretoken"})


def text_field(label: str, limit: int, *, rows: int = 0, required: bool = False) -> forms.CharField:
    """Return a field of at most ``limit`` characters, of several ``rows`` where given."""
    widget = forms.Textarea(attrs={"rows": rows}) if rows else forms.TextInput()
    return forms.CharField(label=label, max_length=limit, required=required, widget=widget)
