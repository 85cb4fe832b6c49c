"""Settings of a worker that a test starts: the test's own database, and the lab's handlers."""

import os

from tests.settings import *  # noqa: F403
from tests.settings import DATABASES, INSTALLED_APPS

INSTALLED_APPS = [*INSTALLED_APPS, "tests.jobs.errand_lab"]
DATABASES["default"]["NAME"] = os.environ["ERRAND_LAB_DATABASE"]
if "timeout" in DATABASES["default"].get("OPTIONS", {}):
    # A lock soon lasts longer than a writer waits.
    DATABASES["default"]["OPTIONS"]["timeout"] = 0.3
