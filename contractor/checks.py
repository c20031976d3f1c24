"""What must be true of the machine: asked at every start, and more with `check --deploy`."""

import tempfile
import warnings
from typing import Any

from django.conf import settings
from django.core.checks import CheckMessage, Error, Tags, Warning, register


@register(Tags.files)
def check_data_folder(**kwargs: Any) -> list[CheckMessage]:
    """The data folder takes a file: the database of a small office, uploads and the kept key live there."""
    try:
        with tempfile.TemporaryFile(dir=settings.DATA_DIR):
            return []
    except OSError as reason:
        return [
            Error(
                f"The data folder {settings.DATA_DIR} cannot be written: {reason.strerror}.",
                hint="Give the folder to the user who runs the app, or set WHARFWRIGHT_DATA to another one.",
                id="contractor.E001",
            )
        ]


@register(Tags.files, deploy=True)
def check_paper(**kwargs: Any) -> list[CheckMessage]:
    """Pango and at least one font load, so that a quote can be printed."""
    hint = "Debian and Ubuntu: apt-get install libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0 fonts-dejavu-core"
    try:
        with warnings.catch_warnings():
            # WeasyPrint only warns when Fontconfig knows no font.
            warnings.simplefilter("error", UserWarning)
            import weasyprint  # noqa: F401
    except (OSError, UserWarning) as reason:
        return [Error(f"PDF pages cannot be written: {reason}", hint=hint, id="contractor.E002")]
    return []


@register(Tags.security, deploy=True)
def check_way_in(**kwargs: Any) -> list[CheckMessage]:
    """HTTPS is either done by a proxy in front, and said so, or switched off on purpose."""
    if not settings.HTTPS or settings.SECURE_PROXY_SSL_HEADER:
        return []
    return [
        Warning(
            "Every page will be sent on to HTTPS again and again: no proxy is named that speaks it.",
            hint="Set WHARFWRIGHT_BEHIND_PROXY=yes behind one, or WHARFWRIGHT_HTTPS=no inside an office network.",
            id="contractor.W001",
        )
    ]


@register(deploy=True)
def check_clock(**kwargs: Any) -> list[CheckMessage]:
    """The firm's own time zone is set, so that "today" is today."""
    if settings.TIME_ZONE != "UTC":
        return []
    return [
        Warning(
            "The clock runs on UTC: dates on papers may be a day off in the evening.",
            hint="Set WHARFWRIGHT_TIME_ZONE to the firm's zone, such as America/Halifax.",
            id="contractor.W002",
        )
    ]
