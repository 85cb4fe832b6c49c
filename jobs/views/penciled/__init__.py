"""Pages of a crew that is penciled in before a quote is accepted."""
