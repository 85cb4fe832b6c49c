"""Settings of a site that a test starts: those of tests, but mail goes where EMAIL_URL says."""

from installer_site import settings as site
from tests.settings import *  # noqa: F403

EMAIL_BACKEND = site.EMAIL_BACKEND
