"""What surfaces of a drawing are filled with, as SVG patterns: a hatch, or dots."""

from __future__ import annotations

DOT = 1.1  # radius, in paper units


def hatched(ident: str, edge: str, weight: float, turned: str) -> str:
    """Return a hatch of a step, its lines of a weight; ``turned`` is how the pattern is turned."""
    line = f'<path d="M0 {edge}L{edge} 0" stroke="currentColor" stroke-width="{weight:g}"'
    return _pattern(ident, edge, f'{line} fill="none"/>', turned)


def dotted(ident: str, edge: str, half: str) -> str:
    """Return dots a step apart."""
    dot = f'<circle cx="{half}" cy="{half}" r="{DOT:g}" fill="currentColor"/>'
    return _pattern(ident, edge, dot)


def _pattern(ident: str, edge: str, drawn: str, turned: str = "") -> str:
    return (
        f'<defs><pattern id="{ident}" width="{edge}" height="{edge}"'
        f' patternUnits="userSpaceOnUse"{turned}>{drawn}</pattern></defs>'
    )
