"""Components and figures for templates: `{% load look %}`.

Each component draws one template of `templates/parts/`; that folder's README.md shows every one
in use. Figures become words here and nowhere else, so that a length reads the same on a screen,
on a quote and on the floor. The components lie in the `look_` modules, by subject; a page loads
them all by this one name.
"""

from __future__ import annotations

from django import template

from jobs.templatetags import look_figures, look_forms, look_page, look_sources, look_states

register = template.Library()

for part in (look_page, look_forms, look_states, look_figures, look_sources):
    register.tags.update(part.register.tags)
    register.filters.update(part.register.filters)
