"""Settings, all from the environment; a bad one stops the start.

DEBUG           1 shows errors in full; for developers only
DATA_DIR        folder of the database, the secret key and the collected static files
DATABASE_URL    another database than the SQLite file, such as postgres://…
SECRET_KEY      instead of the one made and kept in DATA_DIR
ALLOWED_HOSTS   names and addresses people type, with commas between
HTTPS           1 when a proxy on this computer speaks https for the app
TIME_ZONE       such as America/Chicago; else the computer's own
SHOPCLASS_DEMO  1 uses the demo's database file; `manage.py demo` sets it
"""

import contextlib
import os
import secrets
import zoneinfo
from datetime import timedelta
from pathlib import Path
from typing import Any

import dj_database_url
import django_stubs_ext
from csp.constants import NONE, SELF
from django.core.exceptions import ImproperlyConfigured
from django.utils.translation import gettext_lazy as _

django_stubs_ext.monkeypatch()


def read_flag(name: str) -> bool:
    """Read a setting that is on or off."""
    value = os.environ.get(name, "").strip().lower()
    if value in {"1", "true", "yes", "on"}:
        return True
    if value in {"", "0", "false", "no", "off"}:
        return False
    raise ImproperlyConfigured(f"{name} must be 1 or 0 (got {value!r}).")


def read_list(name: str) -> list[str]:
    """Read a setting that is a list with commas."""
    items = os.environ.get(name, "").split(",")
    return [item.strip() for item in items if item.strip()]


def read_time_zone() -> str:
    """Read the time zone, or ask the computer."""
    name = os.environ.get("TIME_ZONE")
    if name is None:
        _start, found, zone = os.path.realpath("/etc/localtime").partition("zoneinfo/")
        return zone if found and zone in zoneinfo.available_timezones() else "UTC"
    if name not in zoneinfo.available_timezones():
        raise ImproperlyConfigured(
            f"TIME_ZONE must be a name such as America/Chicago (got {name!r})."
        )
    return name


def make_data_dir(path: Path) -> Path:
    """Make the folder that holds what the app keeps."""
    try:
        path.mkdir(mode=0o700, parents=True, exist_ok=True)
    except OSError as error:
        raise ImproperlyConfigured(f"DATA_DIR cannot be made: {error}.") from error
    return path


def read_secret_key(path: Path) -> str:
    """Read the kept secret key; make it on the first start."""
    try:
        if not path.exists():
            draft = path.with_name(f"{path.name}.{os.getpid()}")
            draft.touch(mode=0o600)
            draft.write_text(secrets.token_urlsafe(50), "ascii")
            # Whole or not at all, so that two first starts agree on one key.
            with contextlib.suppress(FileExistsError):
                os.link(draft, path)
            draft.unlink()
        key = path.read_text("ascii").strip()
    except OSError as error:
        raise ImproperlyConfigured(f"The secret key cannot be kept: {error}.") from None
    if len(key) < 50:
        raise ImproperlyConfigured(f"{path} holds no secret key; delete that file.")
    return key


def read_database(data_dir: Path, *, demo: bool) -> dict[str, Any]:
    """Choose the database: the demo's never is the class's."""
    url = os.environ.get("DATABASE_URL", "")
    if demo:
        url = f"sqlite:///{data_dir / 'demo.sqlite3'}"
    elif not url:
        url = f"sqlite:///{data_dir / 'db.sqlite3'}"
    try:
        database: dict[str, Any] = dict(
            dj_database_url.parse(url, conn_max_age=60, conn_health_checks=True)
        )
    except ValueError as error:  # an unknown scheme is one too
        raise ImproperlyConfigured(f"DATABASE_URL cannot be read: {error}") from None
    if database["ENGINE"] == "django.db.backends.sqlite3":
        database["OPTIONS"] = {
            # Take the write lock at the start: a transaction that reads first and
            # writes later would fail at once, without waiting its turn.
            "transaction_mode": "IMMEDIATE",
            "timeout": 20,
            "init_command": "PRAGMA journal_mode=WAL; PRAGMA synchronous=NORMAL;",
        }
    return database


BASE_DIR = Path(__file__).resolve().parent.parent
os.umask(0o077)  # what the app keeps is for its own account only
DATA_DIR = make_data_dir(Path(os.environ.get("DATA_DIR") or BASE_DIR / ".data"))
DEBUG = read_flag("DEBUG")
DEMO = read_flag("SHOPCLASS_DEMO")
HTTPS = read_flag("HTTPS")
SECRET_KEY = os.environ.get("SECRET_KEY") or read_secret_key(DATA_DIR / "secret_key")

# What the app is made of
INSTALLED_APPS = [
    "projects",
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.staticfiles",
    "django_htmx",
    "csp",
    "axes",
]
MIDDLEWARE = [
    "django.middleware.security.SecurityMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "django.middleware.gzip.GZipMiddleware",
    "csp.middleware.CSPMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.locale.LocaleMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
    "projects.middleware.keep_private",
    "axes.middleware.AxesMiddleware",  # last: it turns a lock into its page
]
ROOT_URLCONF = "shopclass.urls"
WSGI_APPLICATION = "shopclass.wsgi.application"
TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "DIRS": [BASE_DIR / "templates"],
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.auth.context_processors.auth",
            ],
        },
    },
]

