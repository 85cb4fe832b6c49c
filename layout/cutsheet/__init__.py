"""The cuts of a plan, told plank by plank."""
