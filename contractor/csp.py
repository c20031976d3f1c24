"""What a page of ours may load: only what we serve ourselves. What was uploaded may be looked at, and do nothing."""

import mimetypes
from collections.abc import Callable
from typing import Any

from django.db.models.fields.files import FieldFile
from django.http import FileResponse, Http404, HttpRequest, HttpResponse

POLICY = "; ".join(
    [
        "default-src 'self'",
        "img-src 'self' data:",
        "object-src 'none'",
        "base-uri 'none'",
        "form-action 'self'",
        "frame-ancestors 'none'",
    ]
)

UPLOAD_POLICY = "default-src 'none'; img-src 'self' data:; style-src 'unsafe-inline'; sandbox"


def hand_out(upload: FieldFile, **how: Any) -> FileResponse:
    """A file somebody uploaded; `how` as FileResponse takes it. Raises Http404 when there is none."""
    if not upload:
        raise Http404
    kind = mimetypes.guess_type(upload.name)[0] or "application/octet-stream"
    response = FileResponse(upload.open("rb"), **{"content_type": kind, **how})
    response.headers["Content-Security-Policy"] = UPLOAD_POLICY
    return response


class ContentSecurityPolicy:
    """Adds the policy to every answer that has not set a stricter one itself."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        response = self.get_response(request)
        response.headers.setdefault("Content-Security-Policy", POLICY)
        return response
