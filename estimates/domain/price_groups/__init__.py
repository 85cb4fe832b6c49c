"""A price as it is read on its page: a summary, and groups that open down to the single figure.

`kinds` says which material and which task stands in which group, `parts` what drives the hours of
a task, `rows` what a group shows when it is open, `groups` puts them together, `summary` is what
stands above them, `bar` its drawing: the price as boards between two walls.
"""
