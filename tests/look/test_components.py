"""Components: what they say to eyes, to a screen reader and to a browser without scripts."""

from types import SimpleNamespace
from typing import Any

import pytest
from django import forms
from django.core.paginator import Paginator
from django.template import engines
from django.test import RequestFactory

from jobs.templatetags.look_states import STATUS_TONES, TONES


def drawn(source: str, **context: Any) -> str:
    template: Any = engines["django"].from_string("{% load look %}" + source)
    text: str = template.render(context, RequestFactory().get("/jobs", {"q": "oak", "page": "2"}))
    return " ".join(text.split())


class OneWallForm(forms.Form):
    """One wall, its note and where the floor starts."""

    length = forms.CharField(label="Wall 1", help_text="As the laser reads it.")
    note = forms.CharField(required=False)
    start = forms.ChoiceField(
        choices=[("low", "Window")], widget=forms.RadioSelect, help_text="Seen from the door."
    )
    heated = forms.BooleanField(required=False)
    photo = forms.FileField(required=False, widget=forms.ClearableFileInput)
    key = forms.CharField(widget=forms.HiddenInput)


def refused() -> OneWallForm:
    form = OneWallForm({"length": "12 feed", "start": "low", "key": "k"})
    form.add_error("length", "12 feed is not a length.")
    form.add_error(None, "The outline crosses itself.")
    return form


def test_a_field_ties_label_unit_help_and_error_to_its_control() -> None:
    text = drawn('{% field form.length unit="ft-in" %}', form=refused())
    assert '<label for="id_length">Wall 1</label>' in text
    assert 'aria-describedby="id_length_unit id_length_helptext id_length_error"' in text
    assert all(f'id="id_length_{part}"' in text for part in ("unit", "helptext", "error"))


def test_a_refused_field_keeps_what_was_typed_and_says_what_is_wrong() -> None:
    text = drawn("{% field form.length %}", form=refused())
    assert 'value="12 feed"' in text
    assert 'aria-invalid="true"' in text
    assert "<p>12 feed is not a length.</p>" in text


def test_a_field_without_help_or_errors_points_nowhere() -> None:
    assert "aria-describedby" not in drawn("{% field form.note %}", form=OneWallForm())


def test_a_field_that_may_stay_empty_says_so() -> None:
    assert 'Note <span class="optional">optional</span>' in drawn(
        "{% field form.note %}", form=OneWallForm()
    )


def test_further_arguments_become_attributes() -> None:
    text = drawn('{% field form.note inputmode="decimal" hx_get="/echo" %}', form=OneWallForm())
    assert 'inputmode="decimal"' in text
    assert 'hx-get="/echo"' in text


def test_choices_stand_in_a_fieldset_that_carries_the_help() -> None:
    text = drawn("{% field form.start %}", form=OneWallForm())
    assert (
        '<fieldset class="field" aria-describedby="id_start_helptext"> <legend>Start</legend>'
        in text
    )


def test_a_check_box_stands_inside_its_label() -> None:
    text = drawn("{% field form.heated %}", form=OneWallForm())
    assert '<label for="id_heated"><input type="checkbox"' in text


def test_a_file_field_has_one_label() -> None:
    assert '<label for="id_photo">' in drawn("{% field form.photo %}", form=OneWallForm())


def test_a_hidden_field_is_only_its_input() -> None:
    assert (
        drawn("{% field form.key %}", form=OneWallForm())
        == '<input type="hidden" name="key" id="id_key">'
    )


def test_all_fields_of_a_form_come_in_order() -> None:
    text = drawn("{% form_fields form %}", form=OneWallForm())
    places = [text.index(f'name="{name}"') for name in OneWallForm.base_fields]
    assert places == sorted(places)


def test_what_a_person_typed_is_escaped_in_messages() -> None:
    form = OneWallForm({"start": "low", "key": "k"})
    form.add_error("length", "<b>12</b> is not a length.")
    assert "<b>" not in drawn("{% field form.length %}{% form_errors form %}", form=form)


def test_the_summary_counts_and_leads_to_each_field() -> None:
    text = drawn("{% form_errors form %}", form=refused())
    assert "2 entries were not accepted; nothing was saved" in text
    assert '<a href="#id_length">Wall 1</a>: 12 feed is not a length.' in text
    assert "<li>The outline crosses itself.</li>" in text


def test_the_summary_of_a_good_form_is_nothing() -> None:
    good = OneWallForm({"length": "12", "start": "low", "key": "k"})
    assert drawn("{% form_errors form %}", form=good) == ""


def test_the_summary_gathers_every_form_of_a_set() -> None:
    sets = forms.formset_factory(OneWallForm, extra=0)
    data = {
        "form-TOTAL_FORMS": "2",
        "form-INITIAL_FORMS": "0",
        "form-0-start": "low",
        "form-1-start": "low",
    }
    text = drawn("{% form_errors walls %}", walls=sets(data))
    assert 'href="#id_form-0-length"' in text
    assert 'href="#id_form-1-length"' in text


def test_a_fieldset_names_its_group() -> None:
    text = drawn('{% fieldset "Walls" help="One after the other." %}x{% endfieldset %}')
    assert (
        text
        == '<fieldset><legend>Walls</legend><p class="muted">One after the other.</p>x</fieldset>'
    )


def test_actions_stay_at_the_thumb_unless_told_otherwise() -> None:
    assert 'class="actions bar"' in drawn("{% actions %}x{% endactions %}")
    assert 'class="actions"' in drawn("{% actions bar=False %}x{% endactions %}")


