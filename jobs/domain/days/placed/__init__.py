"""Days as they were laid out, looked at again: where each piece of work stands, why, its slack.

`pieces` is who is at what and when; `network` the order they wait in, for critical path and slack;
`reasons` says in words why each stands where it stands.
"""
