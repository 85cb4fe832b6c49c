"""The one settings file. What a site may choose comes from the environment, read by `env`.

DEVELOPERS.md lists every variable; a bad value is refused by name before anything starts.
"""

import os
from datetime import timedelta
from pathlib import Path

from csp.constants import NONE, SELF

from installer_site import env

BASE_DIR = Path(__file__).resolve().parent.parent
# Shown at the foot of every page; the same as in pyproject.toml.
VERSION = "0.5.0"
ENV = os.environ

# Where this site runs, and as what.
DEBUG = env.read_bool(ENV, "DEBUG", default=False)
VAR = env.read_var(ENV, BASE_DIR)
SECRET_KEY = env.read_secret_key(ENV, VAR, debug=DEBUG)
HOST = env.read_text(ENV, "HOST", "127.0.0.1")
PORT = env.read_int(ENV, "PORT", default=8000, low=1, high=65535)
SITE_URL = env.read_site_url(ENV, "SITE_URL", f"http://{HOST}:{PORT}")
ALLOWED_HOSTS = env.read_list(ENV, "ALLOWED_HOSTS", ["localhost", "127.0.0.1", "[::1]", HOST])
# Set when a proxy with TLS stands in front and sets X-Forwarded-Proto itself.
HTTPS = env.read_bool(ENV, "HTTPS", default=False)

INSTALLED_APPS = [
    "installer_site",
    "estimates",
    "jobs",
    "django_htmx",
    # The loaders are written out below, so the app is not left to rewrite TEMPLATES.
    "template_partials.apps.SimpleAppConfig",
    "csp",
    "axes",
    "django.contrib.admin",
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.messages",
    # Under DEBUG, `runserver` leaves static files to WhiteNoise like the real server.
    "whitenoise.runserver_nostatic",
    "django.contrib.staticfiles",
]

MIDDLEWARE = [
    # First, so that every line of a request has its number.
    "installer_site.log_lines.number_requests",
    "django.middleware.security.SecurityMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "csp.middleware.CSPMiddleware",
    "jobs.http.private_pages",
    "jobs.http.ReadableRequestMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "jobs.services.sign_in.sessions.note_sessions",
    "jobs.clock.company_time",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
    "installer_site.by_link.ByLinkMiddleware",
    "jobs.http.BrokenDocumentMiddleware",
    # Last, so that it sees the answer to a refused sign-in.
    "axes.middleware.AxesMiddleware",
]

ROOT_URLCONF = "installer_site.urls"
WSGI_APPLICATION = "installer_site.wsgi.application"

_FILE_LOADERS = [
    "django.template.loaders.filesystem.Loader",
    "django.template.loaders.app_directories.Loader",
]
TEMPLATES: list[dict[str, object]] = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "DIRS": [BASE_DIR / "templates"],
        "OPTIONS": {
            # The partials loader stands outermost: it cuts `page.html#part` from the cached page.
            "loaders": [
                (
                    "template_partials.loader.Loader",
                    _FILE_LOADERS
                    if DEBUG
                    else [("django.template.loaders.cached.Loader", _FILE_LOADERS)],
                )
            ],
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.auth.context_processors.auth",
                "django.contrib.messages.context_processors.messages",
            ],
        },
    }
]

# Data.
DATABASES = {"default": env.read_database(ENV, VAR)}
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"
MEDIA_ROOT = VAR / "files"
# Backups: where they lie, a second folder on another disk, when they are made, for whom encrypted.
BACKUP_FOLDER = env.read_folder(ENV, "BACKUP_FOLDER", str(VAR / "backups"))
BACKUP_COPY_TO = env.read_folder(ENV, "BACKUP_COPY_TO", "")
# None: nothing is asked for daily, as in tests.
BACKUP_HOUR: int | None = env.read_int(ENV, "BACKUP_HOUR", default=2, low=0, high=23)
BACKUP_AGE_RECIPIENT = env.read_recipient(ENV, "BACKUP_AGE_RECIPIENT")
DATA_UPLOAD_MAX_MEMORY_SIZE = 5 * 1024 * 1024
DATA_UPLOAD_MAX_NUMBER_FIELDS = 2000
DATA_UPLOAD_MAX_NUMBER_FILES = 20
FILE_UPLOAD_PERMISSIONS = 0o640

