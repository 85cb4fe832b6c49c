"""Plans, pieces and templates drawn as SVG."""
