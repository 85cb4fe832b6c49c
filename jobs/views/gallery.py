"""Every component on one page, for developers to look at; it has an address only under DEBUG."""

from django import forms
from django.contrib import messages
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_safe

from jobs.http import Context, render_page
from jobs.readers.path import PathStep
from layout.drawing.plan import draw_outline
from layout.values.outline import Hole, HoleKind, Zone

ELL = Zone(
    outline=((0, 0), (180, 0), (180, 96), (100, 96), (100, 150), (0, 150)),
    holes=(
        Hole(ring=((60, 60), (72, 60), (72, 72), (60, 72))),
        Hole(ring=((140, 4), (154, 4), (154, 10), (140, 10)), kind=HoleKind.REGISTER),
    ),
)


class SampleForm(forms.Form):
    """One field of every kind that the site uses."""

    name = forms.CharField(label="Room", help_text="As the crew will call it.")
    length = forms.CharField(label="Wall 1", help_text="Feet, inches and fractions: 12' 4 1/2\".")
    floor = forms.ChoiceField(
        label="Floor now down", choices=[("", "Choose one"), ("carpet", "Carpet"), ("tile", "Tile")]
    )
    start = forms.ChoiceField(
        label="Start wall",
        choices=[("low", "Window wall"), ("high", "Door wall")],
        widget=forms.RadioSelect,
    )
    heated = forms.BooleanField(label="Heated floor", required=False, help_text="Water or cable.")
    photo = forms.FileField(label="Photograph", required=False)
    note = forms.CharField(label="Note", required=False, widget=forms.Textarea)
    key = forms.CharField(widget=forms.HiddenInput, initial="sample")


def _steps() -> list[PathStep]:
    states = {"Site": "done", "Rooms": "done", "Floor": "here", "Price": "next", "Quote": "blocked"}
    notes = {"Rooms": "3 rooms, 412 ft²", "Floor": "No plan yet", "Quote": "A hold point is open"}
    names = ["Site", "Rooms", "Floor", "Price", "Quote", "Days", "Packet", "Log", "Review"]
    return [
        PathStep(
            name=name,
            state=states.get(name, "later"),
            note=notes.get(name, ""),
            url="#" if name in states else "",
        )
        for name in names
    ]


@require_safe
def components(request: HttpRequest) -> HttpResponse:
    """The gallery: components with values as they come, long words and refused entries included."""
    messages.success(request, "Room saved: Kitchen, 145.3 ft².")
    messages.warning(request, "The plan is older than the rooms.")
    refused = SampleForm({"name": "Kitchen", "length": "12 feed", "start": "low", "key": "sample"})
    refused.add_error("length", "12 feed is not a length; write 12' 4 1/2\" or 3.76 m.")
    context: Context = {
        "job": {"number": "2026-014", "title": "Marlow, upstairs"},
        "steps": _steps(),
        "next_sentence": "Choose a product for the upstairs zone, then plan the floor.",
        "form": SampleForm(),
        "refused": refused,
        "page_obj": Paginator(range(90), 30).page(2),
        "plan": draw_outline(ELL, unit="in", title="An L-shaped room"),
        "rooms": [
            ("Kitchen", "145.3"),
            ("Hall with the long name by the stairs", "61.8"),
            ("Den", "205.2"),
        ],
        "pairs": [
            ("Client", "Ada Marlow"),
            ("Site", "14 Birch Lane, Springfield"),
            ("Built", "1974"),
        ],
    }
    return render_page(request, "jobs/gallery/gallery.html", context)
