"""Quantities, tasks and hours of a job.

`inputs` is what is counted from, `takeoff` and `rooms` the counting, `rates` and `hours` the hours,
`scope` all of it as it is frozen.
"""
