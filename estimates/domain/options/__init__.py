"""What a job could be done with instead: other materials, or work left to the homeowner.

`savings` holds one way to do a floor against another, `chart` draws what that gains, `work_split`
is the work that the homeowner takes on.
"""
