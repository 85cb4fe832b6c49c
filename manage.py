#!/usr/bin/env python
"""The site's command line: migrate, demo, work and what Django brings."""

import os
import sys

from django.core.exceptions import ImproperlyConfigured
from django.core.management import execute_from_command_line


def main() -> None:
    """Run one management command; a refused setting is one line on stderr and exit code 1."""
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "installer_site.settings")
    try:
        execute_from_command_line(sys.argv)
    except ImproperlyConfigured as error:
        sys.exit(f"{sys.argv[0]}: {error}")


if __name__ == "__main__":
    main()