# Who signs in, and how.
AUTH_USER_MODEL = "jobs.User"
LOGIN_URL = "sign-in"
LOGIN_REDIRECT_URL = "job-list"
LOGOUT_REDIRECT_URL = "sign-in"
AUTHENTICATION_BACKENDS = [
    "axes.backends.AxesStandaloneBackend",
    "django.contrib.auth.backends.ModelBackend",
]
PASSWORD_HASHERS = ["django.contrib.auth.hashers.Argon2PasswordHasher"]
AUTH_PASSWORD_VALIDATORS = [
    {"NAME": "django.contrib.auth.password_validation.UserAttributeSimilarityValidator"},
    {
        "NAME": "django.contrib.auth.password_validation.MinimumLengthValidator",
        "OPTIONS": {"min_length": 10},
    },
    {"NAME": "django.contrib.auth.password_validation.CommonPasswordValidator"},
    {"NAME": "django.contrib.auth.password_validation.NumericPasswordValidator"},
]
PASSWORD_RESET_TIMEOUT = 3 * 24 * 3600
# Requests a minute by links that need no sign-in, from one address.
LINK_REQUESTS = env.read_int(ENV, "LINK_REQUESTS", default=300, low=10, high=100_000)
# Ten wrong passwords for one name, or from one address, rest it for a quarter of an hour.
AXES_FAILURE_LIMIT = 10
AXES_COOLOFF_TIME = timedelta(minutes=15)
AXES_LOCKOUT_PARAMETERS = ["username", "ip_address"]
AXES_USERNAME_CALLABLE = "jobs.http.sign_in_name"
AXES_USERNAME_FORM_FIELD = "username"
AXES_CLIENT_IP_CALLABLE = "jobs.http.client_address"
AXES_RESET_ON_SUCCESS = True
AXES_VERBOSE = False

# What a browser may do with our pages.
CONTENT_SECURITY_POLICY = {
    "DIRECTIVES": {
        "default-src": [SELF],
        "script-src": [SELF],
        "style-src": [SELF],
        "img-src": [SELF, "data:", "blob:"],
        "font-src": [SELF],
        "connect-src": [SELF],
        "worker-src": [SELF],
        "manifest-src": [SELF],
        "form-action": [SELF],
        "frame-ancestors": [NONE],
        "base-uri": [NONE],
        "object-src": [NONE],
    }
}
X_FRAME_OPTIONS = "DENY"
SECURE_REFERRER_POLICY = "same-origin"
SESSION_COOKIE_SECURE = HTTPS
CSRF_COOKIE_SECURE = HTTPS
SECURE_SSL_REDIRECT = HTTPS
SECURE_REDIRECT_EXEMPT = [r"^healthz$", r"^readyz$"]
SECURE_HSTS_SECONDS = 30 * 24 * 3600 if HTTPS else 0
# Names below the site's own, and the lists of browsers, are for whoever owns the domain to decide.
SILENCED_SYSTEM_CHECKS = ["security.W005", "security.W021"]
SECURE_PROXY_SSL_HEADER = ("HTTP_X_FORWARDED_PROTO", "https") if HTTPS else None

# Time, words, files.
USE_TZ = True
TIME_ZONE = env.read_time_zone(ENV, "TIME_ZONE", "UTC")
LANGUAGE_CODE = "en-us"
USE_I18N = False
STATIC_URL = "/static/"
STATIC_ROOT = VAR / "static"
WHITENOISE_USE_FINDERS = DEBUG
WHITENOISE_AUTOREFRESH = DEBUG
STORAGES = {
    # Photographs and papers: a folder, or what several machines reach alike.
    "default": env.read_storage(ENV, "FILES_STORAGE"),
    "staticfiles": {
        "BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"
        if DEBUG
        else "whitenoise.storage.CompressedManifestStaticFilesStorage"
    },
}

# E-mail: files in VAR/mail unless EMAIL_URL names a server.
_EMAIL = env.read_email(ENV, VAR)
EMAIL_BACKEND = _EMAIL.get("EMAIL_BACKEND", "")
EMAIL_FILE_PATH = _EMAIL.get("EMAIL_FILE_PATH", "")
EMAIL_HOST = _EMAIL.get("EMAIL_HOST", "")
EMAIL_PORT = _EMAIL.get("EMAIL_PORT", 25)
EMAIL_HOST_USER = _EMAIL.get("EMAIL_HOST_USER", "")
EMAIL_HOST_PASSWORD = _EMAIL.get("EMAIL_HOST_PASSWORD", "")
EMAIL_USE_TLS = _EMAIL.get("EMAIL_USE_TLS", False)
EMAIL_USE_SSL = _EMAIL.get("EMAIL_USE_SSL", False)
EMAIL_TIMEOUT = 20
DEFAULT_FROM_EMAIL = env.read_text(ENV, "DEFAULT_FROM_EMAIL", "rowbook@localhost")

# Logs go to stderr; whoever runs the site keeps them.
LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "filters": {"number": {"()": "installer_site.log_lines.RequestNumber"}},
    "formatters": {
        "line": {"format": "%(asctime)s %(levelname)s %(name)s [%(request_id)s]: %(message)s"},
        "json": {"()": "installer_site.log_lines.JsonLine"},
    },
    "handlers": {
        "stderr": {
            "class": "logging.StreamHandler",
            "filters": ["number"],
            "formatter": env.read_choice(ENV, "LOG_FORMAT", env.LOG_FORMATS, "line"),
        }
    },
    "root": {
        "handlers": ["stderr"],
        "level": env.read_choice(ENV, "LOG_LEVEL", env.LOG_LEVELS, "INFO"),
    },
    "loggers": {
        # Django's own handlers would print the same line again under DEBUG.
        "django": {"handlers": [], "propagate": True},
        # The renderer tells every step of every page.
        "weasyprint": {"level": "WARNING"},
        "fontTools": {"level": "WARNING"},
    },
}
