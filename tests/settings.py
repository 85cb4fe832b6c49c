"""The site's settings for a test run: a scratch folder, a fixed key, a quick password hasher.

pytest-django loads settings before any conftest, so these can't be a fixture.
"""

import os
import sys
import tempfile

if "ROWBOOK_VAR" not in os.environ:
    if "pytest" in sys.modules:
        # Held by this name until the run ends, then removed; workers of xdist inherit the path.
        _scratch = tempfile.TemporaryDirectory(prefix="rowbook-tests-")
        os.environ["ROWBOOK_VAR"] = _scratch.name
    else:
        # The type checker ends without cleaning up, so it has one folder for all its runs.
        os.environ["ROWBOOK_VAR"] = f"{tempfile.gettempdir()}/rowbook-tools-{os.getuid()}"
os.environ.setdefault("SECRET_KEY", "tests-only-and-nothing-else-uses-this-key")

from installer_site.settings import *  # noqa: F403
from installer_site.settings import DATABASES, STATIC_ROOT, STORAGES, VAR

PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
# A warning of the PDF renderer is a fault that has not happened yet.
PDF_WARNINGS_ARE_ERRORS = True
EMAIL_BACKEND = "django.core.mail.backends.locmem.EmailBackend"
STORAGES = {
    **STORAGES,
    # The manifest exists only after collectstatic.
    "staticfiles": {"BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"},
}
# WhiteNoise warns about a missing folder, and warnings fail the tests.
STATIC_ROOT.mkdir(exist_ok=True)
if DATABASES["default"]["ENGINE"] == "django.db.backends.sqlite3":
    # A file like the real one, so that a second process meets the same locks; no test needs a
    # power cut, so no write waits for the disk.
    DATABASES["default"]["TEST"] = {"NAME": str(VAR / "test.sqlite3")}
    DATABASES["default"]["OPTIONS"]["init_command"] = (
        "PRAGMA journal_mode=WAL; PRAGMA synchronous=OFF"
    )
# Tests ask for pages behind links as fast as they can, all from one address.
LINK_REQUESTS = 100_000
# No test waits for a backup that it did not ask for.
BACKUP_HOUR = None
