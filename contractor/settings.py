"""Every setting of the app. The variables it reads are listed in .env.example."""

import sys
from pathlib import Path

from contractor import env
from contractor.secret_key import kept_secret_key

BASE_DIR = Path(__file__).resolve().parent.parent
DATA_DIR = Path(env.text("WHARFWRIGHT_DATA", str(BASE_DIR / "data"))).resolve()
DATA_DIR.mkdir(parents=True, exist_ok=True)

# Where it runs
DEBUG = env.flag("WHARFWRIGHT_DEBUG")
POSTGRES_HOST = env.text("WHARFWRIGHT_DB_HOST")
ALLOWED_HOSTS = env.words("WHARFWRIGHT_HOSTS", ("localhost", "127.0.0.1", "[::1]"))
CSRF_TRUSTED_ORIGINS = env.words("WHARFWRIGHT_ORIGINS")
HTTPS = env.flag("WHARFWRIGHT_HTTPS", bool(POSTGRES_HOST))

SECRET_KEY = env.secret("WHARFWRIGHT_SECRET_KEY", least_length=50)
POSTGRES_PASSWORD = env.secret("WHARFWRIGHT_DB_PASSWORD")
if POSTGRES_HOST and not SECRET_KEY:
    raise env.BadSetting(
        "WHARFWRIGHT_SECRET_KEY is not set. Give 50 or more random characters, such as the output of: "
        "openssl rand -base64 48"
    )
if POSTGRES_HOST and not POSTGRES_PASSWORD:
    raise env.BadSetting("WHARFWRIGHT_DB_PASSWORD is not set. Give the password of the PostgreSQL role.")
SECRET_KEY = SECRET_KEY or kept_secret_key(DATA_DIR)

# What it is made of
INSTALLED_APPS = [
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.messages",
    "django.contrib.staticfiles",
    "django.forms",
    "django_htmx",
    "template_partials",
    "contractor",
    "contractor.company",
    "estimating.catalogue",
    "estimating.quotes",
    "jobs.records",
    "jobs.supply",
    "jobs.schedule",
    "jobs.fieldwork",
    "jobs.handover",
    "jobs.board",
]
MIDDLEWARE = [
    "django.middleware.security.SecurityMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "contractor.csp.ContentSecurityPolicy",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
    "contractor.company.middleware.FirmMiddleware",
]
ROOT_URLCONF = "contractor.urls"
WSGI_APPLICATION = "contractor.wsgi.application"
TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "DIRS": [BASE_DIR / "templates"],
        "APP_DIRS": True,
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.auth.context_processors.auth",
                "django.contrib.messages.context_processors.messages",
                "contractor.company.context.firm",
            ]
        },
    }
]

FORM_RENDERER = "contractor.company.rendering.FieldRenderer"
# The words at the top of every page, and the address each opens. A word shows to those who may open it.
MAIN_NAV = [
    ("Waiting for", "board:waiting"),
    ("Jobs", "records:jobs"),
    ("Schedule", "schedule:board"),
    ("Sheets", "fieldwork:today"),
    ("Orders", "supply:orders"),
    ("Yard", "supply:yard"),
    ("Quotes", "quotes:quotes"),
    ("Catalogue", "catalogue:items"),
    ("The firm", "company:profile"),
]
# Where the owner goes once the firm is named.
AFTER_WELCOME_URL = "catalogue:start"

