"""A day on the bench: who takes which step on which half hour, and how far it comes.

`values`    how far a step is, who was at what, what bounds a day
`bench`     all steps of a job and how far each is
`half_hours` one day of it, half hour by half hour
"""
