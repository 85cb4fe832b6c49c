"""How soon a page is painted on a slow processor."""
