"""The types that the tags of components share."""

from __future__ import annotations

from typing import Any

PartContext = dict[str, Any]
"""What a part is drawn with, by name. Any: a template takes whatever stands under a name."""

Shown = Any
"""What a page hands to a tag to be shown. Any: a template gives it no type."""
