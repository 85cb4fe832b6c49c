"""Small wrong edits, each of which some test must notice.

`edits/*.toml` lists them: a name, the file, what stands there and what is put in its place, the
kind of mistake, and the tests that should catch it. `python -m tests.mutants` makes each in a copy
of the tree, runs those tests and prints what was caught and what survived.
"""