def test_a_figure_gives_label_value_unit_and_its_source_one_tap_away() -> None:
    text = drawn('{% figure "162" unit="ft2" label="Floor area" source="plan 3" %}')
    assert '<p class="figure-label">Floor area</p>' in text
    assert '162&nbsp;<span class="unit">ft²</span>' in text
    assert "<details" in text
    assert "plan 3" in text


def test_a_figure_without_a_source_has_nothing_to_open() -> None:
    assert "<details" not in drawn('{% figure "162" label="Floor area" %}')


def test_facts_leave_out_what_is_not_known() -> None:
    text = drawn(
        "{% facts pairs %}", pairs=[("Built", 1974), ("Phone", ""), ("Pets", None), ("Flights", 0)]
    )
    assert text.count("<dt>") == 2
    assert "<dt>Flights</dt><dd>0</dd>" in text


@pytest.mark.parametrize(
    ("word", "tone"), [("issued", "ok"), ("Failed", "stop"), ("hold", "caution"), ("odd", "plain")]
)
def test_a_status_word_brings_its_tone(word: str, tone: str) -> None:
    assert drawn("{% status word %}", word=word) == f'<span class="status {tone}">{word}</span>'


def test_every_known_status_word_has_a_known_tone() -> None:
    assert set(STATUS_TONES.values()) <= set(TONES)


def test_an_unknown_tone_is_refused_by_name() -> None:
    with pytest.raises(ValueError, match="Tone 'loud'; one of ok, caution, stop, plain"):
        drawn('{% status "issued" tone="loud" %}')


def test_a_notice_carries_its_title_and_tone() -> None:
    text = drawn('{% notice title="Wet slab" tone="stop" %}Wait.{% endnotice %}')
    assert text == '<div class="notice stop"><p class="notice-title">Wet slab</p>Wait.</div>'


def test_progress_tells_in_words_what_the_bar_shows() -> None:
    text = drawn('{% progress label="Planning" percent=40 sentence="row 12 of 30" id="p" %}')
    assert '<progress max="100" value="40" aria-labelledby="p-label"' in text
    assert "40%: row 12 of 30" in text


@pytest.mark.parametrize(("given", "shown"), [(-3, 0), (140, 100), (39.6, 40)])
def test_progress_stays_between_nothing_and_all(given: float, shown: int) -> None:
    assert f'value="{shown}"' in drawn("{% progress label='x' percent=p %}", p=given)


def test_progress_that_is_not_known_shows_no_value() -> None:
    assert "value=" not in drawn('{% progress label="Waiting" %}')


def test_progress_asks_again_only_while_there_is_something_to_ask() -> None:
    assert 'hx-get="/poll" hx-trigger="every 2s"' in drawn(
        '{% progress label="x" poll_url="/poll" %}'
    )
    assert "hx-get" not in drawn('{% progress label="x" %}')


def test_progress_can_be_looked_at_and_stopped_without_scripts() -> None:
    text = drawn(
        '{% progress label="x" refresh_url="/page" stop_url="/stop" stop_label="Stop planning" %}'
    )
    assert '<a class="button" href="/page">Look again</a>' in text
    assert (
        '<form method="post" action="/stop"><input type="hidden" name="csrfmiddlewaretoken"' in text
    )


def test_an_empty_page_says_what_belongs_here_and_offers_one_action() -> None:
    text = drawn('{% empty_state "Rooms belong here." action="Add a room" url="/add" %}')
    assert "<p>Rooms belong here.</p>" in text
    assert text.count("<a ") == 1


def test_the_path_marks_where_the_job_stands() -> None:
    steps = [
        SimpleNamespace(name="Rooms", url="/r", state="done", note="3 measured"),
        {"name": "Floor", "url": "/f", "state": "here"},
        {"name": "Price", "url": None, "state": "later"},
    ]
    text = drawn('{% job_path steps "Plan the floor." %}', steps=steps)
    assert '<a class="step" href="/f" aria-current="step">' in text
    assert "3 measured" in text
    assert '<span class="step"> <span class="step-name">Price</span>' in text
    assert "<b>Next:</b> Plan the floor." in text


def test_an_unknown_step_state_is_refused_by_name() -> None:
    with pytest.raises(
        ValueError, match="Step state 'half'; one of done, here, next, later, blocked"
    ):
        drawn("{% job_path steps %}", steps=[{"name": "Rooms", "state": "half"}])


def test_the_pager_keeps_the_rest_of_the_question() -> None:
    text = drawn('{% pager page word="jobs" %}', page=Paginator(range(9), 3).page(2))
    assert 'href="?q=oak&amp;page=1"' in text
    assert "Page 2 of 3" in text


def test_one_page_needs_no_pager() -> None:
    assert drawn("{% pager page %}", page=Paginator(range(3), 3).page(1)) == ""


def test_a_sharp_before_a_name_heads_a_column_of_figures() -> None:
    assert drawn('{% columns "Room" "#Area" %}') == (
        '<thead><tr><th scope="col">Room</th><th scope="col" class="num">Area</th></tr></thead>'
    )


def test_a_text_too_long_for_an_argument_comes_out_on_one_line() -> None:
    text = drawn("{% wording as long %}\n Less  than\n it was\n{% endwording %}{{ long|length }}")
    assert text == str(len("Less than it was"))


def test_a_figure_in_a_long_text_keeps_its_unit_on_its_line() -> None:
    text = drawn("{% wording as long %}12\u00a0ft{% endwording %}{{ long|length }}")
    assert text == "5"
