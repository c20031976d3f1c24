"""What a page of ours may load: only what we serve ourselves."""

from collections.abc import Callable

from django.http import HttpRequest, HttpResponse

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

# For a file somebody uploaded: it may be looked at, and do nothing.
UPLOAD_POLICY = "default-src 'none'; img-src 'self' data:; style-src 'unsafe-inline'; sandbox"


class ContentSecurityPolicy:
    """Adds the policy to every answer that has not set a stricter one itself."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        response = self.get_response(request)
        response.headers.setdefault("Content-Security-Policy", POLICY)
        return response
