"""The parts of the set-up, in the order of need."""

from __future__ import annotations

from decimal import Decimal
from typing import ClassVar

from django import forms

from estimates.domain.setup.parts import require_parts
from estimates.forms.fields import LARGEST_AMOUNT
from estimates.forms.setup.base import SetupForm, SetupRows
from estimates.forms.setup.zones import zone_choices
from estimates.models import PaymentStages, QuoteNumbering
from estimates.models.sales_terms import MOST_LATE_FEE, MOST_WARRANTY_MONTHS, STATES
from jobs.domain.checks import BadValueError
from jobs.forms.base import Cleaned, Data, NameField, NumberField, WholeField, text_field

LONGEST_TEXT = 4000
HIGHEST_JOB_NUMBER = 999_999


def _number(
    label: str, most: Decimal | int, *, required: bool = True, help_text: str = ""
) -> NumberField:
    return NumberField(
        label=label,
        least=Decimal(0),
        most=Decimal(most),
        required=required,
        help_text=help_text,
        widget=forms.TextInput(attrs={"inputmode": "decimal", "autocomplete": "off"}),
    )


def _words(label: str, rows: int = 3, help_text: str = "") -> forms.CharField:
    field = text_field(label, LONGEST_TEXT, rows=rows)
    field.help_text = help_text
    return field


class ContactForm(SetupForm):
    """Who sends the quote, and how the homeowner answers."""

    part: ClassVar[str] = "contact"
    title: ClassVar[str] = "Name and address"
    kept = {"company": ("name", "address", "phone", "email", "time_zone")}

    name = NameField(label="Company", max_length=120)
    address = text_field("Address", 400, rows=3)
    phone = text_field("Phone", 40)
    email = forms.EmailField(label="E-mail", required=False)
    time_zone = forms.ChoiceField(
        label="Time zone", help_text="Days and hours on every page and quote are told in it."
    )

    def __init__(self, rows: SetupRows, data: Data = None) -> None:
        super().__init__(rows, data)
        choices: list[object] = list(zone_choices())
        known = {name for _, zones in zone_choices() for name, _ in zones}
        if rows.company.time_zone not in known:
            choices.insert(0, ("", "Choose the time zone"))
        self.fields["time_zone"].choices = choices  # type: ignore[attr-defined]
        self.fields["phone"].widget.attrs |= {"type": "tel", "autocomplete": "tel"}
        self.fields["address"].help_text = "Needed before a quote can be sent."
        self.fields["phone"].help_text = "This or an e-mail address is needed for it too."


class LicenseForm(SetupForm):
    """What shows that the company may do the work and is insured."""

    part: ClassVar[str] = "license"
    title: ClassVar[str] = "License and insurance"
    kept = {"company": ("license", "registration", "insurance")}

    license = text_field("License number", 80)
    registration = text_field("Registration number", 80)
    insurance = text_field("Insurance", 160)

    def __init__(self, rows: SetupRows, data: Data = None) -> None:
        super().__init__(rows, data)
        self.fields["registration"].help_text = "As a home improvement contractor, where asked for."
        self.fields["insurance"].help_text = "Insurer and policy, as they are to be printed."


class LawForm(SetupForm):
    """Where the company works, and which papers the law there asks of it."""

    part: ClassVar[str] = "law"
    title: ClassVar[str] = "State and law"
    kept = {"sales": ("state", "cancel_right", "lead_certificate", "lead_pamphlet")}

    state = forms.ChoiceField(
        label="State",
        choices=(("", "Not chosen"), *STATES),
        required=False,
        help_text="Its rule on deposits is held against yours. The law there decides, not Rowbook.",
    )
    cancel_right = forms.BooleanField(
        label="Print the right to cancel a sale at home",
        required=False,
        help_text="The sentence beside the signature and the notice, twice (16 CFR 429.1).",
    )
    lead_certificate = text_field("Lead-safe firm certificate", 80)
    lead_pamphlet = _words(
        "Lead pamphlet that you hand over", 2, "For houses built before 1978 (40 CFR 745)."
    )

    def __init__(self, rows: SetupRows, data: Data = None) -> None:
        super().__init__(rows, data)
        self.fields["lead_certificate"].help_text = "Your firm's number, as on the certificate."


