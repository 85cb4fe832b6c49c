"""The scope laid onto days.

`days` is the days of a job, `crew_day` how a crew works through one, `remaining` what is left,
`critical_path` the order that tasks wait in.
"""
