#!/usr/bin/env python
"""The site's command line: migrate, demo, work and what Django brings."""

import os
import sys

from django.core.management import execute_from_command_line


def main() -> None:
    """Run one management command with the site's settings."""
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "installer_site.settings")
    execute_from_command_line(sys.argv)


if __name__ == "__main__":
    main()