class PaymentWaysForm(SetupForm):
    """What is paid when, and how."""

    part: ClassVar[str] = "payment"
    title: ClassVar[str] = "Payment"
    kept = {
        "price": ("deposit_percent",),
        "sales": (
            *("deposit_dollars", "deposit_adds_special_order", "payment_stages"),
            *("progress_percent", "payment_ways", "late_fee_percent", "late_fee_words"),
        ),
    }

    deposit_percent = _number("Deposit, % of the total", 100)
    deposit_dollars = _number(
        "Deposit at most, dollars",
        LARGEST_AMOUNT,
        required=False,
        help_text="The lower of the two is asked for. Left empty: no limit of your own.",
    )
    deposit_adds_special_order = forms.BooleanField(
        label="Add special-order material to the deposit", required=False
    )
    payment_stages = forms.ChoiceField(label="Paid in", choices=PaymentStages.choices)
    progress_percent = _number(
        "When half of the floor is down, %",
        100,
        required=False,
        help_text="Of the total; only where a part is paid half way.",
    )
    payment_ways = _words("Ways to pay", 2, "Such as: check to our name, card, bank transfer.")
    late_fee_percent = _number("Late fee, % a month", MOST_LATE_FEE, required=False)
    late_fee_words = _words("Late fee in words", 2, "Left empty: the percent alone is printed.")

    def __init__(self, rows: SetupRows, data: Data = None) -> None:
        super().__init__(rows, data)
        for name in ("progress_percent", "late_fee_percent"):
            if self.initial[name] == "0":
                self.initial[name] = ""

    def clean_late_fee_percent(self) -> Decimal:
        """Return the fee; left empty there is none."""
        return self.cleaned_data["late_fee_percent"] or Decimal(0)

    def clean(self) -> Cleaned:
        """Refuse parts that come to more than the whole, and one that is missing."""
        cleaned = super().clean() or {}
        if not {"deposit_percent", "payment_stages", "progress_percent"} <= cleaned.keys():
            return cleaned
        staged = cleaned["payment_stages"] == PaymentStages.DEPOSIT_PROGRESS_REST
        progress = (cleaned["progress_percent"] or Decimal(0)) if staged else Decimal(0)
        cleaned["progress_percent"] = progress
        if staged and not progress:
            message = "Nothing is paid half way; accepted: more than 0 and up to 100."
            self.add_error("progress_percent", message)
            return cleaned
        try:
            require_parts(cleaned["deposit_percent"], progress)
        except BadValueError as bad:
            message = f"{bad.value} can't be used; accepted: {bad.accepted}."
            self.add_error("progress_percent", message)
        return cleaned


class TermsPartForm(SetupForm):
    """What every quote promises, leaves out, and how long it holds."""

    part: ClassVar[str] = "terms"
    title: ClassVar[str] = "Terms and warranty"
    kept = {
        "price": ("valid_days", "terms", "exclusions"),
        "sales": ("warranty_months", "warranty_words", "changes_words", "arrives_at"),
    }

    valid_days = WholeField(label="Quote holds, days", least=1, most=365, of="days")
    arrives_at = forms.TimeField(
        label="Crew arrives at",
        widget=forms.TimeInput(attrs={"type": "time"}, format="%H:%M"),
        error_messages={
            "required": "No hour was given; accepted: an hour written as 08:30.",
            "invalid": "This is no hour of the day; accepted: an hour written as 08:30.",
        },
    )
    terms = _words("Terms", 4)
    exclusions = _words("Not included", 3)
    changes_words = _words("How changes are agreed", 3)
    warranty_months = WholeField(
        label="Warranty of the work, months",
        least=0,
        most=MOST_WARRANTY_MONTHS,
        of="whole months",
        help_text="0: none is promised.",
    )
    warranty_words = _words("Warranty in words", 3, "What you put right, and what you don't.")


class NumbersForm(SetupForm):
    """How quotes are numbered, and from where jobs are counted on."""

    part: ClassVar[str] = "numbers"
    title: ClassVar[str] = "Numbers"
    kept = {"sales": ("numbering",)}

    numbering = forms.ChoiceField(
        label="Quotes are numbered by",
        choices=QuoteNumbering.choices,
        help_text="A further quote of the same job: 4-2, or 2026-004-2.",
    )
    next_job = WholeField(
        label="Next job has number", least=1, most=HIGHEST_JOB_NUMBER, required=False
    )

    def __init__(self, rows: SetupRows, data: Data = None) -> None:
        super().__init__(rows, data)
        goes_on = f"Left empty: numbers go on, {rows.company.next_job_number} comes next."
        self.fields["next_job"].help_text = goes_on

    def _refuse(self, field: str, sentence: str) -> None:
        """Say at the number why it can't be the next, in the words of the form."""
        said = sentence.removeprefix("next_job is ")
        super()._refuse(field, sentence if said == sentence else f"Not {said}")