# What it remembers
DATABASES = {
    "default": {
        "ENGINE": "django.db.backends.postgresql",
        "HOST": POSTGRES_HOST,
        "PORT": env.whole("WHARFWRIGHT_DB_PORT", 5432, least=1, most=65535),
        "NAME": env.text("WHARFWRIGHT_DB_NAME", "wharfwright"),
        "USER": env.text("WHARFWRIGHT_DB_USER", "wharfwright"),
        "PASSWORD": POSTGRES_PASSWORD,
        "CONN_MAX_AGE": 60,
        "CONN_HEALTH_CHECKS": True,
    }
    if POSTGRES_HOST
    else {
        "ENGINE": "django.db.backends.sqlite3",
        "NAME": DATA_DIR / "wharfwright.sqlite3",
        "OPTIONS": {
            # IMMEDIATE takes the write lock at the start, so that two savers wait in turn instead of failing.
            "transaction_mode": "IMMEDIATE",
            "timeout": 20,
            "init_command": "PRAGMA journal_mode=WAL; PRAGMA synchronous=NORMAL; PRAGMA foreign_keys=ON",
        },
    }
}
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"
CACHES = {"default": {"BACKEND": "django.core.cache.backends.locmem.LocMemCache"}}
# Uploads have no URL of their own: a view hands them out to those who may see them.
MEDIA_ROOT = DATA_DIR / "uploads"
MEDIA_URL = ""
FILE_UPLOAD_PERMISSIONS = 0o640
DATA_UPLOAD_MAX_MEMORY_SIZE = 5 * 1024 * 1024
DATA_UPLOAD_MAX_NUMBER_FIELDS = 20_000  # forty sections with every field shown
DATA_UPLOAD_MAX_NUMBER_FILES = 20

# Who may come in
AUTH_USER_MODEL = "company.Staff"
LOGIN_URL = "company:login"
AUTH_PASSWORD_VALIDATORS = [
    {
        "NAME": "django.contrib.auth.password_validation.UserAttributeSimilarityValidator",
        "OPTIONS": {"user_attributes": ("login", "name", "email")},
    },
    {"NAME": "django.contrib.auth.password_validation.MinimumLengthValidator", "OPTIONS": {"min_length": 10}},
    {"NAME": "django.contrib.auth.password_validation.CommonPasswordValidator"},
    {"NAME": "django.contrib.auth.password_validation.NumericPasswordValidator"},
]
SESSION_COOKIE_NAME = "wharfwright_session"
CSRF_COOKIE_NAME = "wharfwright_csrf"
CSRF_COOKIE_HTTPONLY = True
SESSION_COOKIE_SECURE = CSRF_COOKIE_SECURE = HTTPS
X_FRAME_OPTIONS = "DENY"
SECURE_REFERRER_POLICY = "same-origin"
SECURE_SSL_REDIRECT = HTTPS
SECURE_HSTS_SECONDS = 365 * 24 * 3600 if HTTPS else 0
# Only set this behind a proxy that removes the header when a visitor sends it.
if env.flag("WHARFWRIGHT_BEHIND_PROXY"):
    SECURE_PROXY_SSL_HEADER = ("HTTP_X_FORWARDED_PROTO", "https")
# HSTS for subdomains and browser preload lists is for the owner of the domain to decide, at the proxy.
SILENCED_SYSTEM_CHECKS = ["security.W005", "security.W021"]

# How it looks and sounds
STATIC_URL = "/static/"
STATIC_ROOT = Path(env.text("WHARFWRIGHT_STATIC_ROOT", str(BASE_DIR / "staticfiles")))
STATICFILES_DIRS = [BASE_DIR / "static"]
STORAGES = {
    "default": {"BACKEND": "django.core.files.storage.FileSystemStorage"},
    "staticfiles": {
        "BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"
        if DEBUG
        else "whitenoise.storage.CompressedManifestStaticFilesStorage"
    },
}
WHITENOISE_USE_FINDERS = DEBUG
WHITENOISE_ALLOW_ALL_ORIGINS = False
LANGUAGE_CODE = "en"
USE_TZ = True
TIME_ZONE = env.text("WHARFWRIGHT_TIME_ZONE", "UTC")
LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "formatters": {"plain": {"format": "{asctime} {levelname} {name}: {message}", "style": "{"}},
    "handlers": {"console": {"class": "logging.StreamHandler", "formatter": "plain", "stream": sys.stderr}},
    "root": {"handlers": ["console"], "level": env.text("WHARFWRIGHT_LOG_LEVEL", "WARNING")},
    "loggers": {
        "django": {"handlers": ["console"], "level": "WARNING", "propagate": False},
        # Scanners knock at every address; a wrong Host header is answered with 400 and not worth a page of log.
        "django.security.DisallowedHost": {"handlers": [], "propagate": False},
    },
}
