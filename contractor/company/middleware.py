from collections.abc import Callable
from typing import Any

from django.http import HttpRequest, HttpResponse

from contractor.company import access, current
from contractor.company.models import Staff


class FirmMiddleware:
    """Puts `request.staff` on every request, reads the firm at most once, and shuts every view that has no gate."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        with current.one_reading():
            request.staff = request.user if isinstance(_loaded(request.user), Staff) else None
            return self.get_response(request)

    def process_view(self, request: HttpRequest, view: Callable, args: Any, kwargs: Any) -> HttpResponse | None:
        if access.has_gate(view) or request.staff is not None:
            return None
        return access.to_the_door(request)


def _loaded(user: Any) -> Any:
    # request.user is lazy: asking for an attribute loads the person, and isinstance then sees through it
    return user if user.is_authenticated else None
