"""Forms for templates: fields with help and errors tied to them, what was refused, buttons."""

from __future__ import annotations

from django import template
from django.forms import BaseForm
from django.forms.boundfield import BoundField
from django.forms.formsets import BaseFormSet
from django.forms.widgets import CheckboxInput
from django.template import Context
from django.utils.html import format_html
from django.utils.safestring import SafeString

from jobs.domain import figures
from jobs.templatetags.look_sources import note_practice
from jobs.templatetags.part_context import PartContext, Shown

register = template.Library()


@register.inclusion_tag("parts/field.html", takes_context=True)
def field(
    context: Context,
    bound: BoundField,
    *,
    unit: str = "",
    help: str = "",  # noqa: A002
    label: str = "",
    width: str = "",
    **attrs: Shown,
) -> PartContext:
    """A labelled control with its unit, help and errors, tied together for a screen reader.

    `width` is "short", "wide" or nothing. Further arguments become attributes of the control, an
    underscore becoming a hyphen: `inputmode="decimal" hx_get=url`.
    """
    kind = _kind(bound)
    help_text = note_practice(context, help or str(bound.help_text))
    described = _described_by(bound, unit=unit, help_text=help_text)
    control_attrs = {name.replace("_", "-"): value for name, value in attrs.items()}
    if described and kind != "group":
        control_attrs["aria-describedby"] = described
    return {
        "bound": bound,
        "kind": kind,
        "label": label or bound.label,
        "optional": not bound.field.required,
        "unit": figures.unit_sign(unit),
        "help_text": help_text,
        "width": width,
        "described": described,
        "control": bound.as_widget(attrs=control_attrs),
        "errors": list(bound.errors),
    }


def _kind(bound: BoundField) -> str:
    if bound.is_hidden:
        return "hidden"
    if isinstance(bound.field.widget, CheckboxInput):
        return "check"
    # A file input that can be cleared is several controls too, yet one label serves it well.
    return "group" if bound.use_fieldset and not bound.field.widget.needs_multipart_form else "one"


def _described_by(bound: BoundField, *, unit: str, help_text: str) -> str:
    parts = {"unit": unit, "helptext": help_text, "error": bound.errors}
    return " ".join(f"{bound.auto_id}_{name}" for name, present in parts.items() if present)


@register.inclusion_tag("parts/form_fields.html")
def form_fields(form: BaseForm) -> PartContext:
    """Every field of a form in its own order, hidden ones included, without units."""
    return {"form": form}


@register.inclusion_tag("parts/form_errors.html")
def form_errors(*forms: BaseForm | BaseFormSet[Shown]) -> PartContext:
    """What was not accepted, at the top of the page, each entry leading to its field."""
    faults = [fault for form in forms for fault in _faults(form)]
    return {"faults": faults, "count": len(faults)}


def _faults(form: BaseForm | BaseFormSet[Shown]) -> list[PartContext]:
    if isinstance(form, BaseFormSet):
        general = [{"text": text} for text in form.non_form_errors()]
        return general + [fault for one in form.forms for fault in _faults(one)]
    faults: list[PartContext] = [{"text": text} for text in form.non_field_errors()]
    for bound in form:
        target = "" if bound.is_hidden else bound.id_for_label or bound.auto_id
        faults += [{"text": text, "label": bound.label, "target": target} for text in bound.errors]
    return faults


@register.simple_block_tag
def fieldset(content: str, legend: str, help: str = "") -> SafeString:  # noqa: A002
    """A group of fields under one legend."""
    hint = format_html('<p class="muted">{}</p>', help) if help else ""
    return format_html("<fieldset><legend>{}</legend>{}{}</fieldset>", legend, hint, content)


@register.simple_block_tag
def actions(content: str, *, bar: bool = True) -> SafeString:
    """The buttons of a page; `bar` keeps them at the thumb on a phone."""
    return format_html('<div class="{}">{}</div>', "actions bar" if bar else "actions", content)