# What it keeps
DATABASES = {"default": read_database(DATA_DIR, demo=DEMO)}
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"
DATA_UPLOAD_MAX_MEMORY_SIZE = 2 * 1024 * 1024
FILE_UPLOAD_MAX_MEMORY_SIZE = 2 * 1024 * 1024

# Who signs in, and how
AUTH_USER_MODEL = "projects.User"
AUTHENTICATION_BACKENDS = [
    "axes.backends.AxesStandaloneBackend",
    "django.contrib.auth.backends.ModelBackend",
    "projects.pins.PinBackend",  # confirms who signs off; signs nobody in
]
PASSWORD_HASHERS = [
    "django.contrib.auth.hashers.Argon2PasswordHasher",
    "django.contrib.auth.hashers.PBKDF2PasswordHasher",
]
_VALIDATORS = "django.contrib.auth.password_validation"
AUTH_PASSWORD_VALIDATORS = [
    {"NAME": f"{_VALIDATORS}.UserAttributeSimilarityValidator"},
    {"NAME": f"{_VALIDATORS}.MinimumLengthValidator"},
    {"NAME": f"{_VALIDATORS}.CommonPasswordValidator"},
    {"NAME": f"{_VALIDATORS}.NumericPasswordValidator"},
]
LOGIN_URL = "sign-in"
LOGIN_REDIRECT_URL = "home"
LOGOUT_REDIRECT_URL = "sign-in"

# A whole class shares one address, so a lock holds for one name from one address.
AXES_LOCKOUT_PARAMETERS = [["username", "ip_address"]]
AXES_USERNAME_CALLABLE = "projects.throttle.username"
AXES_CLIENT_IP_CALLABLE = "projects.throttle.address"
AXES_FAILURE_LIMIT = 8
AXES_COOLOFF_TIME = timedelta(minutes=10)
AXES_RESET_COOL_OFF_ON_FAILURE_DURING_LOCKOUT = False
AXES_RESET_ON_SUCCESS = True
AXES_LOCKOUT_TEMPLATE = "projects/locked.html"
AXES_HTTP_RESPONSE_CODE = 429
# What was typed wrong is nearly right: it is never kept beside the count of tries.
AXES_SENSITIVE_PARAMETERS = ["pin", "pin_again"]
AXES_ENABLE_ADMIN = False
AXES_VERBOSE = False
AXES_DISABLE_ACCESS_LOG = True  # who signed in from where is kept nowhere

# What a browser may do
ALLOWED_HOSTS = ["localhost", "127.0.0.1", "[::1]", *read_list("ALLOWED_HOSTS")]
CONTENT_SECURITY_POLICY = {
    "DIRECTIVES": {
        "default-src": [SELF],
        "base-uri": [NONE],
        "form-action": [SELF],
        "frame-ancestors": [NONE],
        "frame-src": [NONE],
        "object-src": [NONE],
    },
}
X_FRAME_OPTIONS = "DENY"
SECURE_REFERRER_POLICY = "same-origin"
SECURE_CONTENT_TYPE_NOSNIFF = True
SESSION_COOKIE_HTTPONLY = True
SESSION_COOKIE_AGE = 12 * 60 * 60  # a class evening, not the fortnight after it
SESSION_COOKIE_SAMESITE = "Lax"
SESSION_COOKIE_SECURE = HTTPS
CSRF_COOKIE_SAMESITE = "Lax"
CSRF_COOKIE_SECURE = HTTPS
SECURE_SSL_REDIRECT = HTTPS
SECURE_HSTS_SECONDS = 30 * 24 * 60 * 60 if HTTPS else 0

# Files a browser fetches
STATIC_URL = "static/"
STATIC_ROOT = DATA_DIR / "static"
STATICFILES_DIRS = [BASE_DIR / "static"]
STORAGES = {
    "default": {"BACKEND": "django.core.files.storage.FileSystemStorage"},
    "staticfiles": {
        "BACKEND": "whitenoise.storage.CompressedManifestStaticFilesStorage"
    },
}

# Language and time
LANGUAGE_CODE = "en"
LANGUAGES = [("en", _("English"))]
LOCALE_PATHS = [BASE_DIR / "projects" / "locale"]
FORMAT_MODULE_PATH = ["shopclass.formats"]
USE_I18N = True
USE_TZ = True
TIME_ZONE = read_time_zone()

# What it says on the terminal
LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "formatters": {"plain": {"format": "{levelname} {name}: {message}", "style": "{"}},
    "handlers": {
        "console": {"class": "logging.StreamHandler", "formatter": "plain"},
    },
    "root": {"handlers": ["console"], "level": "WARNING"},
    "loggers": {
        # Its own handlers go; a page that is not there is no news on a terminal.
        "django": {"handlers": [], "propagate": True, "level": "INFO"},
        "django.request": {"level": "ERROR"},
        "django.security.DisallowedHost": {"level": "CRITICAL"},
        "axes": {"level": "ERROR"},  # a mistyped password is no news either
        "waitress.queue": {"level": "ERROR"},
    },
}
