"""The phone's queue against a server that is killed again and again."""
