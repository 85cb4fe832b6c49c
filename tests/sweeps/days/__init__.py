"""Days of random jobs, held against the rules of the trade by a checker that knows only figures.

`made` draws a job and lays it out; `held` says in plain values what came of it; `checker` holds
that against the rules and imports nothing of what laid it out.

    python -m tests.sweeps.days --jobs 200 --seed 12
"""
