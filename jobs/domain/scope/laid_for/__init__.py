"""Whom and when the days of a scope are laid out for: the company's usual crew, or a real one."""
